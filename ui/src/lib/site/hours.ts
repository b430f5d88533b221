/** Hours as they are typed, held against each other, exactly. No figure of the books. */

import { fromMinor, toMinor } from '../kit/money';

/** As exact as the ledger keeps a quantity. */
const PLACES = 4;

export function sumOf(hours: readonly string[]): string {
  const sum = hours.reduce((all, each) => all + toMinor(each || '0', PLACES), 0n);
  return fromMinor(sum, PLACES).replace(/\.?0+$/, '');
}

export function isSame(left: string, right: string): boolean {
  return toMinor(left || '0', PLACES) === toMinor(right || '0', PLACES);
}

export function isMore(left: string, right: string): boolean {
  return toMinor(left || '0', PLACES) > toMinor(right || '0', PLACES);
}
