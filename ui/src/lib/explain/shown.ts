/** How the figures of an explanation are written: its values come as text, of money, hours or shares. */

import { showDate } from '../kit/dates';
import { showDecimal } from '../kit/decimal';
import { showMoney } from '../kit/money';

export type Sort = 'money' | 'hours' | 'days' | 'share' | 'count';

const SHARES = new Set(['complete', 'recovery', 'percent complete']);
const HOURS = new Set(['hours']);
const DAYS = new Set(['crew-days']);
const COUNTS = new Set(['roofs', 'conditions', 'jobs', 'sheets', 'pieces']);

/** What sort of figure a word names. */
export function sortOf(word: string): Sort {
  const bare = word.split('/')[0] ?? word;
  if (SHARES.has(bare)) return 'share';
  if (HOURS.has(bare)) return 'hours';
  if (DAYS.has(bare)) return 'days';
  if (COUNTS.has(bare)) return 'count';
  return 'money';
}

/** Figures whose word alone would not be read as what it is. */
const NAMES: Readonly<Record<string, string>> = {
  committed: 'ordered, not received',
  uninstalled: 'on site, not installed',
  complete: 'percent complete',
  'over-billed': 'over-billed',
  'under-billed': 'under-billed',
  'hidden-price': 'approved for hidden conditions',
  'hidden-spent': 'spent on hidden conditions',
  'hidden-billed': 'billed for hidden conditions',
  unrecovered: 'unrecovered cost',
};

/** Words for a figure's name: `margin-per-crew-day` is "margin per crew-day". */
export function nameOf(figure: string): string {
  const [word = '', code] = figure.split('/');
  const plain = NAMES[word] ?? word.replaceAll('-', ' ').replace('crew day', 'crew-day');
  return code === undefined ? plain : `${plain}, ${code}`;
}

/** A value as its sort is written; what is no figure, such as "none", stays a word. */
export function shown(value: string, sort: Sort, locale: string): string {
  if (!/^-?\d+(\.\d+)?$/.test(value)) return value;
  if (sort === 'share') return `${percent(value, locale)} %`;
  if (sort === 'count') return showDecimal(value, { locale });
  if (sort === 'hours') return `${showDecimal(value, { locale, most: 2 })} h`;
  if (sort === 'days') return `${showDecimal(value, { locale, most: 2 })} crew-days`;
  return /\.\d{3,}$/.test(value) ? showDecimal(value, { locale, most: 4 }) : showMoney(value, { locale });
}

/** A step of the working: its label says what it is; the steps of hours by code are hours. */
export function shownStep(figure: string, label: string, value: string, locale: string): string {
  const own = sortOf(label);
  return shown(value, own === 'money' && sortOf(figure) === 'hours' ? 'hours' : own, locale);
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
  return new Intl.DateTimeFormat(locale, { dateStyle: 'medium', timeStyle: 'short' }).format(moment);
}

/** A month's name and year. */
export function monthOf(month: string, locale?: string): string {
  const match = /^(\d{4})-(\d{2})$/.exec(month);
  if (!match) return month;
  const middle = Date.UTC(Number(match[1]), Number(match[2]) - 1, 15);
  return new Intl.DateTimeFormat(locale, { month: 'long', year: 'numeric', timeZone: 'UTC' }).format(middle);
}

export function dayOf(date: string | null | undefined, locale: string): string {
  return date ? showDate(date, locale) : '';
}
