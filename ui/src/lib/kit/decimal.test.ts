import { describe, expect, it } from 'vitest';

import {
  percentOf,
  readDecimal,
  roundForShow,
  separators,
  shareOf,
  showDecimal,
  takeApart,
  times,
} from './decimal';

const read = (typed: string, locale = 'en-US', places = 2) => readDecimal(typed, locale, places);
const value = (typed: string, locale = 'en-US', places = 2) => {
  const reading = read(typed, locale, places);
  return reading.ok ? reading.value : `refused: ${reading.problem}`;
};

describe('reading a decimal', () => {
  it.each([
    ['0', '0'],
    ['12', '12'],
    ['007', '7'],
    ['.5', '0.5'],
    ['5.', '5'],
    ['1234.5', '1234.5'],
    ['1,234.50', '1234.50'],
    ['1,234,567', '1234567'],
    ['12,34,567', '1234567'],
    ['1 234.5', '1234.5'],
    ['+3', '3'],
    ['-3', '-3'],
    ['\u22123', '-3'],
    ['(3.25)', '-3.25'],
    ['-0.00', '0.00'],
    ['1.500', '1.50'],
    ['  42  ', '42'],
  ])('takes %j as %s', (typed, expected) => expect(value(typed)).toBe(expected));

  it.each([
    ['1.234,50', 'de-DE', '1234.50'],
    ['1234,5', 'de-DE', '1234.5'],
    ['1.234', 'de-DE', '1234'],
    ['1\u202f234,50', 'fr-FR', '1234.50'],
    ['1 234,50', 'fr-FR', '1234.50'],
    ['12.50', 'fr-FR', '12.50'],
    ['1\u2019234.50', 'de-CH', '1234.50'],
    ["1'234.50", 'de-CH', '1234.50'],
  ])('takes %j in %s as %s', (typed, locale, expected) => expect(value(typed, locale)).toBe(expected));

  it.each([
    'abc',
    '1e5',
    '1,23',
    '12,3456',
    '1,,234',
    '--1',
    '1-',
    '-',
    '',
    '1.2.3',
    '0x10',
    'NaN',
    'Infinity',
    '١٢',
  ])('refuses %j with a sentence', (typed) => expect(value(typed)).toMatch(/^refused: .+[.?]$/));

  it('refuses a comma that would have to be guessed at, in both kinds of locale', () => {
    expect(value('12,50')).toContain('Write it like 1234.5 or 1,234.5.');
    expect(value('12.50', 'de-DE')).toContain('Write it like 1234,5 or 1.234,5.');
  });

  it('says how many digits may follow the mark', () => {
    expect(value('1.234', 'en-US', 2)).toBe('refused: At most 2 digits may stand after “.”.');
    expect(value('1.5', 'en-US', 0)).toBe('refused: Write a whole number here.');
    expect(value('1.0', 'en-US', 0)).toBe('1');
  });

  it('holds fifteen whole digits exactly and refuses a sixteenth', () => {
    expect(value('999999999999999.99')).toBe('999999999999999.99');
    expect(value('1000000000000000')).toContain('more than the ledger can hold');
  });
});

describe('showing a decimal', () => {
  it('groups as the locale does, whatever its size', () => {
    expect(showDecimal('9007199254740993.01', { locale: 'en-US' })).toBe('9,007,199,254,740,993.01');
    expect(showDecimal('1234567.5', { locale: 'de-DE' })).toBe('1.234.567,5');
    expect(showDecimal('1234567.5', { locale: 'en-IN' })).toBe('12,34,567.5');
  });

  it('writes a true minus, a plus where asked, and neither on nothing', () => {
    expect(showDecimal('-1.5', { locale: 'en-US' })).toBe('\u22121.5');
    expect(showDecimal('1.5', { locale: 'en-US', plus: true })).toBe('+1.5');
    expect(showDecimal('0.00', { locale: 'en-US', plus: true, least: 2 })).toBe('0.00');
    expect(showDecimal('-0.001', { locale: 'en-US', most: 2 })).toBe('0');
  });

  it('pads to the least places and drops other zeros', () => {
    expect(showDecimal('3', { locale: 'en-US', least: 2 })).toBe('3.00');
    expect(showDecimal('3.500', { locale: 'en-US' })).toBe('3.5');
  });

  it('reads back what it shows, in every locale', () => {
    for (const locale of ['en-US', 'de-DE', 'fr-FR', 'de-CH', 'en-IN', 'sv-SE', 'pt-BR']) {
      for (const figure of ['0', '-7', '1234.56', '-98765432.1', '999999999999999.99']) {
        expect(value(showDecimal(figure, { locale }), locale), `${figure} in ${locale}`).toBe(figure);
      }
    }
  });
});

describe('rounding for show', () => {
  it.each([
    ['1.005', 2, '1.01'],
    ['-1.005', 2, '-1.01'],
    ['1.004999', 2, '1.00'],
    ['0.5', 0, '1'],
    ['-0.4', 0, '0'],
    ['9.995', 2, '10.00'],
    ['2', 2, '2'],
  ])('%s to %i places is %s', (figure, places, expected) =>
    expect(roundForShow(figure, places)).toBe(expected),
  );
});

it('splits only canonical decimals', () => {
  expect(takeApart('-12.30')).toEqual({ negative: true, whole: '12', fraction: '30' });
  for (const wrong of ['', '1,000', '+1', '.5', '1.', '1e3', ' 1'])
    expect(() => takeApart(wrong)).toThrow(RangeError);
});

it('knows the marks of a locale', () => {
  expect(separators('en-US')).toEqual({ group: ',', decimal: '.' });
  expect(separators('de-DE')).toEqual({ group: '.', decimal: ',' });
});

describe('a product and a percentage', () => {
  it('multiplies without a JavaScript number', () => {
    expect(times('81', '34.50')).toBe('2794.5');
    expect(times('0.1', '0.2')).toBe('0.02');
    expect(times('-3', '0.005')).toBe('-0.015');
    expect(times('999999999999.99', '100')).toBe('99999999999999');
    expect(times('0', '5.25')).toBe('0');
  });

  it('are one another with the point moved, to the last digit', () => {
    for (const [share, percent] of [
      ['0.15', '15'],
      ['0', '0'],
      ['1', '100'],
      ['0.125', '12.5'],
      ['0.005', '0.5'],
      ['0.0825', '8.25'],
      ['-0.02', '-2'],
      ['1.5', '150'],
    ] as const) {
      expect(percentOf(share)).toBe(percent);
      expect(shareOf(percent)).toBe(share);
    }
    expect(shareOf('')).toBe('');
    expect(percentOf('0.150000')).toBe('15');
  });
});
