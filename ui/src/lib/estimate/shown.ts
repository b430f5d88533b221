/** How figures of the estimate are written. */

import { MEASURES } from '../bindings/Labels';
import type { Measure } from '../bindings/Measure';
import { percentOf, showDecimal } from '../kit/decimal';
import { showMoney } from '../kit/money';

/** "2,180.4 sq ft": figures are shown to two places; all of them stand in the working. */
export function amountOf(value: string, measure: Measure, locale: string): string {
  const shown = showDecimal(value, { locale, most: 2 });
  const { label, single } = MEASURES[measure];
  return `${shown} ${shown === '1' ? single : label}`;
}

export function shownShare(share: string, locale: string, most = 1): string {
  return `${showDecimal(percentOf(share), { locale, most })} %`;
}

/** A price of a package, which may have more than two places. */
export function priceOf(price: string, locale: string): string {
  return showDecimal(price, { locale, least: 2 });
}

export function dollars(value: string, locale: string): string {
  return showMoney(value, { locale });
}
