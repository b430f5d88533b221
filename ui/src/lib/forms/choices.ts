/** Closed lists, whose labels the program writes, as the choices of a field. */

import { both, told } from '../kit/say.svelte';
import type { Choice } from './spec';

type Label = string | { readonly label: string };
export type List<Word extends string = string> = Readonly<Partial<Record<Word, Label>>>;

function text(label: Label): string {
  return typeof label === 'string' ? label : label.label;
}

/** The words of a list, in its order. */
export function wordsOf<Word extends string>(list: List<Word>): Word[] {
  return Object.keys(list) as Word[];
}

/** A list as choices; only some of its words where they are given. */
export function choices<Word extends string>(
  list: List<Word>,
  words: readonly Word[] = wordsOf(list),
): (Choice & { value: Word })[] {
  return words.map((value) => ({ value, label: both(text(list[value] ?? value)) }));
}

/** What people call a word that comes from a field. */
export function labelIn(list: List, word: string | undefined): string {
  return told(text(list[word ?? ''] ?? word ?? ''));
}

/** A label in the midst of a sentence. */
export function inSentence(label: string): string {
  return label.charAt(0).toLowerCase() + label.slice(1);
}
