/** Changes to an estimate, each giving a new one. */

import type { Choice } from '../bindings/Choice';
import type { Estimate } from '../bindings/Estimate';
import type { Recipe } from '../bindings/Recipe';
import type { Terms } from '../bindings/Terms';

export function changeChoice(estimate: Estimate, letter: string, change: Partial<Choice>): Estimate {
  const choices = estimate.choices.map((each) => (each.letter === letter ? { ...each, ...change } : each));
  return { ...estimate, choices };
}

export function changeRecipe(estimate: Estimate, letter: string, change: Partial<Recipe>): Estimate {
  const choices = estimate.choices.map((each) =>
    each.letter === letter ? { ...each, recipe: { ...each.recipe, ...change } } : each,
  );
  return { ...estimate, choices };
}

export function changeTerms(estimate: Estimate, change: Partial<Terms>): Estimate {
  return { ...estimate, terms: { ...estimate.terms, ...change } };
}

const LETTERS = ['A', 'B', 'C'];

/** The letter that a further choice would have; none after C. */
export function nextLetter(estimate: Estimate): string | undefined {
  return LETTERS.find((letter) => !estimate.choices.some((choice) => choice.letter === letter));
}

/** A further choice, as a copy of one there is. */
export function copyChoice(estimate: Estimate, from: string): Estimate {
  const letter = nextLetter(estimate);
  const model = estimate.choices.find((choice) => choice.letter === from);
  if (!letter || !model) return estimate;
  const choices = [...estimate.choices, { ...model, letter, title: `${model.title}, changed` }];
  choices.sort((one, other) => one.letter.localeCompare(other.letter));
  return { ...estimate, choices };
}

export function removeChoice(estimate: Estimate, letter: string): Estimate {
  if (estimate.choices.length < 2) return estimate;
  return { ...estimate, choices: estimate.choices.filter((choice) => choice.letter !== letter) };
}

/** A section too flat for shingles, priced as an item of its own; the price is typed next. */
export function priceCovering(estimate: Estimate, letter: string, section: string, code: string): Estimate {
  const choice = estimate.choices.find((each) => each.letter === letter);
  if (!choice) return estimate;
  const covering = {
    words: `Covering for low slope, ${section}`,
    code,
    cost_kind: 'subcontract' as const,
    amount: '0',
    hours: null,
  };
  return changeChoice(estimate, letter, { extras: [...choice.extras, covering] });
}

/** A list with one of its rows changed. */
export function changeRow<T>(rows: readonly T[], index: number, change: Partial<T>): T[] {
  return rows.map((row, at) => (at === index ? { ...row, ...change } : row));
}

export function removeRow<T>(rows: readonly T[], index: number): T[] {
  return rows.filter((_, at) => at !== index);
}
