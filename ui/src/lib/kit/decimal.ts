/**
 * Exact decimals as text. A figure crosses to and from the program as a canonical string ("-1234.50"), and is never a
 * JavaScript number on the way: a number can't hold every cent.
 */

import { say } from './say.svelte';
import { kept, numbers } from './writers';

/** What came of reading something typed. */
export type Reading = { ok: true; value: string } | { ok: false; problem: string };

/** How many digits may stand before the decimal mark: what fits, in cents, in the ledger's 64-bit column. */
const MOST_WHOLE_DIGITS = 15;

/** The true minus sign. */
export const MINUS = '\u2212';

const CANONICAL = /^(-?)(\d+)(?:\.(\d+))?$/;

export interface Separators {
  group: string;
  decimal: string;
}

/** The marks that a locale puts between thousands and before decimals. */
export const separators = kept((locale: string): Separators => {
  const parts = numbers(locale, { numberingSystem: 'latn', useGrouping: true }).formatToParts(1234567.5);
  const pick = (type: string, otherwise: string) =>
    parts.find((part) => part.type === type)?.value ?? otherwise;
  return { group: pick('group', ','), decimal: pick('decimal', '.') };
});

/** Splits a canonical decimal; throws a RangeError on anything else, since that is a fault of ours, not of a person. */
export function takeApart(value: string): { negative: boolean; whole: string; fraction: string } {
  const match = CANONICAL.exec(value);
  if (!match) throw new RangeError(`Not an exact decimal: "${value}"`);
  return { negative: match[1] === '-', whole: match[2] ?? '0', fraction: match[3] ?? '' };
}

/** Puts a decimal in its one canonical form: no leading zeros, no "-0". The fraction's zeros are kept. */
export function putTogether(negative: boolean, whole: string, fraction: string): string {
  const bare = whole.replace(/^0+(?=\d)/, '') || '0';
  const text = fraction ? `${bare}.${fraction}` : bare;
  return negative && /[1-9]/.test(text) ? `-${text}` : text;
}

/** The exact product of two decimals. */
export function times(left: string, right: string): string {
  const a = takeApart(left);
  const b = takeApart(right);
  const places = a.fraction.length + b.fraction.length;
  const digits = (BigInt(a.whole + a.fraction) * BigInt(b.whole + b.fraction)).toString();
  const padded = digits.padStart(places + 1, '0');
  const cut = padded.length - places;
  const fraction = padded.slice(cut).replace(/0+$/, '');
  return putTogether(a.negative !== b.negative, padded.slice(0, cut), fraction);
}

/** A fraction that crosses to and from the program, as the percentage that is read and typed: 0.0825 is 8.25. */
export function percentOf(fraction: string): string {
  return fraction === '' ? '' : times(fraction, '100');
}

/** A typed percentage as the fraction that a fact holds: 8.25 is 0.0825. */
export function shareOf(percent: string): string {
  return percent === '' ? '' : times(percent, '0.01');
}

/**
 * Reads a decimal as a person of that locale types it: grouping where it belongs, a true minus, a hyphen or brackets
 * for a negative. At most `places` digits after the mark, not counting zeros at the end.
 */
