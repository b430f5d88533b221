/** What is asked about parts and their prices, production, standards and the checklist, and the facts it makes. */

import type { CheckPointRow } from '../bindings/CheckPointRow';
import type { Lists } from '../bindings/Lists';
import type { PartFact } from '../bindings/PartFact';
import type { PartRow } from '../bindings/PartRow';
import type { Rates } from '../bindings/Rates';
import type { StandardRow } from '../bindings/StandardRow';
import type { Item } from '../bindings/Item';
import type { TypedRate } from '../bindings/TypedRate';
import { SHINGLE_KINDS, STEEPNESS } from '../bindings/Labels';
import { BOUGHT_KINDS } from '../entry/fields';
import { fact } from '../facts';
import { choices } from '../forms/choices';
import { field, needed } from '../forms/fields';
import type { Around, Choice, FieldSpec, FormSpec, Line } from '../forms/spec';
import { showDate } from '../kit/dates';
import { systemLocale } from '../kit/locale';
import { call } from '../ipc';
import { keptHours, shownHours, workedBy } from './hours';
import { typeIt } from './spec';

export interface Priced extends Around {
  rates: Rates;
  lists: Lists;
}

type Field = FieldSpec<Priced>;
type Form = FormSpec<Priced>;

/** Asks whether what is typed is near what is usual: the program says so, and the form shows it before it is kept. */
function askedAbout(
  typed: (fields: Line, around: Priced) => TypedRate | undefined,
): Pick<Form, 'asks' | 'cautions'> {
  return {
    asks: ({ fields }, around) => {
      const takes = typed(fields, around);
      if (!takes) return undefined;
      return {
        key: JSON.stringify(takes),
        ask: async () => {
          const told = await call('far_from_usual', { typed: takes });
          return (values) => {
            values.fields.far_off = told.join('\n');
          };
        },
      };
    },
    cautions: ({ fields }) => (fields.far_off ? fields.far_off.split('\n') : []),
  };
}

const from: Field = needed(field.date('date', 'From this day on'), typeIt('From'));
const items: Pick<Field, 'choices'> = {
  choices: ({ rates }) => rates.items.map((each) => ({ value: each.item, label: each.title })),
};
const code: Field = needed(
  field.choice('code', 'Charged to the code', ({ lists }) =>
    lists.codes.map(({ id, code, title }) => ({ value: id, label: `${code}: ${title}` })),
  ),
);

function text(name: string, label: string, hint: string): Field {
  return { name, label, kind: 'text', required: true, missing: typeIt(label), hint: () => hint };
}

function measureOf({ rates }: Pick<Priced, 'rates'>, item: string | undefined): string | undefined {
  return rates.items.find((each) => each.item === item)?.measure_word;
}

function day(date: string | undefined): string {
  return showDate(date ?? '', systemLocale());
}

/** Whether a part for the item that is chosen says such a thing of itself. */
function has({ rates }: Priced, { item }: Line, fact: PartFact): boolean {
  return rates.items.some((each) => each.item === item && each.facts.includes(fact));
}

/** The fields without what a part for the chosen item does not say of itself. */
function saidOf(priced: Priced, fields: Line): Line {
  const ofSome = new Set<string>(priced.rates.items.flatMap(({ facts }) => facts));
  const stays = ([name]: [string, string]) => !ofSome.has(name) || has(priced, fields, name as PartFact);
  return Object.fromEntries(Object.entries(fields).filter(stays));
}

const having = (fact: PartFact): Pick<Field, 'when'> => ({
  when: ({ fields }, priced) => has(priced, fields, fact),
});

