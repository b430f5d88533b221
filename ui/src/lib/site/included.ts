/** What the price still covers: what the crew tells the homeowner on the spot. */

import type { SiteJob } from '../bindings/SiteJob';

/** How many the price still covers; undefined for what is never included. */
export function leftOf(job: SiteJob, damaged: string, unit: string): string | undefined {
  if (damaged === 'deck-sheet' && unit === 'sheet') return job.sheets_left;
  if (damaged === 'deck-board' && unit === 'foot') return job.feet_left;
  return undefined;
}
