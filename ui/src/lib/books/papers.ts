/** The form for what a subcontractor hands in. */

import type { Subcontractor } from '../bindings/Subcontractor';
import { fact } from '../facts';
import { field, needed } from '../forms/fields';
import type { FormSpec } from './context';

export function handedIn({ id: vendor, name, tin_ends }: Subcontractor): FormSpec {
  return {
    kind: 'vendor-papers',
    title: `${name}: what they handed in`,
    record: 'Keep it',
    fields: [
      needed(field.date('date', 'Handed in on')),
      field.text('tin', tin_ends ? `Number, in place of the one that ends in ${tin_ends}` : 'Number (TIN)'),
      field.date('w9_signed', 'W-9 signed on'),
      field.date('insured_until', 'Insured through'),
    ],
    start: ({ today }) => ({ fields: { date: today }, lists: {} }),
    facts: ({ fields }, _context, id) => [fact('vendor-papers', id(0), { ...fields, vendor })],
    says: () => `What ${name} handed in is kept.`,
    undo: 'Not handed in',
  };
}
