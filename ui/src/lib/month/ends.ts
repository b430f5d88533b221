/** Where each kind of loose end is settled, and what the way there is called. */

import type { LooseEnd } from '../bindings/LooseEnd';

export interface Way {
  word: string;
  /** Left out where it is settled on this page. */
  href?: string;
}

const PARTS: Partial<Record<LooseEnd['kind'], { part: string; word: string }>> = {
  'find-without-answer': { part: 'surprises', word: 'Go to the find' },
  'work-at-risk': { part: 'surprises', word: 'Go to the find' },
  'forgotten-find': { part: 'surprises', word: 'Go to the find' },
  'contradicting-answers': { part: 'surprises', word: 'Go to the answers' },
  'approved-not-billed': { part: 'billed', word: 'Bill it' },
  'ended-not-billed': { part: 'billed', word: 'Bill it' },
  'order-without-receipt': { part: 'spend', word: 'Go to the order' },
};

export function wayTo(end: LooseEnd): Way {
  const part = PARTS[end.kind];
  if (part && end.job) return { word: part.word, href: `#/job/${encodeURIComponent(end.job)}/${part.part}` };
  if (end.kind === 'week-without-time') return { word: 'Type the time card', href: '#/site/hours' };
  if (end.kind === 'hours-without-pay') return { word: 'Set the pay', href: '#/rates/people' };
  if (end.kind === 'unapplied-payment') return { word: 'Put it to an invoice' };
  return { word: 'Go to the jobs', href: '#/jobs' };
}

/** The heading under which ends of a kind stand. */
export const END_TITLES: Record<LooseEnd['kind'], string> = {
  'find-without-answer': 'Finds without an answer',
  'work-at-risk': 'Work at risk',
  'forgotten-find': 'Mended, never asked for',
  'contradicting-answers': 'Answers that contradict each other',
  'approved-not-billed': 'Approved, not billed',
  'ended-not-billed': 'Ended, not billed in full',
  'order-without-receipt': 'Ordered, no receipt',
  'week-without-time': 'Weeks without time cards',
  'hours-without-pay': 'Hours without a pay rate',
  'unapplied-payment': 'Payments not put to an invoice',
};
