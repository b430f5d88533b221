/**
 * Money: a canonical decimal string with the currency's own number of digits ("1234.50"). Sums are made on whole minor
 * units (cents) held as bigint. Nothing here becomes a JavaScript number; pictures have a way of their own, for pixels.
 */

import { MINUS, putTogether, readDecimal, separators, showDecimal, takeApart, type Reading } from './decimal';
import { numbers } from './writers';

/** How many digits a currency's minor unit has, after ISO 4217: 2 for USD, 0 for JPY, 3 for KWD. */
export function minorDigits(currency: string): number {
  return numbers('en', { style: 'currency', currency }).resolvedOptions().maximumFractionDigits ?? 2;
}

/** Reads money as typed: with or without the currency's sign, and grouped or not. */
export function readMoney(
  typed: string,
  look: { locale: string; digits?: number; currency?: string },
): Reading {
  const digits = look.digits ?? 2;
  const reading = readDecimal(withoutSign(typed, look.locale, look.currency), look.locale, digits);
  if (!reading.ok) return reading;
  return { ok: true, value: fromMinor(toMinor(reading.value, digits), digits) };
}

function withoutSign(typed: string, locale: string, currency: string | undefined): string {
  const signs = ['$', '€', '£'];
  if (currency) {
    const part = numbers(locale, { style: 'currency', currency })
      .formatToParts(0)
      .find((piece) => piece.type === 'currency');
    signs.unshift(currency, ...(part ? [part.value] : []));
  }
  return signs.reduce((text, sign) => text.replace(sign, ''), typed);
}

/** Whole minor units: "12.3" with 2 digits is 1230n. A RangeError if there are more digits than the currency has. */
export function toMinor(value: string, digits = 2): bigint {
  const { negative, whole, fraction } = takeApart(value);
  const kept = fraction.replace(/0+$/, '');
  if (kept.length > digits) throw new RangeError(`"${value}" has more than ${digits} digits after the point`);
  const minor = BigInt(whole + kept.padEnd(digits, '0'));
  return negative ? -minor : minor;
}

/** The canonical text of whole minor units. */
export function fromMinor(minor: bigint, digits = 2): string {
  const negative = minor < 0n;
  const text = (negative ? -minor : minor).toString().padStart(digits + 1, '0');
  return putTogether(negative, text.slice(0, text.length - digits), digits ? text.slice(-digits) : '');
}

/** The sum, to the cent. */
export function sumMoney(values: readonly string[], digits = 2): string {
  return fromMinor(
    values.reduce((sum, value) => sum + toMinor(value, digits), 0n),
    digits,
  );
}

/** The exact negative. */
export function negate(value: string, digits = 2): string {
  return fromMinor(-toMinor(value, digits), digits);
}

export function isNegative(value: string): boolean {
  return value.startsWith('-');
}

export function isZero(value: string): boolean {
  return !/[1-9]/.test(value);
}

export interface MoneyLook {
  locale: string;
  digits?: number;
  /** With the currency's sign, where the locale puts it. Left out in columns: the page says the currency once. */
  currency?: string;
  plus?: boolean;
}

/** Writes money as the locale does, always with all its minor digits and a true minus. */
export function showMoney(value: string, { locale, digits = 2, currency, plus }: MoneyLook): string {
  // A figure with more digits than the currency has is a fault of ours, and must not be rounded away.
  toMinor(value, digits);
  const plain = showDecimal(value, { locale, least: digits, plus });
  if (!currency) return plain;
  const sign = plain.startsWith(MINUS) || plain.startsWith('+') ? plain.charAt(0) : '';
  const parts = numbers(locale, { style: 'currency', currency, maximumFractionDigits: 0 });
  return (
    sign +
    parts
      .formatToParts(0)
      .map((part) => (part.type === 'integer' ? plain.slice(sign.length) : part.value))
      .join('')
  );
}

/** As a voice should say it: the sign as a word. */
export function sayMoney(value: string, look: MoneyLook): string {
  const shown = showMoney(value, { ...look, plus: false });
  return shown.startsWith(MINUS) ? `minus ${shown.slice(1)}` : shown;
}

/** What an empty money field shows as an example. */
export function moneyExample(locale: string, digits = 2): string {
  return digits === 0 ? '0' : `0${separators(locale).decimal}${'0'.repeat(digits)}`;
}
