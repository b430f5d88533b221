/** The five places in the spine: their words, their keys, and what each says while there is nothing in it. */

export type PlaceId = 'jobs' | 'month-end' | 'hand-off' | 'rates' | 'firm';

export interface Destination {
  id: PlaceId;
  word: string;
  key: string;
  /** What the page is for. */
  purpose: string;
  /** What to do next when it is empty. */
  next: string;
}

export const DESTINATIONS: readonly Destination[] = [
  {
    id: 'jobs',
    word: 'Jobs',
    key: 'Alt+J',
    purpose: 'The year, each job a bar: sold, forecast cost, margin.',
    next: 'There is no job yet. A job begins with an estimate, and becomes a promise when the contract is signed.',
  },
  {
    id: 'month-end',
    word: 'Month end',
    key: 'Alt+M',
    purpose: 'The firm’s month on one page, its loose ends, and closing it.',
    next: 'There is no month to close yet. The first one opens with the first receipt, hours or invoice.',
  },
  {
    id: 'hand-off',
    word: 'Hand-off',
    key: 'Alt+H',
    purpose: 'The month’s files for the bookkeeper, once, with nothing missing or doubled.',
    next: 'Nothing can be handed off yet. Close a month first.',
  },
  {
    id: 'rates',
    word: 'Rates',
    key: 'Alt+R',
    purpose: 'Pay, what comes on top of it, cost codes and unit prices.',
    next: 'No rate is set yet. Begin with the people on the crew and what they are paid an hour.',
  },
  {
    id: 'firm',
    word: 'Firm',
    key: 'Alt+F',
    purpose: 'The firm’s name, its own standards, its people and its back-ups.',
    next: 'No firm is open yet.',
  },
];

/** The place that the address after `#/` names; the jobs, if it names none. */
export function placeOf(hash: string): Destination {
  const id = hash.replace(/^#\/?/, '').split('/')[0];
  const first = DESTINATIONS[0] as Destination;
  return DESTINATIONS.find((destination) => destination.id === id) ?? first;
}
