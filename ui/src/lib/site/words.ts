/** What the site view says of places, damage and what happens when it is left. */

import type { CountedIn } from '../bindings/CountedIn';
import type { Damaged } from '../bindings/Damaged';
import { CAUSES, DAMAGED, PLACES } from '../entry/words';

export { CAUSES, DAMAGED, PLACES };

/** The sides that every roof has; the firm's own words for a job come from its conditions. */
export const SIDES = ['north', 'east', 'south', 'west'] as const;

interface Counted {
  unit: CountedIn;
  one: string;
  many: string;
}

/** How each kind of damage is counted. */
const COUNTED: Readonly<Record<Damaged, Counted>> = {
  'deck-sheet': { unit: 'sheet', one: 'sheet', many: 'sheets' },
  'deck-board': { unit: 'foot', one: 'foot', many: 'feet' },
  rafter: { unit: 'each', one: 'rafter', many: 'rafters' },
  'wall-sheathing': { unit: 'square-foot', one: 'sq ft', many: 'sq ft' },
  framing: { unit: 'foot', one: 'foot', many: 'feet' },
  insulation: { unit: 'square-foot', one: 'sq ft', many: 'sq ft' },
};

/** What is given as the reason where a press is taken back. */
export const PRESSED = 'Pressed by mistake';

/** What happens if it is left, for the homeowner: one sentence for each kind of damage. */
export const IF_LEFT: Record<string, string> = {
  'deck-sheet':
    'Nails hold badly in rotted deck. Shingles over it may lift in wind, and a foot may go through it.',
  'deck-board': 'Nails hold badly in rotted board. Shingles over it may lift in wind, and the rot may go on.',
  rafter: 'A rotted rafter carries less than a sound one. Snow or a person may be more than it holds.',
  'wall-sheathing':
    'While water gets behind the wall the rot may go on, to the framing and to the rooms inside.',
  framing:
    'Rotted framing carries less than sound framing, and what is repaired above it may move and leak again.',
  insulation: 'Wet insulation may keep the wood around it wet and grow mold, and it keeps less heat in.',
};

/** How a kind of damage is counted, whatever else a later program may know. */
export function countedIn(damaged: string): Counted {
  const known = (COUNTED as Readonly<Record<string, Counted>>)[damaged];
  return known ?? { unit: 'each', one: 'piece', many: 'pieces' };
}

/** "2 sheets", "1 sheet", "2.5 feet". */
export function counted(count: string, damaged: string): string {
  const { one, many } = countedIn(damaged);
  return `${count} ${count === '1' ? one : many}`;
}

/** "valley, north side": a side of one word that names a direction gets the word "side". */
export function whereOf(place: string, side: string | null | undefined): string {
  const known = (SIDES as readonly string[]).includes(side ?? '');
  return place.replaceAll('-', ' ') + (side ? `, ${side}${known ? ' side' : ''}` : '');
}

/** Whether a change order repairs a condition. */
export function repairs(change: { conditions: readonly string[] }, condition: { id: string }): boolean {
  return change.conditions.includes(condition.id);
}
