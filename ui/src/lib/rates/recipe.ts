/** How the firm builds, as a form asks it: one recipe, new or from a later day on. */

import type { CutUp } from '../bindings/CutUp';
import { CUT_UP, ITEMS, LININGS, SHINGLE_KINDS, VALLEYS, VENTS } from '../bindings/Labels';
import type { Recipe } from '../bindings/Recipe';
import type { RecipeRow } from '../bindings/RecipeRow';
import { fact } from '../facts';
import { percentOf, shareOf } from '../firm/settings';
import { choices, wordsOf } from '../forms/choices';
import { field, needed } from '../forms/fields';
import type { FieldSpec, FormSpec, Line } from '../forms/spec';
import { showDate } from '../kit/dates';
import { systemLocale } from '../kit/locale';
import {
  AIR,
  DECK,
  DOWNSPOUT,
  FLASHINGS,
  INCLUDED,
  MACHINE,
  OLD_ROOF,
  PIECES,
  ROLLS,
  SHINGLES,
  SLOPES,
  VALLEY_METAL,
  type Size,
} from '../recipe/sizes';
import { typeIt } from './spec';

const COUNTS = ['gutter_corners', 'permits'] as const;
const CHECKS = ['underlayment_over_barrier', 'masonry_walls', 'gutters'] as const;

function sized({ field: name, label, unit }: Size, more: Partial<FieldSpec> = {}): FieldSpec {
  return { ...needed(field.qty(name, label, { unit: () => unit }), typeIt(label)), ...more };
}

function count(name: string, label: string, more: Partial<FieldSpec> = {}): FieldSpec {
  return { ...needed(field.qty(name, label, { places: 0 }), typeIt(label)), ...more };
}

/** The sizes of a group, the first of them under its heading. */
function under(heading: string, fields: readonly FieldSpec[]): FieldSpec[] {
  return fields.map((each, place) => (place === 0 ? { ...each, heading } : each));
}

const hung: Partial<FieldSpec> = { when: ({ fields }) => fields.gutters === 'yes' };

const BUILT: readonly FieldSpec[] = [
  ...under(
    'How steep',
    SLOPES.map((each) =>
      each.field === 'steep_from'
        ? sized(each, { hint: () => 'The rise from which your crew no longer walks it' })
        : sized(each),
    ),
  ),
  ...under('Shingles and valleys', [
    needed(
      field.choice('shingle', 'Shingles', choices(SHINGLE_KINDS), {
        hint: () => 'What the part says of itself goes before it',
      }),
    ),
    ...SHINGLES.map((each) => sized(each)),
    field.qty('shingle_nails', 'Nails in each shingle', {
      hint: () => 'Left empty, as many as are asked for',
    }),
    ...PIECES.map((each) => sized(each)),
    needed(field.choice('valley', 'Valleys', choices(VALLEYS))),
    needed(field.choice('valley_lining', 'Closed valleys lined with', choices(LININGS))),
    ...VALLEY_METAL.map((each) => sized(each)),
  ]),
  ...under('Membrane and underlayment', [
    ...ROLLS.map((each) => sized(each)),
    field.qty('eave_rows', 'Rows of membrane at eaves', {
      places: 0,
      hint: () => 'Left empty, as many as reach far enough',
    }),
    field.check('underlayment_over_barrier', 'Underlayment runs on over the membrane', { wide: true }),
  ]),
  ...under('Edges and flashings', [
    ...FLASHINGS.map((each) => sized(each)),
    field.check('masonry_walls', 'Walls are of masonry: counter-flashing is cut in', { wide: true }),
  ]),
  ...under('Deck and attic', [
    sized(DECK),
    field.qty('vented_eave_ft', 'Eave that can be vented', {
      unit: () => 'ft',
      hint: () => 'Left empty, all of it',
    }),
    ...AIR.map((each) => sized(each)),
  ]),
  ...under(
    'The old roof',
    OLD_ROOF.map((each) => sized(each)),
  ),
  ...under('In the price', [
    ...INCLUDED.map((each) => sized(each)),
    count('permits', 'Permits'),
    sized(MACHINE),
    field.qty('insulation_depth_in', 'Attic insulation', {
      unit: () => 'in',
      hint: () => 'Depth wanted; left empty, none',
    }),
  ]),
  ...under('Gutters', [
    field.check('gutters', 'Gutters are hung along the eaves', { wide: true }),
    count('gutter_corners', 'Gutter corners', hung),
    field.qty('downspouts', 'Downspouts', {
      places: 0,
      hint: () => 'Left empty, as many as the gutters ask for',
      ...hung,
    }),
    ...DOWNSPOUT.map((each) => sized(each, hung)),
  ]),
];

/** A recipe as the form holds it. */
function fieldsOf(recipe: Recipe): Line {
  const texts: Line = {};
  for (const [name, value] of Object.entries(recipe)) {
    if (typeof value === 'string' || typeof value === 'number') texts[name] = String(value);
    if (typeof value === 'boolean') texts[name] = value ? 'yes' : '';
  }
  return {
    eave_rows: '',
    insulation_depth_in: '',
    shingle_nails: '',
    vented_eave_ft: '',
    downspouts: '',
    ...texts,
  };
}

