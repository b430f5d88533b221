/** How the figures of an explanation are written: its values come as text, each in its own measure. */

import type { Figure } from '../bindings/Figure';
import { FIGURES } from '../bindings/Figures';
import type { MeasuredIn } from '../bindings/MeasuredIn';
import { showDate } from '../kit/dates';
import { showDecimal } from '../kit/decimal';
import { showMoney } from '../kit/money';
import { days } from '../kit/writers';

/** What a figure is called, by its word; with a code as in `cost/deck`. */
export function labelOf(figure: string): string {
  const [word = '', code] = figure.split('/');
  const label = word in FIGURES ? FIGURES[word as Figure].label : word;
  return code === undefined ? label : `${label}, ${code}`;
}

/** A value in its measure; where there is none, a word says so. */
export function shown(value: string | null, measure: MeasuredIn, locale: string): string {
  if (value === null) return 'none';
  switch (measure) {
    case 'share':
      return `${percent(value, locale)} %`;
    case 'count':
      return showDecimal(value, { locale, most: 4 });
    case 'hours':
      return `${showDecimal(value, { locale, most: 2 })} h`;
    case 'crew-days':
      return `${showDecimal(value, { locale, most: 2 })} crew-days`;
    case 'money':
      return /\.\d{3,}$/.test(value) ? showDecimal(value, { locale, most: 4 }) : showMoney(value, { locale });
  }
}

function percent(ratio: string, locale: string): string {
  const [whole = '0', fraction = ''] = ratio.replace('-', '').split('.');
  const digits = fraction.padEnd(2, '0');
  const moved = `${(whole + digits.slice(0, 2)).replace(/^0+(?=\d)/, '')}.${digits.slice(2) || '0'}`;
  return showDecimal((ratio.startsWith('-') ? '-' : '') + moved, { locale, least: 1, most: 1 });
}

/** A moment as the system writes it, to the minute. */
export function momentOf(utc: string, locale?: string): string {
  const moment = new Date(utc);
  if (Number.isNaN(moment.getTime())) return utc;
  return days(locale, { dateStyle: 'medium', timeStyle: 'short' }).format(moment);
}

/** A month's name and year. */
export function monthOf(month: string, locale?: string): string {
  const match = /^(\d{4})-(\d{2})$/.exec(month);
  if (!match) return month;
  const middle = Date.UTC(Number(match[1]), Number(match[2]) - 1, 15);
  return days(locale, { month: 'long', year: 'numeric', timeZone: 'UTC' }).format(middle);
}

export function dayOf(date: string | null | undefined, locale: string): string {
  return date ? showDate(date, locale) : '';
}
