/** What a recipe asks, in the order in which a roof is built: for the firm's own recipes and for a choice alike. */

import type { Item } from '../bindings/Item';
import { LININGS, SHINGLE_KINDS, SHINGLE_SIZES, VALLEYS, VENTS } from '../bindings/Labels';
import type { Recipe } from '../bindings/Recipe';
import type { ShingleKind } from '../bindings/ShingleKind';
import { choices } from '../forms/choices';
import { field, needed } from '../forms/fields';
import { pathOf, type FieldSpec, type Line, type ListSpec, type Values } from '../forms/spec';

/** Whole numbers. */
const COUNTS = ['gutter_corners', 'permits'] as const;
const OPEN_COUNTS = ['eave_rows', 'downspouts'] as const;
const CHECKS = ['underlayment_over_barrier', 'masonry_walls', 'gutters'] as const;
/** What may be left open, beside the whole numbers. */
const OPEN = ['insulation_depth_in', 'shingle_nails', 'vented_eave_ft'] as const;

type Named = keyof Recipe;
type More = Partial<FieldSpec>;

const typed = (spec: FieldSpec): FieldSpec =>
  needed(spec, `${typeof spec.label === 'string' ? spec.label : spec.name}: type it.`);
const sized = (name: Named, label: string, unit: string, more: More = {}): FieldSpec =>
  typed(field.qty(name, label, { unit: () => unit, ...more }));
const count = (name: Named, label: string, more: More = {}): FieldSpec =>
  typed(field.qty(name, label, { places: 0, ...more }));
/** Left empty, the program finds it. */
const open = (name: Named, label: string, hint: string, more: More = {}): FieldSpec =>
  field.qty(name, label, { hint: () => hint, ...more });

const hung: More = { when: ({ fields }) => fields.gutters === 'yes' };

/** The fields of a group, the first of them under its heading. */
function under(heading: string, ...fields: readonly FieldSpec[]): FieldSpec[] {
  return fields.map((each, place) => (place === 0 ? { ...each, heading } : each));
}

export const RECIPE: readonly FieldSpec[] = [
  ...under(
    'How steep',
    sized('walkable_from', 'Walkable from', 'in 12'),
    sized('steep_from', 'Steep from', 'in 12', {
      hint: () => 'The rise from which your crew no longer walks it',
    }),
    sized('very_steep_from', 'Very steep from', 'in 12'),
  ),
  ...under(
    'Shingles and valleys',
    needed(
      field.choice('shingle', 'Shingles', choices(SHINGLE_KINDS), {
        hint: () => 'What the part says of itself goes before it',
      }),
    ),
    sized('exposure_in', 'Shingle exposure', 'in'),
    sized('cap_exposure_in', 'Cap exposure', 'in'),
    open('shingle_nails', 'Nails in each shingle', 'Left empty, as many as are asked for'),
    sized('shingles_per_square', 'Shingles in a square', 'pcs'),
    sized('starter_piece_in', 'Starter piece', 'in'),
    sized('starter_nails', 'Nails in a piece of starter', 'nails'),
    sized('cap_nails', 'Nails in a cap piece', 'nails'),
    sized('underlayment_nails', 'Nails in a square of underlayment', 'nails'),
    needed(field.choice('valley', 'Valleys', choices(VALLEYS))),
    needed(field.choice('valley_lining', 'Closed valleys lined with', choices(LININGS))),
    sized('valley_metal_width_in', 'Valley metal', 'in wide'),
    sized('valley_edge_strip_in', 'Strip over its edges', 'in wide'),
  ),
  ...under(
    'Membrane and underlayment',
    sized('barrier_roll_in', 'Membrane roll', 'in wide'),
    sized('barrier_lap_in', 'Membrane laps', 'in'),
    sized('underlayment_roll_in', 'Underlayment roll', 'in wide'),
    sized('underlayment_lap_in', 'Underlayment laps', 'in'),
    open('eave_rows', 'Rows of membrane at eaves', 'Left empty, as many as reach far enough', { places: 0 }),
    field.check('underlayment_over_barrier', 'Underlayment runs on over the membrane', { wide: true }),
  ),
  ...under(
    'Edges and flashings',
    sized('drip_edge_piece_ft', 'Drip edge piece', 'ft'),
    sized('flashing_piece_ft', 'Flashing piece', 'ft'),
    sized('flashing_lap_in', 'Flashing laps', 'in'),
    sized('step_flashing_side_in', 'Step flashing, each side', 'in'),
    sized('pipe_in', 'A pipe of no given size', 'in'),
    sized('opening_in', 'A chimney or skylight of no given size', 'in'),
    field.check('masonry_walls', 'Walls are of masonry: counter-flashing is cut in', { wide: true }),
  ),
  ...under(
    'Deck and attic',
    sized('deck_in', 'Deck sheets', 'in thick'),
    open('vented_eave_ft', 'Eave that can be vented', 'Left empty, all of it', { unit: () => 'ft' }),
    sized('power_cfm_per_sqft', 'Power vents move', 'cu ft a minute for a sq ft of attic'),
    sized('intake_cfm_per_sqft', 'A sq ft of intake lets in', 'cu ft a minute'),
  ),
  ...under(
    'The old roof',
    sized('layer_lb_per_square', 'A layer of the old roof weighs', 'lb a sq'),
    sized('layer_yards_per_square', 'A layer of the old roof fills', 'cu yd a sq'),
    sized('container_tons', 'Container carries', 'tons'),
    sized('container_yards', 'Container holds', 'cu yd'),
  ),
  ...under(
    'In the price',
    sized('included_sheets', 'Deck sheets in the price', 'sheets'),
    sized('included_board_ft', 'Deck board in the price', 'ft'),
    count('permits', 'Permits'),
    sized('machine_days', 'Lift or other machine', 'days'),
    open('insulation_depth_in', 'Attic insulation', 'Depth wanted; left empty, none', { unit: () => 'in' }),
  ),
  ...under(
    'Gutters',
    field.check('gutters', 'Gutters are hung along the eaves', { wide: true }),
    count('gutter_corners', 'Gutter corners', hung),
    open('downspouts', 'Downspouts', 'Left empty, as many as the gutters ask for', { places: 0, ...hung }),
    sized('downspout_every_ft', 'A downspout drains', 'ft of gutter', hung),
    sized('downspout_story_ft', 'A downspout, each story', 'ft', hung),
  ),
];