function ventsOf({ exhaust, intake }: Recipe): Line[] {
  return [...exhaust, ...(intake ? [intake] : [])].map(({ vent, free_area_sqin, cfm, fixed }) => ({
    vent,
    free_area_sqin: vent === 'power-vent' ? '' : free_area_sqin,
    cfm: cfm ?? '',
    fixed: fixed ?? '',
  }));
}

const isPower = (line: Line) => line.vent === 'power-vent';
const byFoot = (line: Line) => line.vent === 'ridge-vent' || line.vent === 'intake';

/** A vent as the fact has it: a power vent goes by the air that it moves, any other by its free area. */
function ventIn(line: Line): Line {
  const { free_area_sqin = '', cfm = '', ...rest } = line;
  return isPower(line) ? { ...rest, cfm } : { ...rest, free_area_sqin };
}

/** A line for each item, with its waste on each kind of roof. */
function wasteOf({ waste }: Recipe): Line[] {
  const items = [...new Set(waste.map((each) => each.item))];
  return items.map((item) => {
    const of = (cutUp: CutUp) => waste.find((each) => each.item === item && each.cut_up === cutUp)?.share;
    return {
      item,
      ...Object.fromEntries(wordsOf(CUT_UP).map((value) => [value, percentOf(of(value) ?? '')])),
    };
  });
}

/** The waste that is typed, as the fact has it: what is left empty is none. */
function wasteIn(lines: readonly Line[]) {
  return lines.flatMap((line) =>
    wordsOf(CUT_UP)
      .filter((value) => line[value])
      .map((value) => ({
        item: line.item,
        cut_up: value,
        share: shareOf(line[value] ?? ''),
      })),
  );
}

/** A recipe of the firm's, new or as it is from a later day on. What it begins with stands in `from`. */
export function recipeForm(row: RecipeRow | undefined, from: Recipe | undefined): FormSpec {
  return {
    kind: 'recipe',
    title: row ? `How we build: ${row.name}` : 'A new recipe',
    record: row ? 'Keep the change' : 'Add',
    fields: [
      needed(
        field.text('name', 'Name', {
          hint: () => 'As you choose it for an estimate',
          when: () => row === undefined,
        }),
        typeIt('Name'),
      ),
      needed(field.date('date', 'From this day on'), typeIt('From')),
      field.check('usual', 'The usual one: estimates begin from it', { wide: true }),
      field.check('retired', 'Retired: kept for earlier jobs, no longer offered', {
        when: () => row !== undefined,
        wide: true,
      }),
      ...BUILT,
    ],
    lists: [
      {
        name: 'vents',
        title: 'New vents',
        line: 'Vent',
        add: () => 'Add a vent',
        empty: 'No vent is put in.',
        blank: () => ({ vent: 'box-vent', free_area_sqin: '', cfm: '', fixed: '' }),
        keepsBlank: true,
        fields: [
          needed(field.choice('vent', 'Vent', choices(VENTS))),
          needed(
            field.qty('free_area_sqin', 'Free area', {
              unit: (line) => (byFoot(line) ? 'sq in a ft' : 'sq in each'),
              when: (_values, _around, line) => !isPower(line),
            }),
            typeIt('Free area'),
          ),
          field.qty('cfm', 'Air that it moves', {
            unit: () => 'cu ft a minute',
            hint: () => 'The part’s own rating goes before it',
            when: (_values, _around, line) => isPower(line),
          }),
          field.qty('fixed', 'How much', {
            unit: (line) => (byFoot(line) ? 'ft' : 'pcs'),
            hint: () => 'Left empty, as much as is needed',
          }),
        ],
      },
      {
        name: 'waste',
        title: 'Waste, by how cut up the roof is',
        line: 'Waste',
        add: () => 'Add an item',
        empty: 'Nothing is wasted.',
        blank: () => ({ item: 'shingles', plain: '', some: '', much: '' }),
        fields: [
          needed(field.choice('item', 'Of', choices(ITEMS))),
          ...choices(CUT_UP).map(({ value, label }) => field.percent(value, label, { unmarked: true })),
        ],
      },
    ],
    start: ({ today }) => ({
      fields: {
        ...(from ? fieldsOf(from) : {}),
        name: row?.name ?? '',
        date: today,
        usual: row?.usual ? 'yes' : '',
        retired: row?.retired ? 'yes' : '',
      },
      lists: from ? { vents: ventsOf(from), waste: wasteOf(from) } : { vents: [], waste: [] },
    }),
    facts: ({ fields, lists }, _around, id) => [
      fact('recipe', id(0), {
        ...fields,
        name: row?.name ?? fields.name?.trim(),
        usual: fields.usual === 'yes',
        retired: fields.retired === 'yes',
        eave_rows: fields.eave_rows ? Number(fields.eave_rows) : undefined,
        ...Object.fromEntries(CHECKS.map((name) => [name, fields[name] === 'yes'])),
        ...Object.fromEntries(COUNTS.map((name) => [name, Number(fields[name] || '0')])),
        downspouts: fields.downspouts ? Number(fields.downspouts) : undefined,
        downspout_every_ft: fields.downspout_every_ft || from?.downspout_every_ft || '35',
        downspout_story_ft: fields.downspout_story_ft || '0',
        vents: (lists.vents ?? []).map(ventIn),
        waste: wasteIn(lists.waste ?? []),
      }),
    ],
    says: ({ fields }) =>
      `${row?.name ?? fields.name ?? ''} counts from ${showDate(fields.date ?? '', systemLocale())} on.`,
    undo: false,
  };
}
