/** The figures of the month-end page where they stand in the report, and the rows of its pictures. */

import type { FirmMonth } from '../bindings/FirmMonth';
import type { Figure } from '../bindings/Figure';
import { TO_DATE } from '../bindings/Figures';
import type { JobMonth } from '../bindings/JobMonth';
import { isZero, negate, toMinor } from '../kit/money';
import type { SideRow } from './SideBars.svelte';

type Values = Partial<Record<Figure, string>>;

/** What the firm stands at, by the figure that it opens as. */
export function toDate(firm: FirmMonth): Values {
  return Object.fromEntries(TO_DATE.map(({ figure, field }) => [figure, firm[field]]));
}

/** Jobs by what a day of one crew made, the best first. */
export function rankingRows(jobs: readonly JobMonth[]): SideRow[] {
  return jobs
    .flatMap((job) => (job.margin_per_crew_day === null ? [] : [{ job, made: job.margin_per_crew_day }]))
    .sort((a, b) => (toMinor(b.made) > toMinor(a.made) ? 1 : toMinor(b.made) < toMinor(a.made) ? -1 : 0))
    .map(({ job, made }) => ({
      id: job.number,
      label: `${job.number} ${job.customer}`,
      left: made.startsWith('-') ? negate(made) : '0.00',
      right: made.startsWith('-') ? '0.00' : made,
    }));
}

/** Jobs that are billed beyond what they have earned, the most first, to those that have earned most beyond it. */
export function billingRows(jobs: readonly JobMonth[]): SideRow[] {
  const ahead = (job: JobMonth) => toMinor(job.under_billed) - toMinor(job.over_billed);
  return jobs
    .filter((job) => !isZero(job.over_billed) || !isZero(job.under_billed))
    .sort((a, b) => (ahead(a) < ahead(b) ? -1 : ahead(a) > ahead(b) ? 1 : 0))
    .map((job) => ({
      id: job.number,
      label: `${job.number} ${job.customer}`,
      left: job.over_billed,
      right: job.under_billed,
    }));
}