/** A part, new or changed. */
export function partForm(part: PartRow | undefined): Form {
  return {
    kind: 'part',
    title: part ? `Change ${part.title}` : 'A new part',
    record: part ? 'Keep the change' : 'Add',
    fields: [
      text('title', 'Title', 'As it stands on an order'),
      text('name', 'Word', 'Short, for lists and imports'),
      {
        name: 'item',
        label: 'Answers which part of the roof',
        kind: 'choice',
        required: true,
        when: () => !part,
        ...items,
      },
      code,
      needed(field.choice('cost_kind', 'Kind of cost', BOUGHT_KINDS)),
      text('package', 'Bought by the', 'bundle, roll, piece'),
      needed(
        field.qty('covers', 'One covers', { unit: (line, priced) => measureOf(priced, line.item) }),
        typeIt('Covers'),
      ),
      field.choice('shingle', 'What it is', choices(SHINGLE_KINDS), {
        none: 'Not said',
        ...having('shingle'),
      }),
      field.qty('pieces_per_square', 'Pieces in a square', {
        hint: () => 'Left empty, as many as are usual for what it is',
        ...having('pieces_per_square'),
      }),
      field.qty('exposure_in', 'Exposure', {
        places: 4,
        unit: () => 'in',
        hint: () => 'Of starter, the inches of the edge that a piece runs along',
        ...having('exposure_in'),
      }),
      field.qty('nails_each', 'Nails in each piece', {
        hint: () => 'Of underlayment, in each square; left empty, as many as are asked for',
        ...having('nails_each'),
      }),
      field.qty('free_area_sqin', 'Net free area of one', {
        places: 2,
        unit: () => 'sq in',
        hint: () => 'Of a foot where it is sold by the foot, else of a piece',
        ...having('free_area_sqin'),
      }),
      field.qty('cfm', 'Air that it moves', {
        unit: () => 'cu ft a minute',
        ...having('cfm'),
      }),
      field.text('product_line', 'Product line'),
      field.check('retired', 'Retired: kept for earlier jobs, no longer offered', {
        when: () => part !== undefined,
        wide: true,
      }),
    ],
    lists: [
      {
        name: 'colors',
        title: 'Colors it comes in',
        line: 'Color',
        add: () => 'Add a color',
        empty: 'No choice of colors.',
        blank: () => ({ color: '' }),
        fields: [needed(field.text('color', 'Color'), typeIt('Color'))],
      },
    ],
    start: ({ lists }) => ({
      fields: {
        name: part?.name ?? '',
        title: part?.title ?? '',
        item: part?.item ?? 'shingles',
        code: part?.code_id ?? lists.codes[0]?.id ?? '',
        cost_kind: part?.cost_kind ?? 'material',
        package: part?.package ?? '',
        covers: part?.covers ?? '',
        shingle: part?.shingle ?? '',
        pieces_per_square: part?.pieces_per_square ?? '',
        exposure_in: part?.exposure_in ?? '',
        nails_each: part?.nails_each ?? '',
        free_area_sqin: part?.free_area_sqin ?? '',
        product_line: part?.product_line ?? '',
        cfm: part?.cfm ?? '',
        retired: part?.retired ? 'yes' : '',
      },
      lists: { colors: (part?.colors ?? []).map((color) => ({ color })) },
    }),
    ...askedAbout(({ item, covers }) =>
      covers ? { item: item as Item, covers, hours: null, price: null } : undefined,
    ),
    facts: ({ fields: { far_off: _told, ...fields }, lists }, priced, id) => [
      fact('part', id(0), {
        ...saidOf(priced, fields),
        colors: (lists.colors ?? []).filter(({ color }) => color).map(({ color }) => ({ color })),
        retired: fields.retired === 'yes',
        revises: part?.id,
      }),
    ],
    says: ({ fields: { title } }) =>
      part ? `${title} is changed.` : `${title} is on the list. Give it a price next.`,
    undo: false,
  };
}

/** A new price of a part, where the part stands. */
export function priceForm(part: PartRow): Form {
  return {
    kind: 'part-price',
    title: `New price of ${part.title}`,
    record: 'Keep the price',
    fields: [
      field.choice(
        'vendor',
        'Vendor',
        ({ lists }) => lists.vendors.map(({ id, name }) => ({ value: id, label: name })),
        { none: 'The firm’s own price' },
      ),
      needed(field.rate('price', `Price of a ${part.package}`, { unit: () => '$' }), typeIt('Price')),
      from,
    ],
    start: ({ today }) => ({
      fields: { vendor: part.best?.vendor_id ?? '', date: today },
      lists: {},
    }),
    ...askedAbout(({ price }) =>
      price ? { item: part.item, covers: part.covers, price, hours: null } : undefined,
    ),
    facts: ({ fields: { far_off: _told, ...fields } }, _priced, id) => [
      fact('part-price', id(0), { ...fields, part: part.id }),
    ],
    says: ({ fields }) => `${part.title}: the new price counts from ${day(fields.date)} on.`,
    undo: false,
  };
}

const HEIGHTS: readonly Choice[] = [1, 2, 3, 4].map((stories) => ({
  value: String(stories),
  label: stories === 1 ? '1 story and more' : `${stories} stories and more`,
}));

/** Where one steepness ends and the next begins, by the recipe that estimates begin from. */
function slopes({ recipe_to_begin: recipe }: Rates): string {
  const { walkable_from, steep_from, very_steep_from } = recipe;
  return `In 12: walkable from ${walkable_from}, steep from ${steep_from}, very steep from ${very_steep_from}`;
}

