/**
 * Exact decimals as text, never a JavaScript number, for what a form shows while it is typed: sums of what stands in
 * its fields. A rule of the trade is asked of the program, and not worked out here.
 */

import { fromMinor, isNegative, sumMoney, toMinor } from '../kit/money';

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
