import { describe, expect, it } from 'vitest';

import { addDays, dateOrder, isDate, readDate, showDate, today } from './dates';

// A Saturday.
const NOW = '2026-05-09';

const read = (typed: string, locale = 'en-US', now = NOW) => {
  const reading = readDate(typed, { today: now, locale });
  return reading.ok ? reading.value : `refused: ${reading.problem}`;
};

describe('the order of a locale', () => {
  it.each([
    ['en-US', 'mdy'],
    ['en-GB', 'dmy'],
    ['de-DE', 'dmy'],
    ['fr-CA', 'ymd'],
    ['sv-SE', 'ymd'],
    ['ja-JP', 'ymd'],
  ])('%s is %s', (locale, order) => expect(dateOrder(locale)).toBe(order));
});

describe('short ways', () => {
  it.each([
    ['t', NOW],
    ['T', NOW],
    ['today', NOW],
    ['y', '2026-05-08'],
    ['yesterday', '2026-05-08'],
    ['-1', '2026-05-08'],
    ['\u22121', '2026-05-08'],
    ['- 3', '2026-05-06'],
    ['+7', '2026-05-16'],
    ['-0', NOW],
    ['-9', '2026-04-30'],
    ['-365', '2025-05-09'],
    ['14', '2026-05-14'],
    ['1', '2026-05-01'],
    ['sat', NOW],
    ['tue', '2026-05-05'],
    ['Sunday', '2026-05-03'],
    ['mo.', '2026-05-04'],
  ])('%j is %s', (typed, expected) => expect(read(typed)).toBe(expected));

  it('takes a weekday in the locale’s own words', () => expect(read('Di', 'de-DE')).toBe('2026-05-05'));
});

describe('month and day', () => {
  it.each([
    ['3/14', 'en-US', '2026-03-14'],
    ['3-14', 'en-US', '2026-03-14'],
    ['3.14', 'en-US', '2026-03-14'],
    ['3 14', 'en-US', '2026-03-14'],
    ['03/04', 'en-US', '2026-03-04'],
    ['03/04', 'en-GB', '2026-04-03'],
    ['14.3.', 'de-DE', '2026-03-14'],
    ['3/14', 'sv-SE', '2026-03-14'],
  ])('%j in %s is %s', (typed, locale, expected) => expect(read(typed, locale)).toBe(expected));

  it('falls in the year that brings it nearest to today', () => {
    expect(read('12/28', 'en-US', '2026-01-03')).toBe('2025-12-28');
    expect(read('1/3', 'en-US', '2026-12-28')).toBe('2027-01-03');
    expect(read('1/1', 'en-US', '2026-11-20')).toBe('2026-01-01');
    expect(read('1/1', 'en-US', '2026-12-02')).toBe('2027-01-01');
    expect(read('12/1', 'en-US', '2026-06-20')).toBe('2026-12-01');
    expect(read('5/10', 'en-US', '2026-05-09')).toBe('2026-05-10');
    expect(read('2/29', 'en-US', '2028-06-01')).toBe('2028-02-29');
    expect(read('2/29', 'en-US', '2027-11-01')).toBe('2028-02-29');
  });
});

describe('whole dates', () => {
  it.each([
    ['2026-03-14', '2026-03-14'],
    ['20260314', '2026-03-14'],
    ['3/14/26', '2026-03-14'],
    ['3/14/2026', '2026-03-14'],
    ['2026/3/14', '2026-03-14'],
    ['mar 14', '2026-03-14'],
    ['14 mar', '2026-03-14'],
    ['March 14, 2025', '2025-03-14'],
    ['14 march 25', '2025-03-14'],
    ['2028-02-29', '2028-02-29'],
  ])('%j is %s', (typed, expected) => expect(read(typed)).toBe(expected));

  it('takes a month in the locale’s own words, and in English', () => {
    expect(read('14. März', 'de-DE')).toBe('2026-03-14');
    expect(read('14 march', 'de-DE')).toBe('2026-03-14');
  });

  it('takes two digits first as a year only where the locale writes it first', () => {
    expect(read('26-03-14', 'sv-SE')).toBe('2026-03-14');
    expect(read('26-03-14', 'en-US')).toMatch(/^refused/);
  });
});

describe('what is no date', () => {
  it.each(['2/30', '2026-02-29', '2/29/2027', '4/31', '31'])(
    'says that the day is not in the month: %s',
    (typed) => {
      const now = typed === '31' ? '2026-06-09' : NOW;
      expect(read(typed, 'en-US', now)).toMatch(/^refused: [A-Z][a-z]+ \d{4} has no day \d+\.$/);
    },
  );

  it.each([
    '',
    ' ',
    'soon',
    '13/45',
    '1/2/3/4',
    '3/14/202',
    '99999999',
    '0',
    '0/5',
    '14/3',
    '2026-13-01',
    '12:30',
    '1e3',
  ])('refuses %j with a sentence', (typed) => expect(read(typed)).toMatch(/^refused: .+\.$/));

  it('shows how to write it, in the locale’s order', () => {
    expect(read('soon', 'en-US')).toContain(
      'Write it like 3/14, t for today, -1 for yesterday, or 2026-03-14.',
    );
    expect(read('soon', 'en-GB')).toContain('Write it like 14/3,');
  });
});

describe('days', () => {
  it('add up over months, leap days and the change of the clock', () => {
    expect(addDays('2026-02-28', 1)).toBe('2026-03-01');
    expect(addDays('2028-02-28', 1)).toBe('2028-02-29');
    expect(addDays('2026-01-01', -1)).toBe('2025-12-31');
    expect(addDays('2026-03-07', 2)).toBe('2026-03-09');
  });

  it('are those of the wall, not of Greenwich', () => {
    expect(today(new Date(2026, 4, 9, 23, 59))).toBe('2026-05-09');
    expect(today(new Date(2026, 4, 9, 0, 1))).toBe('2026-05-09');
  });

  it('exist or do not', () => {
    expect(isDate('2028-02-29')).toBe(true);
    for (const wrong of ['2027-02-29', '2026-00-10', '2026-1-1', '', '1899-12-31'])
      expect(isDate(wrong)).toBe(false);
  });

  it('have the month first in the United States, in Spanish as in English', () => {
    expect(showDate('2026-07-10', 'es-US')).toBe(showDate('2026-07-10', 'en-US'));
    expect(read('7/10', 'es-US')).toBe(read('7/10', 'en-US'));
    expect(showDate('2026-07-10', 'es-US', 'long')).toBe('viernes, 10 de julio de 2026');
    expect(showDate('2026-07-10', 'es-MX')).toBe('10/07/2026');
  });

  it('are shown as the locale writes them, and read back from that', () => {
    expect(showDate('2026-03-04', 'en-US')).toBe('03/04/2026');
    expect(showDate('2026-03-04', 'en-US', 'long')).toBe('Wednesday, March 4, 2026');
    expect(showDate('2026-03-04', 'de-DE')).toBe('04.03.2026');
    for (const locale of ['en-US', 'en-GB', 'de-DE', 'fr-FR', 'sv-SE', 'fr-CA', 'ja-JP']) {
      for (const date of ['2026-03-04', '2025-12-31', '2028-02-29']) {
        expect(read(showDate(date, locale), locale), `${date} in ${locale}`).toBe(date);
      }
    }
  });
});