/** How long work takes. `begins` is what stands in it at first. */
export function productionForm(begins: Partial<Line>): Form {
  return {
    kind: 'production-rate',
    title: 'A production rate',
    record: 'Keep the rate',
    fields: [
      { name: 'item', label: 'Part of the roof', kind: 'choice', required: true, ...items },
      needed(
        field.choice('steepness', 'Slope', choices(STEEPNESS), {
          hint: (_values, { rates }) => slopes(rates),
        }),
      ),
      needed(field.choice('stories', 'Height', HEIGHTS)),
      { ...code, label: 'Hours charged to the code' },
      needed(
        field.rate(
          'hours',
          (line, priced) => `Hours for one ${workedBy(measureOf(priced, line.item)) || 'measure'}`,
          {
            unit: () => 'h',
            hint: () => '0 where they are in the hours of another part',
          },
        ),
        typeIt('Hours'),
      ),
      from,
    ],
    start: ({ lists, today, rates }) => ({
      fields: {
        item: 'shingles',
        steepness: 'walkable',
        stories: '1',
        code: lists.codes[0]?.id ?? '',
        date: today,
        ...begins,
        ...(begins.hours ? { hours: shownHours(begins.hours, measureOf({ rates }, begins.item)) } : {}),
      },
      lists: {},
    }),
    ...askedAbout(({ item, hours }, { rates }) => {
      const kept = keptHours(hours ?? '', measureOf({ rates }, item));
      return kept ? { item: item as Item, hours: kept, covers: null, price: null } : undefined;
    }),
    facts: ({ fields: { far_off: _told, ...fields } }, { rates }, id) => [
      fact('production-rate', id(0), {
        ...fields,
        hours: keptHours(fields.hours ?? '', measureOf({ rates }, fields.item)),
        stories: Number.parseInt(fields.stories ?? '1', 10),
      }),
    ],
    says: ({ fields }) => `The rate counts from ${day(fields.date)} on.`,
    undo: false,
  };
}

export type Origin = 'code' | 'company';

export const by = (origin: Origin) => (origin === 'code' ? 'the code' : 'the company');

/** What the code or the company asks. */
export function standardForm(row: StandardRow | undefined, origin: Origin): FormSpec {
  const asked = row?.[origin];
  const value: FieldSpec =
    row?.unit === ''
      ? needed(
          field.choice('value', 'Asked for', () => [
            { value: '1', label: 'Yes' },
            { value: '0', label: 'No' },
          ]),
        )
      : needed(
          field.qty('value', 'How much', { unit: () => row?.unit, hint: () => '0 where nothing is asked' }),
          typeIt('How much'),
        );
  return {
    kind: 'standard',
    title: row ? `${row.title}: what ${by(origin)} asks` : '',
    record: 'Keep it',
    fields: [
      value,
      {
        name: 'source',
        label: 'Where it is written',
        kind: 'text',
        required: origin === 'code',
        missing: typeIt('Source'),
        hint: () =>
          origin === 'code' ? 'The section, as your building office gave it' : 'Why the company asks it',
      },
      needed(field.date('date', 'From this day on'), typeIt('From')),
    ],
    start: ({ today }) => ({
      fields: {
        value: asked?.value ?? (row?.unit === '' ? '1' : ''),
        source: asked?.source ?? '',
        date: today,
      },
      lists: {},
    }),
    facts: ({ fields }, _around, id) => [fact('standard', id(0), { topic: row?.topic, origin, ...fields })],
    says: ({ fields }) => `${row?.title}: counts from ${day(fields.date)} on.`,
    undo: false,
  };
}

/** A point of the checklist, new at the end of it or changed. */
export function pointForm(point: CheckPointRow | undefined, rates: Rates, last: number): FormSpec {
  return {
    kind: 'check-point',
    title: point ? 'Change a point' : 'A new point',
    record: point ? 'Keep the change' : 'Add',
    fields: [
      needed(
        field.text('words', 'What is looked at', {
          hint: () => 'So that two people would answer alike',
          wide: true,
        }),
        typeIt('What is looked at'),
      ),
      field.choice(
        'item',
        'Belongs to',
        () => rates.items.map((each) => ({ value: each.item, label: each.title })),
        { none: 'The whole job' },
      ),
      field.check('blocks', 'The completion packet waits for it'),
    ],
    start: () => ({
      fields: {
        words: point?.words ?? '',
        item: point?.item ?? '',
        blocks: (point?.blocks ?? true) ? 'yes' : '',
      },
      lists: {},
    }),
    facts: ({ fields }, _around, id) => [
      fact('check-point', id(0), {
        item: fields.item,
        words: fields.words?.trim(),
        blocks: fields.blocks === 'yes',
        position: point?.position ?? last + 1,
        retired: false,
        revises: point?.id,
      }),
    ],
    says: () => (point ? 'The point is changed.' : 'The point is on the list.'),
    undo: false,
  };
}
