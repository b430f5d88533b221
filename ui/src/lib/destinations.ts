/** The places in the spine: their words, their keys, and what each is for. */

export type PlaceId = 'jobs' | 'month-end' | 'books' | 'hand-off' | 'rates' | 'firm';

export interface Destination {
  id: PlaceId;
  word: string;
  key: string;
  /** What the page is for. */
  purpose: string;
}

export const DESTINATIONS: readonly Destination[] = [
  {
    id: 'jobs',
    word: 'Jobs',
    key: 'Alt+J',
    purpose: 'The year, each job a bar: sold, forecast cost, margin.',
  },
  {
    id: 'books',
    word: 'Books',
    key: 'Alt+B',
    purpose:
      'Bills, what vendors are owed, what the firm costs beside its jobs, what customers pay, and the bank.',
  },
  {
    id: 'month-end',
    word: 'Month end',
    key: 'Alt+M',
    purpose: 'The firm’s month on one page, its loose ends, and closing it.',
  },
  {
    id: 'hand-off',
    word: 'Hand-off',
    key: 'Alt+H',
    purpose: 'The month’s files for the bookkeeper, once and complete.',
  },
  {
    id: 'rates',
    word: 'Rates',
    key: 'Alt+R',
    purpose: 'Pay, labor burden, cost codes and unit prices.',
  },
  {
    id: 'firm',
    word: 'Firm',
    key: 'Alt+F',
    purpose: 'The firm’s name, its own standards, its people and its back-ups.',
  },
];

/** What each role comes for. The program keeps the rest from them; here it is only left out of sight. */
const HIDDEN: Readonly<Record<string, readonly PlaceId[]>> = { books: ['jobs'] };

export function placesFor(role: string): readonly Destination[] {
  return DESTINATIONS.filter((destination) => !HIDDEN[role]?.includes(destination.id));
}

/** The parts of the address after `#/`: `#/job/26-013/billing` is a job, its number and a part of its page. */
export function partsOf(hash: string): string[] {
  return hash
    .replace(/^#\/?/, '')
    .split('/')
    .map((part) => {
      try {
        return decodeURIComponent(part);
      } catch {
        // A stray % in an address is only text.
        return part;
      }
    });
}

/** The place that the address names; the first there is, if it names none. A job belongs to the jobs. */
export function placeOf(hash: string, places: readonly Destination[] = DESTINATIONS): Destination {
  const id = partsOf(hash)[0];
  const first = (places[0] ?? DESTINATIONS[0]) as Destination;
  return places.find((destination) => destination.id === id) ?? first;
}
