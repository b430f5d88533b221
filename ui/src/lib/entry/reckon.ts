/**
 * Sums that a form offers while it is typed: exact decimals as text, never a JavaScript number. What a form offers can
 * be typed over; every figure of a report is worked out by the program and not here.
 */

import { putTogether, roundForShow, takeApart } from '../kit/decimal';
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

/** An amount to the cent, rounded once, half away from zero. */
export function cents(value: string): string {
  return fromMinor(toMinor(roundForShow(value, 2)));
}

/** A typed percentage as the fraction that a fact holds: 8.25 is 0.0825. */
export function fractionOf(percent: string): string {
  return times(percent, '0.01');
}

/** The amount with the other sign where it has none yet: what a credit takes off. */
export function below(amount: string): string {
  return isNegative(amount) ? amount : fromMinor(-toMinor(amount));
}

/**
 * The sales tax that the invoice form offers. The third decimal is read by cutting the rest off, and goes up to the
 * next cent when it is more than four (SSUTA §324); once for the invoice, or item by item where the firm does so.
 */
export function salesTax(taxable: readonly string[], rate: string, by: 'invoice' | 'item'): string {
  const on = by === 'item' ? taxable : [sumMoney(taxable)];
  return sumMoney(
    on.map((amount) => {
      const { negative, whole, fraction } = takeApart(times(amount, rate));
      return cents(putTogether(negative, whole, fraction.slice(0, 3)));
    }),
  );
}

/** An amount put to what is open, in the order given, until it is used up. */
export function spread(amount: string, open: readonly string[]): string[] {
  let left = toMinor(amount);
  return open.map((most) => {
    const part = left < toMinor(most) ? left : toMinor(most);
    left -= part;
    return fromMinor(part);
  });
}

/** Adds what is filled in, and takes an empty field for nothing. */
export function total(amounts: readonly (string | undefined)[]): string {
  return sumMoney(amounts.filter((amount): amount is string => Boolean(amount)));
}
