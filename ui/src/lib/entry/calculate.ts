/**
 * Exact decimals as text, never a JavaScript number, for what a form shows while it is typed: sums of what stands in
 * its fields, and a percentage as a fraction. A rule of the trade is asked of the program, and not worked out here.
 */

import { putTogether, takeApart } from '../kit/decimal';
import { fromMinor, isNegative, sumMoney, toMinor } from '../kit/money';

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

/** A typed percentage as the fraction that a fact holds: 8.25 is 0.0825. */
export function fractionOf(percent: string): string {
  return times(percent, '0.01');
}

/** The amount with the other sign where it has none yet: what a credit takes off. */
export function below(amount: string): string {
  return isNegative(amount) ? amount : fromMinor(-toMinor(amount));
}

/** Adds what is filled in, and takes an empty field for nothing. */
export function total(amounts: readonly (string | undefined)[]): string {
  return sumMoney(amounts.filter((amount): amount is string => Boolean(amount)));
}

/** Adds quantities, which have up to four digits after the point. */
export function sumQty(quantities: readonly (string | undefined)[]): string {
  const minor = quantities.reduce((sum, each) => (each ? sum + toMinor(each, 4) : sum), 0n);
  return fromMinor(minor, 4).replace(/\.?0+$/, '');
}
