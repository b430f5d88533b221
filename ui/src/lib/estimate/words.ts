/** What a person reads for the words of a roof: items, measures, topics, ways to build. */

import type { CostKind } from '../bindings/CostKind';
import type { Item } from '../bindings/Item';
import { ITEMS, TOPICS } from '../bindings/Labels';
import type { Measure } from '../bindings/Measure';
import type { Origin } from '../bindings/Origin';
import type { RecordStrength } from '../bindings/RecordStrength';
import type { Setback } from '../bindings/Setback';
import type { Topic } from '../bindings/Topic';
import { COST_KINDS, saying } from '../entry/words';

export { ITEMS, TOPICS };

/** In the order of work. */
export const ITEM_ORDER = Object.keys(ITEMS) as readonly Item[];

export const MEASURES: Readonly<Record<Measure, string>> = {
  square: 'sq',
  'square-foot': 'sq ft',
  foot: 'ft',
  each: 'pcs',
  ton: 'tons',
  day: 'days',
  mile: 'miles',
};

export const ORIGINS: Readonly<Record<Origin, string>> = {
  code: 'To the code',
  company: 'To the company standard',
};

/** A topic's figure as it is read: "24 in", "300 to 1", "asked", "not asked". */
export function topicFigure(topic: Topic, value: string, show: (value: string) => string): string {
  const none = !/[1-9]/.test(value);
  const { unit } = TOPICS[topic];
  if (none) return 'not asked';
  return unit === '' ? 'asked' : `${show(value)} ${unit}`;
}

export const SETBACKS: Readonly<Record<Setback, string>> = {
  'two-sheets': 'Two more deck sheets, given away',
  'rain-day': 'A day of rain with the crew paid',
  'dearer-shingles': 'Shingles 5 % dearer',
};

export const RECORDS: Readonly<Record<RecordStrength, string>> = {
  none: 'No history yet',
  thin: 'Little history: take it as a hint',
  fair: 'Some history',
  good: 'A good history',
};

export const kindWord = (kind: CostKind): string => saying(COST_KINDS, kind);
