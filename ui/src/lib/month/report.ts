/** The figures of the month-end page: their titles, where they stand in the report, and the rows of its pictures. */

import type { FirmMonth } from '../bindings/FirmMonth';
import type { JobMonth } from '../bindings/JobMonth';
import type { Movement } from '../bindings/Movement';
import { roundForShow } from '../kit/decimal';
import { isZero, negate, toMinor } from '../kit/money';
import type { SideRow } from './SideBars.svelte';

type Tone = 'plain' | 'cost' | 'gain' | 'contracted' | 'waiting';

/** What the month added; it opens to what each job added. */
export interface Sum {
  name: string;
  title: string;
  tone: Tone;
  rule: string;
  of: (movement: Movement) => string;
}

export const SUMS: readonly Sum[] = [
  {
    name: 'earned',
    title: 'Earned',
    tone: 'gain',
    rule: 'What was earned by the month’s end less what was earned by the end of the month before.',
    of: (movement) => movement.earned,
  },
  {
    name: 'cost',
    title: 'Cost',
    tone: 'cost',
    rule: 'Every bill, direct cost and hour booked in the month.',
    of: (movement) => movement.cost,
  },
  {
    name: 'profit',
    title: 'Gross profit',
    tone: 'gain',
    rule: 'Earned less cost, less the change in losses foreseen.',
    of: (movement) => movement.profit,
  },
  {
    name: 'overhead',
    title: 'Overhead absorbed',
    tone: 'plain',
    rule: 'The firm’s overhead rate on its chosen base, for the month’s work.',
    of: (movement) => movement.overhead,
  },
  {
    name: 'billed',
    title: 'Billed',
    tone: 'plain',
    rule: 'Invoices less credit memos of the month, before sales tax.',
    of: (movement) => movement.billed,
  },
];

/** A figure that the program explains under its word. */
export interface Opening {
  word: string;
  title: string;
  tone: Tone;
  unit?: string;
  of: (firm: FirmMonth) => string;
}

export const TO_DATE: readonly Opening[] = [
  { word: 'contract', title: 'Contracts', tone: 'contracted', of: (firm) => firm.contract },
  {
    word: 'hidden-price',
    title: 'of it for hidden conditions',
    tone: 'contracted',
    of: (firm) => firm.hidden_price,
  },
  { word: 'cost', title: 'Cost to date', tone: 'cost', of: (firm) => firm.cost },
  { word: 'committed', title: 'Ordered, to come', tone: 'waiting', of: (firm) => firm.committed },
  { word: 'forecast', title: 'Forecast cost', tone: 'cost', of: (firm) => firm.forecast },
  { word: 'uninstalled', title: 'On site, not installed', tone: 'plain', of: (firm) => firm.uninstalled },
  { word: 'earned', title: 'Earned to date', tone: 'gain', of: (firm) => firm.earned },
  { word: 'billed', title: 'Billed to date', tone: 'plain', of: (firm) => firm.billed },
  { word: 'margin-sold', title: 'Margin sold', tone: 'contracted', of: (firm) => firm.margin_sold },
  { word: 'margin', title: 'Margin, forecast', tone: 'gain', of: (firm) => firm.margin },
  { word: 'loss-provision', title: 'Loss provision', tone: 'plain', of: (firm) => firm.loss_provision },
  { word: 'retainage-held', title: 'Retainage held', tone: 'plain', of: (firm) => firm.retainage_held },
  { word: 'overhead', title: 'Overhead absorbed', tone: 'plain', of: (firm) => firm.overhead },
  { word: 'hours', title: 'Crew hours', tone: 'plain', unit: 'h', of: (firm) => firm.hours },
  {
    word: 'crew-days',
    title: 'Crew-days',
    tone: 'plain',
    unit: '',
    of: (firm) => roundForShow(firm.crew_days, 1),
  },
];

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