const isPower = (line: Line) => line.vent === 'power-vent';
const byFoot = (line: Line) => VENTS[line.vent as Item]?.unit === 'ft';

export const VENT_LIST: ListSpec = {
  name: 'vents',
  title: 'New vents',
  line: 'Vent',
  add: () => 'Add a vent',
  empty: 'No vent is put in.',
  blank: () => ventLine('box-vent'),
  keepsBlank: true,
  fields: [
    needed(field.choice('vent', 'Vent', choices(VENTS))),
    typed(
      field.qty('free_area_sqin', 'Free area', {
        unit: (line) => (byFoot(line) ? 'sq in a ft' : 'sq in each'),
        hint: () => 'The part’s own rating goes before it',
        when: (_values, _around, line) => !isPower(line),
      }),
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
};

/** A vent as one is usually rated: the part's own rating goes before it. */
function ventLine(vent: Item): Line {
  const area = VENTS[vent]?.free_area_sqin ?? '';
  return { vent, free_area_sqin: vent === 'power-vent' ? '' : area, cfm: '', fixed: '' };
}

/** What follows from a change: another kind of shingle or vent begins with its own figures. */
export function recipeChanged(values: Values, path: string): void {
  const { fields, lists } = values;
  if (path === 'shingle') Object.assign(fields, SHINGLE_SIZES[fields.shingle as ShingleKind]);
  const at = pathOf(path);
  const line = at?.list === 'vents' && at.name === 'vent' ? lists.vents?.[at.index] : undefined;
  if (line) Object.assign(line, ventLine(line.vent as Item));
}

/** A recipe as a form holds it. */
export function fieldsOf(recipe: Recipe): Line {
  return Object.fromEntries(
    RECIPE.map(({ name }) => {
      const value = recipe[name as keyof Recipe] as string | number | boolean | null;
      return [name, typeof value === 'boolean' ? (value ? 'yes' : '') : String(value ?? '')];
    }),
  );
}

export function ventsOf({ exhaust, intake }: Recipe): Line[] {
  return [...exhaust, ...(intake ? [intake] : [])].map(({ vent, free_area_sqin, cfm, fixed }) => ({
    vent,
    free_area_sqin: vent === 'power-vent' ? '' : free_area_sqin,
    cfm: cfm ?? '',
    fixed: fixed ?? '',
  }));
}

/** The typed fields as a recipe has them: what may be left open is absent while it is. */
export function recipeIn(fields: Line): Partial<Recipe> {
  const named = Object.fromEntries(RECIPE.map(({ name }) => [name, fields[name] || '0']));
  const each = <Name extends string>(names: readonly Name[], read: (text: string) => unknown) =>
    Object.fromEntries(names.map((name) => [name, read(fields[name] ?? '')]));
  return {
    ...named,
    ...each(OPEN, (text) => text || null),
    ...each(OPEN_COUNTS, (text) => (text === '' ? null : Number(text))),
    ...each(COUNTS, (text) => Number(text || '0')),
    ...each(CHECKS, (text) => text === 'yes'),
  };
}

/** A vent as it is recorded: a power vent goes by the air that it moves, any other by its free area. */
export function ventIn(line: Line): Line {
  const { free_area_sqin = '', cfm = '', ...rest } = line;
  return isPower(line) ? { ...rest, cfm } : { ...rest, free_area_sqin };
}

/** The typed vents as a recipe has them: exhaust, and one intake. */
export function ventsIn(lines: readonly Line[]): Pick<Recipe, 'exhaust' | 'intake'> {
  const vents = lines.map((line) => ({
    vent: line.vent as Item,
    free_area_sqin: line.free_area_sqin || '0',
    cfm: line.cfm || null,
    fixed: line.fixed || null,
  }));
  const isIntake = ({ vent }: { vent: Item }) => VENTS[vent]?.level === 'intake';
  return { exhaust: vents.filter((each) => !isIntake(each)), intake: vents.find(isIntake) ?? null };
}
