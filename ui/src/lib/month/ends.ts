/** Where each kind of loose end is settled, and what the way there is called. */

import type { LooseEnd } from '../bindings/LooseEnd';
import { showDate } from '../kit/dates';
import { showMoney } from '../kit/money';

export interface Way {
  word: string;
  /** Left out where it is settled on this page. */
  href?: string;
}

const PARTS: Partial<Record<LooseEnd['kind'], { part: string; word: string }>> = {
  'condition-without-decision': { part: 'changes', word: 'Go to the condition' },
  'work-at-risk': { part: 'changes', word: 'Go to the condition' },
  'forgotten-condition': { part: 'changes', word: 'Go to the condition' },
  'declined-repair': { part: 'changes', word: 'Say what becomes of it' },
  'open-color': { part: 'contract', word: 'Choose the color' },
  'contradicting-decisions': { part: 'changes', word: 'Go to the decisions' },
  'approved-not-billed': { part: 'billing', word: 'Bill it' },
  'ended-not-billed': { part: 'billing', word: 'Bill it' },
  'order-without-bill': { part: 'costs', word: 'Go to the order' },
  'lead-pamphlet-missing': { part: 'contract', word: 'Go to the job' },
  'insulation-receipt-missing': { part: 'contract', word: 'Go to the job' },
  'order-on-ended-job': { part: 'costs', word: 'Go to the order' },
  'cost-without-contract': { part: 'contract', word: 'Go to the contract' },
  'billed-beyond-contract': { part: 'billing', word: 'Go to the invoices' },
  'retainage-not-as-agreed': { part: 'billing', word: 'Go to the invoice' },
  'sales-tax-not-by-rule': { part: 'billing', word: 'Go to the invoice' },
};

export function wayTo(end: LooseEnd): Way {
  const part = PARTS[end.kind];
  if (part && end.job) return { word: part.word, href: `#/job/${encodeURIComponent(end.job)}/${part.part}` };
  if (end.kind === 'week-without-time-entries') return { word: 'Type the time card', href: '#/site/hours' };
  if (end.kind === 'hours-without-pay') return { word: 'Set the pay', href: '#/rates/people' };
  if (end.kind === 'unapplied-payment' || end.kind === 'unapplied-credit')
    return { word: 'Apply it to an invoice' };
  return { word: 'Go to the jobs', href: '#/jobs' };
}

/** A sentence of the program, with its days and amounts as the page writes them. */
export function written(sentence: string, locale: string): string {
  return sentence.replaceAll(/\b(\d{4}-\d{2}-\d{2})\b|\b\d+\.\d{2}\b/g, (found, day?: string) =>
    day ? showDate(day, locale) : showMoney(found, { locale }),
  );
}

/** The heading under which ends of a kind stand. */
export const END_TITLES: Record<LooseEnd['kind'], string> = {
  'condition-without-decision': 'Conditions without a decision',
  'work-at-risk': 'Work at risk',
  'forgotten-condition': 'Repaired, never asked for',
  'declined-repair': 'Declined, and the roof rests on it',
  'open-color': 'Colors still open',
  'contradicting-decisions': 'Decisions that contradict each other',
  'approved-not-billed': 'Approved, not billed',
  'ended-not-billed': 'Ended, not billed in full',
  'order-without-bill': 'Ordered, no bill',
  'lead-pamphlet-missing': 'Houses from before 1978 without the pamphlet on lead',
  'insulation-receipt-missing': 'Insulation without its receipt',
  'week-without-time-entries': 'Weeks without time cards',
  'hours-without-pay': 'Hours without a pay rate',
  'unapplied-payment': 'Payments not applied to an invoice',
  question: 'Devices that contradict each other',
  'unapplied-credit': 'Credit memos not applied to an invoice',
  'cost-without-contract': 'Cost without a contract',
  'billed-beyond-contract': 'Billed beyond the contract',
  'order-on-ended-job': 'Ordered for an ended job',
  'retainage-not-as-agreed': 'Retainage not as agreed',
  'sales-tax-not-by-rule': 'Sales tax that no rule gives',
};
