/**
 * Dates are calendar days, written `YYYY-MM-DD`: no time and no zone. What a person types is read in this one place,
 * the same way in every field.
 */

import { say } from './say.svelte';
import { days, kept } from './writers';

export type DateOrder = 'mdy' | 'dmy' | 'ymd';

export type DateReading = { ok: true; value: string } | { ok: false; problem: string };

const MS_PER_DAY = 86_400_000;
const ISO = /^(\d{4})-(\d{2})-(\d{2})$/;

/**
 * How a locale writes a day in figures. Spanish in the United States would write the day first, and 10/07 would be
 * July to one and October to the other of two people on one roof: figures are in the country's order in any language.
 */
const inFigures = kept((locale: string) => (new Intl.Locale(locale).region === 'US' ? 'en-US' : locale));

/** The order in which a locale writes day, month and year. */
export function dateOrder(locale: string): DateOrder {
  const parts = days(inFigures(locale), {
    calendar: 'gregory',
    numberingSystem: 'latn',
  }).formatToParts(new Date(0));
  const order = parts
    .filter((part) => part.type === 'day' || part.type === 'month' || part.type === 'year')
    .map((part) => part.type.charAt(0))
    .join('');
  return order === 'dmy' || order === 'ymd' ? order : 'mdy';
}

/** Today, by the clock and zone of this computer. */
export function today(now: Date = new Date()): string {
  return written(now.getFullYear(), now.getMonth() + 1, now.getDate());
}

/** The day `days` later, or earlier if it is negative. */
export function addDays(date: string, days: number): string {
  const at = new Date(noon(date) + days * MS_PER_DAY);
  return written(at.getUTCFullYear(), at.getUTCMonth() + 1, at.getUTCDate());
}

/** Whether the text is a day that exists. */
export function isDate(date: string): boolean {
  const match = ISO.exec(date);
  return match !== null && exists(Number(match[1]), Number(match[2]), Number(match[3]));
}

/** Writes a day as the locale does: short for columns, long (with the weekday) to read back what was typed. */
export function showDate(date: string, locale: string, length: 'short' | 'long' = 'short'): string {
  const look: Intl.DateTimeFormatOptions =
    length === 'short'
      ? { day: '2-digit', month: '2-digit', year: 'numeric' }
      : { weekday: 'long', day: 'numeric', month: 'long', year: 'numeric' };
  const steady = { timeZone: 'UTC', calendar: 'gregory', numberingSystem: 'latn' } as const;
  const writes = length === 'short' ? inFigures(locale) : locale;
  return days(writes, { ...look, ...steady }).format(noon(date));
}

export interface DateSetting {
  /** The day that `t`, `-1` and a missing year are counted from. */
  today: string;
  locale: string;
}

/**
 * Reads a day as typed:
 * - `t` or `today`, `y` or `yesterday`, `-1` and `+3` days from today;
 * - `tue`: the last Tuesday, today included;
 * - `14`: that day of this month; `3/14` in the locale's order: in the year that brings it nearest to today, but
 *   next year's only a month ahead;
 * - `3/14/26`, `14 mar`, `mar 14 2026`, `20260314`, `2026-03-14`.
 */
export function readDate(typed: string, { today: now, locale }: DateSetting): DateReading {
  const text = typed.trim().toLowerCase();
  if (text === '') return { ok: false, problem: say('Write a date.') };
  if (isDate(text)) return { ok: true, value: text };
  const byWord = readDayWord(text, now, locale);
  if (byWord) return { ok: true, value: byWord };
  const named = readNamedMonth(text, now, locale);
  if (named) return named;
  const compact = /^(\d{4})(\d{2})(\d{2})$/.exec(text);
  if (compact) return day(Number(compact[1]), Number(compact[2]), Number(compact[3]), typed, locale);
  if (/^\d{1,2}$/.test(text)) {
    return day(Number(now.slice(0, 4)), Number(now.slice(5, 7)), Number(text), typed, locale);
  }
  const pieces = text.split(/\s*[-/.\s]\s*/).filter((piece) => piece !== '');
  if ((pieces.length === 2 || pieces.length === 3) && pieces.every((piece) => /^\d{1,4}$/.test(piece))) {
    return readNumbers(pieces, typed, now, locale);
  }
  return { ok: false, problem: notADate(typed, locale) };
}

function readDayWord(text: string, now: string, locale: string): string | undefined {
  if (text === 't' || text === 'today') return now;
  if (text === 'y' || text === 'yesterday') return addDays(now, -1);
  const shift = /^([+\-\u2212])\s?(\d{1,4})$/.exec(text);
  if (shift) return addDays(now, (shift[1] === '+' ? 1 : -1) * Number(shift[2]));
  if (text.length < 2 || !/^\p{L}+\.?$/u.test(text)) return undefined;
  const word = text.replace(/\.$/, '');
  for (let back = 0; back < 7; back += 1) {
    const candidate = addDays(now, -back);
    const names = [locale, 'en'].map((tag) => nameOf(candidate, tag, 'weekday'));
    if (names.some((name) => name.startsWith(word))) return candidate;
  }
  return undefined;
}

