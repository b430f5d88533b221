import { describe, expect, it } from 'vitest';

import type { Estimate } from '../bindings/Estimate';
import fixture from '../../../tests/fixtures/estimate.json';
import {
  changeRecipe,
  changeRow,
  copyChoice,
  nextLetter,
  priceCovering,
  removeChoice,
  removeRow,
} from './edits';
import { placeOf } from './fields';
import { namedParts, offeredParts } from './known';
import { amountOf, shownShare } from './shown';
import { topicFigure } from './topics';

const estimate = fixture.estimate as Estimate;

describe('shares and percent', () => {
  it('are shown to a tenth', () => {
    expect(shownShare('0.2961875', 'en-US')).toBe('29.6 %');
    expect(shownShare('-0.004', 'en-US', 2)).toBe('−0.4 %');
  });
});

describe('quantities', () => {
  it('stand with their measure', () => {
    expect(amountOf('2180.4567', 'square-foot', 'en-US')).toBe('2,180.46 sq ft');
  });

  it('of a standard say what is asked, and when nothing is', () => {
    const show = (value: string) => value;
    expect(topicFigure('barrier-valley', '36', show)).toBe('36 in');
    expect(topicFigure('barrier-rake', '0', show)).toBe('not asked');
    expect(topicFigure('kick-out', '1', show)).toBe('asked');
    expect(topicFigure('vent-ratio', '150', show)).toBe('150 to 1');
  });
});

describe('changing an estimate', () => {
  it('adds C as a copy, up to three, and takes choices out down to one', () => {
    const three = copyChoice(estimate, 'B');
    expect(three.choices.map((choice) => choice.letter)).toEqual(['A', 'B', 'C']);
    expect(three.choices[2]?.recipe).toEqual(estimate.choices[1]?.recipe);
    expect(nextLetter(three)).toBeUndefined();
    expect(copyChoice(three, 'A')).toBe(three);
    const two = removeChoice(three, 'A');
    expect(two.choices.map((choice) => choice.letter)).toEqual(['B', 'C']);
    expect(copyChoice(two, 'C').choices.map((choice) => choice.letter)).toEqual(['A', 'B', 'C']);
    const one = removeChoice(two, 'B');
    expect(removeChoice(one, 'C')).toBe(one);
  });

  it('changes one choice and leaves the other and the original as they were', () => {
    const next = changeRecipe(estimate, 'A', { included_sheets: '7' });
    expect(next.choices[0]?.recipe.included_sheets).toBe('7');
    expect(next.choices[1]).toBe(estimate.choices[1]);
    expect(estimate.choices[0]?.recipe.included_sheets).not.toBe('7');
  });

  it('changes and removes rows', () => {
    expect(changeRow([{ a: 1 }, { a: 2 }], 1, { a: 3 })).toEqual([{ a: 1 }, { a: 3 }]);
    expect(removeRow(['x', 'y', 'z'], 1)).toEqual(['x', 'z']);
  });
});

describe('where a problem is put right', () => {
  const at = (field: string, words = '') => placeOf({ field, words, section: null, edge: null });

  it('is its field, or Rates where the rates are short', () => {
    expect(at('roof').id).toBe('part-roof');
    expect(at('price').id).toBe('estimate-price');
    expect(at('payments').id).toBe('estimate-payments');
    expect(at('extras[1]').id).toBe('estimate-extras');
    expect(at('parts.ridge-cap', 'No part is chosen for this.')).toMatchObject({
      id: 'estimate-part-ridge-cap',
      word: 'To ridge and hip cap',
    });
    expect(at('parts.ridge-cap', 'It has no price on this day. Type one in Rates.')).toEqual({
      word: 'To Rates',
      href: '#/rates',
    });
    expect(at('crew').href).toBe('#/rates');
  });
});

describe('the parts that may be chosen', () => {
  it('are the firm’s, with whatever the choices name beside them', () => {
    const named = namedParts(estimate, undefined);
    expect(named.find((part) => part.item === 'shingles')?.title).toBe(
      estimate.choices[0]?.parts.find((part) => part.item === 'shingles')?.part,
    );
    const firms = [{ name: named[0]!.name, title: 'As the list has it', item: named[0]!.item, colors: [] }];
    const offered = offeredParts(firms, named);
    expect(offered[0]?.title).toBe('As the list has it');
    expect(offered.length).toBe(named.length);
  });
});

describe('a section too flat for shingles', () => {
  it('is priced as an item that names it, in the choice looked at alone', () => {
    const [first, second] = estimate.choices;
    const priced = priceCovering(estimate, first!.letter, 'porch', 'shingle');
    expect(priced.choices[0]?.extras.at(-1)).toEqual({
      words: 'Covering for low slope, porch',
      code: 'shingle',
      cost_kind: 'subcontract',
      amount: '0',
      hours: null,
    });
    expect(priced.choices[0]?.extras.length).toBe(first!.extras.length + 1);
    expect(priced.choices[1]).toBe(second);
    expect(priceCovering(estimate, 'Z', 'porch', 'shingle')).toBe(estimate);
  });
});
