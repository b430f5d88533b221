/** A vendor's statement, typed or pasted, to be held against the books: nothing of it is recorded. */

import type { VendorStatement } from '../bindings/VendorStatement';
import { field, needed } from '../forms/fields';
import { call } from '../ipc';
import type { FormSpec } from './context';

export function compareForm(
  vendors: readonly { id: string; name: string }[],
  oncompared: (statement: VendorStatement) => void,
): FormSpec {
  return {
    kind: 'vendor-statement',
    title: 'Compare a vendor’s statement',
    record: 'Compare',
    fields: [
      needed(
        field.choice(
          'vendor',
          'Whose statement it is',
          vendors.map(({ id, name }) => ({ value: id, label: name })),
        ),
        'Choose the vendor.',
      ),
      needed(
        field.note('lines', 'Its lines', {
          rows: 8,
          wide: true,
          example: 'TF-7983 1,240.50',
          hint: () => 'A bill a line: its number first, what is open of it last. A credit is below zero.',
        }),
        'Type or paste the statement’s lines.',
      ),
    ],
    send: async ({ fields: { vendor = '', lines = '' } }) => {
      oncompared(await call('vendor_statement', { vendor, lines }));
    },
  };
}
