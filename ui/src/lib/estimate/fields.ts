/** Where a problem can be put right: the word of the link, and what it goes to. */

import { tick } from 'svelte';

import { ITEMS } from '../bindings/Labels';
import type { Problem } from '../bindings/Problem';
import { inSentence, labelIn } from '../forms/choices';

export interface FieldPlace {
  word: string;
  href: string;
  /** The id of the element that takes the focus; none where another page is to be opened. */
  id?: string;
}

export const partField = (item: string): string => `estimate-part-${item}`;

/** The field that a problem names. Prices, production and pay are settled in Rates. */
export function placeOf(problem: Problem): FieldPlace {
  const here = (id: string, word: string): FieldPlace => ({ word, href: `#${id}`, id });
  const { field, words } = problem;
  if (field === 'roof') return here('part-roof', 'To the roof');
  if (field === 'price') return here('estimate-price', 'To the price');
  if (field === 'payments') return here('estimate-payments', 'To the payments');
  if (field.startsWith('extras')) return here('estimate-extras', 'To the extras');
  if (field === 'crew') return { word: 'To Rates', href: '#/rates' };
  const item = /^(?:parts|labor)\.(.+)$/.exec(field)?.[1];
  if (item === undefined) return here('part-choices', 'To the choice');
  if (words.includes('in Rates')) return { word: 'To Rates', href: '#/rates' };
  return here(partField(item), `To ${inSentence(labelIn(ITEMS, item))}`);
}

/** Follows the link without leaving the page: the address names the job, not a field. */
export async function goTo(event: MouseEvent, place: FieldPlace, look?: () => void): Promise<void> {
  if (place.id === undefined) return;
  event.preventDefault();
  look?.();
  await tick();
  focusOn(place.id);
}

export function focusOn(id: string): void {
  const found = document.getElementById(id);
  const field = found?.matches('[tabindex], input, select, textarea, button')
    ? found
    : found?.querySelector<HTMLElement>('input, select, textarea, button');
  field?.focus({ preventScroll: true });
  found?.scrollIntoView({ block: 'start' });
}
