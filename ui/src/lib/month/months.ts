/** Months as `yyyy-mm`: their order is their text's. */

import { days } from '../kit/writers';

/** The month `by` months later, or earlier. */
export function monthPlus(month: string, by: number): string {
  const count = Number(month.slice(0, 4)) * 12 + Number(month.slice(5, 7)) - 1 + by;
  return `${String(Math.floor(count / 12)).padStart(4, '0')}-${String((count % 12) + 1).padStart(2, '0')}`;
}

/** Every month from the first to the last. */
export function monthsBetween(first: string, last: string): string[] {
  const months: string[] = [];
  for (let month = first; month <= last && months.length < 1200; month = monthPlus(month, 1))
    months.push(month);
  return months;
}

export function isMonth(text: string | undefined): text is string {
  return text !== undefined && /^\d{4}-(0[1-9]|1[0-2])$/.test(text);
}

/** "October 2026", as the locale writes it. */
export function showMonth(month: string, locale: string): string {
  return days(locale, { month: 'long', year: 'numeric', timeZone: 'UTC' }).format(
    new Date(`${month}-15T12:00:00Z`),
  );
}
