/** Where each kind of loose end is settled, and what the way there is called. */

import type { LooseEnd } from '../bindings/LooseEnd';

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
  'change-without-cost': { part: 'changes', word: 'Fill its cost in' },
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

/** Where whoever keeps the books settles it: the pages of jobs are the owner's. */
const OF_BOOKS: Partial<Record<LooseEnd['kind'], Way>> = {
  'order-without-bill': { word: 'Enter its bill', href: '#/books/bills' },
  'recurring-not-recorded': { word: 'Record it', href: '#/books/overhead' },
  'bill-not-as-ordered': { word: 'Go to the bills', href: '#/books/vendors' },
  'subcontractor-without-w9': { word: 'Go to the subcontractors', href: '#/books/vendors' },
  'bank-line-unmatched': { word: 'Go to the bank', href: '#/books/bank' },
  'subcontractor-uninsured': { word: 'Go to the subcontractors', href: '#/books/vendors' },
};

export function wayTo(end: LooseEnd, role: 'owner' | 'books' = 'owner'): Way {
  const own = OF_BOOKS[end.kind];
  if (own && (role === 'books' || !end.job)) return own;
  if (role === 'books' && end.job)
    return { word: 'Go to the invoices', href: `#/books/customers/${encodeURIComponent(end.job)}` };
  const part = PARTS[end.kind];
  if (part && end.job) return { word: part.word, href: `#/job/${encodeURIComponent(end.job)}/${part.part}` };
  if (end.kind === 'week-without-time-entries') return { word: 'Type the time card', href: '#/site/hours' };
  if (end.kind === 'hours-without-pay') return { word: 'Set the pay', href: '#/rates/people' };
  if (end.kind === 'wage-base-of-another-year') return { word: 'Set the rate', href: '#/rates/burden' };
  if (end.kind === 'unapplied-payment' || end.kind === 'unapplied-credit')
    return { word: 'Apply it to an invoice' };
  if (end.kind === 'question') return { word: 'Answer it' };
  return { word: 'Go to the jobs', href: '#/jobs' };
}
