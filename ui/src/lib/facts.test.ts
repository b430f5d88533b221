import { describe, expect, expectTypeOf, it } from 'vitest';

import { fact, filled, type FactForm, type FieldsOf } from './facts';

describe('a fact as the page sends it', () => {
  it('leaves out what is empty, and keeps nought and no', () => {
    const sent = fact('check-point', 'a', {
      words: 'Beds covered',
      item: '',
      revises: undefined,
      blocks: false,
      position: 0,
    });
    expect(sent).toEqual({ kind: 'check-point', id: 'a', words: 'Beds covered', blocks: false, position: 0 });
    expect(filled({ note: null, amount: '0' })).toEqual({ amount: '0' });
  });

  it('has the fields that its kind has in the ledger, and no others', () => {
    expectTypeOf<FieldsOf<'repair'>>().toHaveProperty('stage');
    expectTypeOf<FieldsOf<'repair'>>().not.toHaveProperty('stages');
    expectTypeOf<{ kind: 'repair'; condition: string; stage: string }>().toExtend<FactForm>();
    expectTypeOf<{ kind: 'repairp'; condition: string }>().not.toExtend<FactForm>();
    // A type that lets everything through would pass the two above as well.
    // @ts-expect-error a misspelt field
    expect(fact('repair', 'a', { condition: 'b', stages: 'begun' }).kind).toBe('repair');
  });
});
