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
    expectTypeOf<FieldsOf<'find-step'>>().toHaveProperty('stage');
    expectTypeOf<FieldsOf<'find-step'>>().not.toHaveProperty('stages');
    expectTypeOf<{ kind: 'find-step'; find: string; stage: string }>().toExtend<FactForm>();
    expectTypeOf<{ kind: 'find-stepp'; find: string }>().not.toExtend<FactForm>();
    // A type that lets everything through would pass the two above as well.
    // @ts-expect-error a misspelt field
    expect(fact('find-step', 'a', { find: 'b', stages: 'begun' }).kind).toBe('find-step');
  });
});
