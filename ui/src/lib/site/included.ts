/** What the price already covers, and what is beyond it: what the crew tells the homeowner on the spot. */

import type { SiteJob } from '../bindings/SiteJob';
import { fromMinor, toMinor } from '../kit/money';

/** Quantities have up to four digits after the point. */
const DIGITS = 4;

/** How many the price still covers; undefined for what is never included. */
export function leftOf(job: SiteJob, damaged: string, unit: string): string | undefined {
  if (damaged === 'deck-sheet' && unit === 'sheet') return job.sheets_left;
  if (damaged === 'deck-board' && unit === 'foot') return job.feet_left;
  return undefined;
}

/** How many of these the price does not cover. */
export function beyondOf(count: string, left: string | undefined): string {
  const beyond = toMinor(count || '0', DIGITS) - toMinor(left ?? '0', DIGITS);
  return beyond > 0n ? fromMinor(beyond, DIGITS).replace(/\.?0+$/, '') : '0';
}

/** What one costs the homeowner, if the promise says. */
export function priceOf(job: SiteJob, damaged: string, unit: string): string | undefined {
  return job.prices.find((price) => price.damaged === damaged && price.counted_in === unit)?.price;
}
