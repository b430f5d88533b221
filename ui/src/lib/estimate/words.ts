/** What a person reads for the words of a roof: items, measures, topics, ways to build. */

import type { CostKind } from '../bindings/CostKind';
import type { Item } from '../bindings/Item';
import type { Measure } from '../bindings/Measure';
import type { Origin } from '../bindings/Origin';
import type { RecordStrength } from '../bindings/RecordStrength';
import type { Setback } from '../bindings/Setback';
import type { Topic } from '../bindings/Topic';
import type { ValleyMethod } from '../bindings/ValleyMethod';
import { COST_KINDS, saying } from '../entry/words';

export const ITEMS: Readonly<Record<Item, string>> = {
  'tear-off': 'Tear-off',
  haul: 'Haul-off and dump fees',
  'deck-sheet': 'Deck sheets included',
  'deck-board': 'Deck board included',
  barrier: 'Membrane',
  underlayment: 'Underlayment',
  'drip-edge': 'Drip edge',
  starter: 'Starter',
  shingles: 'Shingles',
  'valley-metal': 'Valley metal',
  'step-flashing': 'Step flashing',
  apron: 'Apron flashing',
  'counter-flashing': 'Counter-flashing',
  'kick-out': 'Kick-outs',
  'chimney-flashing': 'Chimney flashing',
  'skylight-flashing': 'Skylight flashing',
  'pipe-boot': 'Pipe boots',
  'ridge-vent': 'Ridge vent',
  'box-vent': 'Box vents',
  'turbine-vent': 'Turbine vents',
  'power-vent': 'Power vents',
  intake: 'Intake vents',
  'ridge-cap': 'Ridge and hip cap',
  fasteners: 'Nails',
  insulation: 'Attic insulation',
  gutter: 'Gutter',
  downspout: 'Downspouts',
  permit: 'Permit',
  machine: 'Lift or other machine',
  other: 'Other',
};

/** In the order of work. */
export const ITEM_ORDER = Object.keys(ITEMS) as readonly Item[];

export const MEASURES: Readonly<Record<Measure, string>> = {
  square: 'sq',
  'square-foot': 'sq ft',
  foot: 'ft',
  each: 'pcs',
  ton: 'tons',
  day: 'days',
};

export const ORIGINS: Readonly<Record<Origin, string>> = {
  code: 'To the code',
  company: 'To the company standard',
};

export const VALLEYS: readonly { value: ValleyMethod; label: string }[] = [
  { value: 'open-three-layer', label: 'Open metal, three layers' },
  { value: 'open', label: 'Open metal, one strip' },
  { value: 'closed-cut', label: 'Closed cut' },
];

/** A topic's title, and what its figure is in; no unit where it is a yes or a no. */
export const TOPICS: Readonly<Record<Topic, { title: string; unit?: string; rate?: 'slope' | 'ratio' }>> = {
  'barrier-eave': { title: 'Ice barrier at eaves' },
  'barrier-eave-inside': { title: 'Ice barrier reaches inside the wall by', unit: 'in' },
  'barrier-eave-along': { title: 'Ice barrier along a steep slope', unit: 'in' },
  'barrier-eave-along-from': { title: 'That counts from a slope of', unit: 'in 12' },
  'barrier-rake': { title: 'Membrane along rakes', unit: 'in wide' },
  'barrier-valley': { title: 'Membrane in valleys', unit: 'in wide' },
  'barrier-hip': { title: 'Membrane along hips', unit: 'in wide' },
  'barrier-ridge': { title: 'Membrane along ridges', unit: 'in wide' },
  'barrier-wall': { title: 'Membrane along walls', unit: 'in wide' },
  'barrier-penetration': { title: 'Membrane round what comes through', unit: 'in each side' },
  'least-slope': { title: 'Flattest slope for shingles', unit: 'in 12' },
  'double-underlayment-below': { title: 'Two layers of underlayment below', unit: 'in 12' },
  'drip-edge-eave': { title: 'Drip edge at eaves' },
  'drip-edge-rake': { title: 'Drip edge at rakes' },
  'drip-edge-lap': { title: 'Drip edge laps by', unit: 'in' },
  'starter-eave': { title: 'Starter at eaves' },
  'starter-rake': { title: 'Starter at rakes' },
  'valley-metal-width': { title: 'Valley metal', unit: 'in wide' },
  'valley-edge-strips': { title: 'Strips over the valley metal’s edges' },
  'step-flashing-side': { title: 'Step flashing, each side', unit: 'in' },
  'kick-out': { title: 'Kick-out where an eave ends at a wall' },
  'vent-ratio': { title: 'Attic floor for each unit of free area', unit: '' },
  'nails-each': { title: 'Nails in each shingle', unit: 'nails' },
  'new-flashings': { title: 'New flashings for the old' },
};

/** A topic's figure as it is read: "24 in", "1/150", "asked", "not asked". */
export function topicFigure(topic: Topic, value: string, show: (value: string) => string): string {
  const none = !/[1-9]/.test(value);
  if (topic === 'vent-ratio') return none ? 'not asked' : `1/${show(value)}`;
  const { unit } = TOPICS[topic];
  if (unit === undefined) return none ? 'not asked' : 'asked';
  return none ? 'not asked' : `${show(value)} ${unit}`.trim();
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
