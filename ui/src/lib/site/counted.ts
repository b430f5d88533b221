/** What the site view says of a condition: how much of what, where, and whether it was asked for. */

import { say, told } from '../kit/say.svelte';
import type { CountedIn } from '../bindings/CountedIn';
import type { Damaged } from '../bindings/Damaged';
import { COUNTED_IN, DAMAGED, PLACES } from '../bindings/Labels';
import type { Place } from '../bindings/Place';
import { inSentence } from '../forms/choices';

/** As the homeowner reads it: in English. */
export const plainly = (english: string) => english;

/** The sides that every roof has; the firm's own words for a job come from its conditions. */
export const SIDES = ['north', 'east', 'south', 'west'] as const;

/** What is given as the reason where a press is taken back. */
export const PRESSED = 'Pressed by mistake';

/** "2 sheets", "1 sheet", "2.5 feet", "3 rafters": in the unit that it was counted in, else in its usual one. */
export function counted(count: string, damaged: Damaged, unit?: CountedIn, called = told): string {
  const usual = DAMAGED[damaged];
  const inUnit = unit === undefined || unit === usual.counted_in ? undefined : COUNTED_IN[unit];
  return `${count} ${called(count === '1' ? (inUnit ?? usual).single : (inUnit?.label ?? usual.several))}`;
}

const plainSide = (where: string, side: string) => [where, `${side} side`].join(', ');

/** "valley, north side": a side of one word that names a direction gets the word "side". */
export function whereOf(place: Place, side: string | null | undefined, called = told): string {
  const known = (SIDES as readonly string[]).includes(side ?? '');
  const where = inSentence(called(PLACES[place]));
  if (!side) return where;
  if (!known) return `${where}, ${side}`;
  return called === told ? say('{where}, {side} side', { where, side: told(side) }) : plainSide(where, side);
}

/** Whether a change order repairs a condition. */
export function repairs(change: { conditions: readonly string[] }, condition: { id: string }): boolean {
  return change.conditions.includes(condition.id);
}
