/** How figures of the estimate are written. */

import { MEASURES } from '../bindings/Labels';
import type { Measure } from '../bindings/Measure';
import { percentOf, showDecimal } from '../kit/decimal';
import { isZero, showMoney } from '../kit/money';

/** "2,180.4 sq ft": figures are shown to two places; all of them stand in the working. */
export function amountOf(value: string, measure: Measure, locale: string): string {
  const shown = showDecimal(value, { locale, most: 2 });
  const { label, single } = MEASURES[measure];
  return `${shown} ${shown === '1' ? single : label}`;
}

export function shownShare(share: string, locale: string, most = 1): string {
  return `${showDecimal(percentOf(share), { locale, most })} %`;
}

/** "212 bundles", "1 roll". */
export function packagesOf(count: string, word: string | null, locale: string): string {
  if (isZero(count)) return '';
  const shown = showDecimal(count, { locale });
  // “2 each” is two of them, and no more is to be said.
  if (!word || word === 'each') return shown;
  const plain = /^1(\.0+)?$/.test(count) || /[^a-z]|s$/.test(word);
  const many = /(x|ch|sh)$/.test(word) ? `${word}es` : `${word}s`;
  return `${shown} ${plain ? word : many}`;
}

/** A price of a package, which may have more than two places. */
export function priceOf(price: string, locale: string): string {
  return showDecimal(price, { locale, least: 2 });
}

export function dollars(value: string, locale: string): string {
  return showMoney(value, { locale });
}