export function readDecimal(typed: string, locale: string, places: number): Reading {
  const { group, decimal } = separators(locale);
  let text = typed.trim();
  let negative = false;
  if (/^\(.*\)$/.test(text)) {
    negative = true;
    text = text.slice(1, -1).trim();
  } else if (/^[-\u2212\u2013]/.test(text)) {
    negative = true;
    text = text.slice(1).trim();
  } else if (text.startsWith('+')) {
    text = text.slice(1).trim();
  }
  if (text === '') return { ok: false, problem: say('Write a number.') };

  // A point is the decimal mark of every keypad; where it doesn't group thousands it can mean nothing else.
  const mark = decimal !== '.' && !text.includes(decimal) && group !== '.' ? '.' : decimal;
  const pieces = text.split(mark);
  if (pieces.length > 2)
    return {
      ok: false,
      problem: say('There is more than one “{mark}” in “{typed}”.', { mark, typed: typed.trim() }),
    };
  const [before = '', after = ''] = pieces;
  const whole = ungroup(before, group);
  if (whole === undefined || !/^\d*$/.test(after) || before + after === '') {
    return { ok: false, problem: notANumber(typed.trim(), decimal, group) };
  }
  const fraction =
    after.length > places ? after.slice(0, places) + after.slice(places).replace(/0+$/, '') : after;
  if (fraction.length > places) {
    const most =
      places === 0
        ? say('Write a whole number here.')
        : say('At most {places} digits may stand after “{decimal}”.', { places, decimal });
    return { ok: false, problem: most };
  }
  if (whole.replace(/^0+/, '').length > MOST_WHOLE_DIGITS) {
    return { ok: false, problem: say('That is more than the ledger can hold. Is there a digit too many?') };
  }
  return { ok: true, value: putTogether(negative, whole || '0', fraction) };
}

/** Takes the grouping out, if it is where grouping can be: in threes, or in twos before a last three. */
function ungroup(text: string, group: string): string | undefined {
  const even = text.replace(/[\s\u00a0\u202f'\u2019]/g, ' ');
  const mark = /[\s\u00a0\u202f'\u2019]/.test(group) ? ' ' : group;
  if (/^\d*$/.test(even)) return even;
  for (const candidate of new Set([mark, ' '])) {
    const groups = even.split(candidate);
    const [first = '', ...rest] = groups;
    const last = rest.at(-1) ?? '';
    const threes = /^\d{1,3}$/.test(first) && rest.every((piece) => /^\d{3}$/.test(piece));
    const twos =
      /^\d{1,2}$/.test(first) &&
      /^\d{3}$/.test(last) &&
      rest.slice(0, -1).every((piece) => /^\d{2}$/.test(piece));
    if (rest.length > 0 && (threes || twos)) return groups.join('');
  }
  return undefined;
}

function notANumber(typed: string, decimal: string, group: string): string {
  const shownGroup = /\s|\u00a0|\u202f/.test(group) ? ' ' : group;
  const ways = say('{plain} or {grouped}', {
    plain: `1234${decimal}5`,
    grouped: `1${shownGroup}234${decimal}5`,
  });
  return say('“{typed}” is not a number as written here. Write it like {ways}.', { typed, ways });
}

/** Rounds half away from zero, for showing only. */
export function roundForShow(value: string, places: number): string {
  const { negative, whole, fraction } = takeApart(value);
  if (fraction.length <= places) return value;
  const kept = BigInt(whole + fraction.slice(0, places));
  const up = (fraction.charCodeAt(places) - 48 >= 5 ? 1n : 0n) + kept;
  const digits = up.toString().padStart(places + 1, '0');
  return putTogether(negative, digits.slice(0, digits.length - places), digits.slice(digits.length - places));
}

export interface DecimalLook {
  locale: string;
  /** Zeros are added up to this many places. */
  least?: number;
  /** Figures are rounded to this many places, for show. All of them are shown if it is left out. */
  most?: number;
  /** Whether a plus is written: for changes, where the sign is the news. */
  plus?: boolean;
}

/** Writes a canonical decimal as the locale does, with a true minus. */
export function showDecimal(value: string, { locale, least = 0, most, plus = false }: DecimalLook): string {
  const { negative, whole, fraction } = takeApart(most === undefined ? value : roundForShow(value, most));
  const grouped = numbers(locale, { numberingSystem: 'latn' }).format(BigInt(whole));
  const tail = fraction.replace(/0+$/, '').padEnd(least, '0');
  const body = tail ? `${grouped}${separators(locale).decimal}${tail}` : grouped;
  const isZero = !/[1-9]/.test(whole + tail);
  if (negative && !isZero) return MINUS + body;
  return plus && !isZero ? `+${body}` : body;
}
