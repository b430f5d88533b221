/** In which order the year's jobs stand, and which of them a search leaves. Amounts are compared on whole cents. */

import type { JobBar } from '../bindings/JobBar';
import { toMinor } from '../kit/money';

export type Order = 'number' | 'margin' | 'per-crew-day' | 'unrecovered' | 'over-under';

export const ORDERS: readonly { value: Order; label: string }[] = [
  { value: 'number', label: 'Number' },
  { value: 'margin', label: 'Margin, worst first' },
  { value: 'per-crew-day', label: 'Margin per crew-day, worst first' },
  { value: 'unrecovered', label: 'Unrecovered, largest first' },
  { value: 'over-under', label: 'Over- and under-billed, largest first' },
];

/** Over-billed above zero, under-billed below: one figure for both, never netted across jobs. */
export function overUnder(job: JobBar): bigint {
  return toMinor(job.over_billed) - toMinor(job.under_billed);
}

const byNumber = new Intl.Collator('en', { numeric: true });

function size(amount: bigint): bigint {
  return amount < 0n ? -amount : amount;
}

function rank(job: JobBar, order: Order): bigint | undefined {
  switch (order) {
    case 'margin':
      return toMinor(job.margin);
    case 'per-crew-day':
      return job.margin_per_crew_day === null ? undefined : toMinor(job.margin_per_crew_day);
    case 'unrecovered':
      return -toMinor(job.unrecovered);
    case 'over-under':
      return -size(overUnder(job));
    default:
      return 0n;
  }
}

/** The jobs in order. What has no such figure yet stands last; equals stand by number. */
export function inOrder(jobs: readonly JobBar[], order: Order): JobBar[] {
  const ranked = jobs.map((job) => ({ job, at: rank(job, order) }));
  ranked.sort((a, b) => {
    if (a.at !== b.at) {
      if (a.at === undefined) return 1;
      if (b.at === undefined) return -1;
      return a.at < b.at ? -1 : 1;
    }
    return byNumber.compare(a.job.number, b.job.number);
  });
  return ranked.map(({ job }) => job);
}

/** Jobs in whose number, title, customer or stage every word of the search stands. */
export function found(jobs: readonly JobBar[], search: string): readonly JobBar[] {
  const words = search.toLowerCase().split(/\s+/).filter(Boolean);
  if (words.length === 0) return jobs;
  return jobs.filter((job) => {
    const text = `${job.number} ${job.title} ${job.customer} ${job.stage}`.toLowerCase();
    return words.every((word) => text.includes(word));
  });
}
