/** The closed lists of words that facts use, with what a person reads for each. */

import * as LABELS from '../bindings/Labels';
import type { Choice } from '../forms/spec';

export type { Choice };

export function words(pairs: Readonly<Record<string, string>>): readonly Choice[] {
  return Object.entries(pairs).map(([value, label]) => ({ value, label }));
}

export const COST_KINDS = words(LABELS.COST_KINDS);

/** Labor cost comes from hours and pay, never from a bill. */
export const BOUGHT_KINDS = COST_KINDS.filter((kind) => kind.value !== 'labor');

export const PLACES = words({
  field: 'Open field',
  eave: 'Eave',
  rake: 'Rake',
  valley: 'Valley',
  hip: 'Hip',
  ridge: 'Ridge',
  'roof-to-wall': 'Roof to wall',
  chimney: 'Chimney',
  skylight: 'Skylight',
  pipe: 'Pipe',
});

export const CAUSES = words({
  'missing-kick-out': 'No kick-out at the wall',
  'failed-flashing': 'Flashing failed',
  'ice-dam': 'Ice dam',
  condensation: 'Condensation',
  puncture: 'Puncture',
  'old-leak': 'Old leak',
  other: 'Another, see the note',
  'not-said': 'Not said',
});

export const DAMAGED = words({
  'deck-sheet': 'Deck sheet',
  'deck-board': 'Deck board',
  rafter: 'Rafter',
  'wall-sheathing': 'Wall sheathing',
  framing: 'Wall framing',
  insulation: 'Insulation',
});

export const COUNTED_IN = words({
  sheet: 'sheets',
  foot: 'feet',
  'square-foot': 'square feet',
  each: 'pieces',
});

export const PRICINGS = words({
  'unit-price': 'Unit price of the contract',
  'time-and-material': 'Time and material',
  'lump-sum': 'Lump sum',
});

export const VERDICTS = words({ approved: 'Approved', declined: 'Declined', withdrawn: 'Withdrawn by us' });

/** What the owner decides of a repair that the homeowner declined. */
export const COURSES = words({
  'own-cost': 'Repair it at our own cost',
  'by-others': 'They have it repaired by others',
  stop: 'Stop here',
});

export const DECIDED_BY = words({
  signed: 'Signed',
  phone: 'By phone',
  text: 'By text message',
  email: 'By e-mail',
});

export const PURPOSES = words({
  deposit: 'Deposit',
  progress: 'Progress',
  'change-order': 'Change order',
  final: 'Final',
  credit: 'Credit memo',
});

export const PAID_BY = words({ check: 'Check', card: 'Card', transfer: 'Bank transfer', cash: 'Cash' });

export const JOB_STATUSES = words({
  begun: 'Work began',
  finished: 'Work is done',
  canceled: 'It will not be done',
});

export const PAMPHLET_BY = words({
  'signed-receipt': 'A signed receipt',
  'certificate-of-mailing': 'A certificate of mailing',
});

/** What a person reads for a word of one of these lists. */
export function saying(list: readonly Choice[], word: string): string {
  return list.find((choice) => choice.value === word)?.label ?? word;
}
