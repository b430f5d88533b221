/** What a recipe asks, in the order in which a roof is built: for the firm's own recipes and for a choice alike. */

import type { Recipe } from '../bindings/Recipe';
import type { ShingleKind } from '../bindings/ShingleKind';

/** Fields that hold a decimal. */
export type Sized = { [K in keyof Recipe]: Recipe[K] extends string ? K : never }[keyof Recipe];
export type Size = {
  field: Exclude<Sized, 'valley' | 'valley_lining' | 'shingle'>;
  label: string;
  unit: string;
};

/** The facts of a kind of shingle, as a start; the part's own go before them. */
export const SHINGLE_FACTS: Partial<Record<ShingleKind, Partial<Recipe>>> = {
  laminated: { shingles_per_square: '65', exposure_in: '5.625' },
  strip: { shingles_per_square: '80', exposure_in: '5' },
};

export const SLOPES: readonly Size[] = [
  { field: 'walkable_from', label: 'Walkable from', unit: 'in 12' },
  { field: 'steep_from', label: 'Steep from', unit: 'in 12' },
  { field: 'very_steep_from', label: 'Very steep from', unit: 'in 12' },
];

export const SHINGLES: readonly Size[] = [
  { field: 'exposure_in', label: 'Shingle exposure', unit: 'in' },
  { field: 'cap_exposure_in', label: 'Cap exposure', unit: 'in' },
];

/** Pieces and their nails: the part's own go before them. */
export const PIECES: readonly Size[] = [
  { field: 'shingles_per_square', label: 'Shingles in a square', unit: 'pcs' },
  { field: 'starter_piece_in', label: 'Starter piece', unit: 'in' },
  { field: 'starter_nails', label: 'Nails in a piece of starter', unit: 'nails' },
  { field: 'cap_nails', label: 'Nails in a cap piece', unit: 'nails' },
  { field: 'underlayment_nails', label: 'Nails in a square of underlayment', unit: 'nails' },
];

export const DECK: Size = { field: 'deck_in', label: 'Deck sheets', unit: 'in thick' };

/** The air that power vents move. */
export const AIR: readonly Size[] = [
  { field: 'power_cfm_per_sqft', label: 'Power vents move', unit: 'cu ft a minute for a sq ft of attic' },
  { field: 'intake_cfm_per_sqft', label: 'A sq ft of intake lets in', unit: 'cu ft a minute' },
];

export const VALLEY_METAL: readonly Size[] = [
  { field: 'valley_metal_width_in', label: 'Valley metal', unit: 'in wide' },
  { field: 'valley_edge_strip_in', label: 'Strip over its edges', unit: 'in wide' },
];

export const ROLLS: readonly Size[] = [
  { field: 'barrier_roll_in', label: 'Membrane roll', unit: 'in wide' },
  { field: 'barrier_lap_in', label: 'Membrane laps', unit: 'in' },
  { field: 'underlayment_roll_in', label: 'Underlayment roll', unit: 'in wide' },
  { field: 'underlayment_lap_in', label: 'Underlayment laps', unit: 'in' },
];

export const FLASHINGS: readonly Size[] = [
  { field: 'drip_edge_piece_ft', label: 'Drip edge piece', unit: 'ft' },
  { field: 'flashing_piece_ft', label: 'Flashing piece', unit: 'ft' },
  { field: 'flashing_lap_in', label: 'Flashing laps', unit: 'in' },
  { field: 'step_flashing_side_in', label: 'Step flashing, each side', unit: 'in' },
  { field: 'pipe_in', label: 'A pipe of no given size', unit: 'in' },
  { field: 'opening_in', label: 'A chimney or skylight of no given size', unit: 'in' },
];

export const OLD_ROOF: readonly Size[] = [
  { field: 'layer_lb_per_square', label: 'A layer of the old roof weighs', unit: 'lb a sq' },
  { field: 'layer_yards_per_square', label: 'A layer of the old roof fills', unit: 'cu yd a sq' },
  { field: 'container_tons', label: 'Container carries', unit: 'tons' },
  { field: 'container_yards', label: 'Container holds', unit: 'cu yd' },
];

export const INCLUDED: readonly Size[] = [
  { field: 'included_sheets', label: 'Deck sheets in the price', unit: 'sheets' },
  { field: 'included_board_ft', label: 'Deck board in the price', unit: 'ft' },
];

export const MACHINE: Size = { field: 'machine_days', label: 'Lift or other machine', unit: 'days' };

export const DOWNSPOUT: readonly Size[] = [
  { field: 'downspout_every_ft', label: 'A downspout drains', unit: 'ft of gutter' },
  { field: 'downspout_story_ft', label: 'A downspout, each story', unit: 'ft' },
];