function readNamedMonth(text: string, now: string, locale: string): DateReading | undefined {
  const match =
    /^(\p{L}{3,})\.?\s*(\d{1,2})(?:,?\s+(\d{2}|\d{4}))?$/u.exec(text) ??
    /^(\d{1,2})\.?\s*(\p{L}{3,})\.?(?:,?\s+(\d{2}|\d{4}))?$/u.exec(text);
  if (!match) return undefined;
  const [word = '', number = ''] = /^\d/.test(match[1] ?? '') ? [match[2], match[1]] : [match[1], match[2]];
  for (let month = 1; month <= 12; month += 1) {
    const first = written(2000, month, 1);
    if ([locale, 'en'].some((tag) => nameOf(first, tag, 'month').startsWith(word))) {
      return inYear(match[3], month, Number(number), text, now, locale);
    }
  }
  return undefined;
}

function readNumbers(pieces: string[], typed: string, now: string, locale: string): DateReading {
  const [first = '', second = '', third] = pieces;
  if (first.length > 2) {
    if (third === undefined) return { ok: false, problem: notADate(typed, locale) };
    return day(Number(first), Number(second), Number(third), typed, locale);
  }
  const order = dateOrder(locale);
  if (order === 'ymd' && third !== undefined) {
    return day(fullYear(first), Number(second), Number(third), typed, locale);
  }
  const [month, date] = order === 'dmy' ? [second, first] : [first, second];
  return inYear(third, Number(month), Number(date), typed, now, locale);
}

/**
 * A day of a year that was typed, or else of the year that brings the day nearest to today. What is typed has mostly
 * happened: a day of next year is meant only where it is at most a month off.
 */
function inYear(
  year: string | undefined,
  month: number,
  date: number,
  typed: string,
  now: string,
  locale: string,
): DateReading {
  if (year !== undefined) return day(fullYear(year), month, date, typed, locale);
  const thisYear = Number(now.slice(0, 4));
  const candidates = [thisYear, thisYear - 1, thisYear + 1]
    .filter((candidate) => exists(candidate, month, date))
    .map((candidate) => written(candidate, month, date));
  const meant = candidates.filter((each) => Number(each.slice(0, 4)) <= thisYear || each <= addDays(now, 31));
  const [near] = (meant.length > 0 ? meant : candidates).sort(
    (a, b) => Math.abs(noon(a) - noon(now)) - Math.abs(noon(b) - noon(now)),
  );
  return near ? { ok: true, value: near } : day(thisYear, month, date, typed, locale);
}

function fullYear(year: string): number {
  return year.length <= 2 ? 2000 + Number(year) : Number(year);
}

function day(year: number, month: number, date: number, typed: string, locale: string): DateReading {
  if (exists(year, month, date)) return { ok: true, value: written(year, month, date) };
  if (month >= 1 && month <= 12 && date >= 1 && date <= 31 && year >= 1900 && year <= 2199) {
    const name = days(locale, { month: 'long', timeZone: 'UTC' }).format(Date.UTC(year, month - 1, 1, 12));
    return { ok: false, problem: say('{name} {year} has no day {date}.', { name, year, date }) };
  }
  return { ok: false, problem: notADate(typed, locale) };
}

function notADate(typed: string, locale: string): string {
  const example = { mdy: '3/14', dmy: '14/3', ymd: '3/14' }[dateOrder(locale)];
  const ways = say('{example}, t for today, -1 for yesterday, or 2026-03-14', { example });
  return say('“{typed}” is not a date as written here. Write it like {ways}.', { typed: typed.trim(), ways });
}

function exists(year: number, month: number, date: number): boolean {
  if (year < 1900 || year > 2199 || month < 1 || month > 12 || date < 1) return false;
  return date <= new Date(Date.UTC(year, month, 0)).getUTCDate();
}

function written(year: number, month: number, date: number): string {
  return `${String(year).padStart(4, '0')}-${String(month).padStart(2, '0')}-${String(date).padStart(2, '0')}`;
}

/** Noon, so that no rounding of seconds can reach the day before or after. */
function noon(date: string): number {
  const match = ISO.exec(date);
  if (!match) throw new RangeError(`Not a day written YYYY-MM-DD: "${date}"`);
  return Date.UTC(Number(match[1]), Number(match[2]) - 1, Number(match[3]), 12);
}

function nameOf(date: string, locale: string, part: 'weekday' | 'month'): string {
  return days(locale, { [part]: 'long', timeZone: 'UTC' })
    .format(noon(date))
    .toLowerCase();
}
