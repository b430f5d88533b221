/**
 * The roof as it is drawn or typed, in the shapes that the program takes and gives. Inches, feet and square feet are
 * exact decimals as text; a plan has x to the right and y up the sheet.
 */

import type { Corner } from '../bindings/Corner';
import type { CutUp } from '../bindings/CutUp';
import type { DeckKind } from '../bindings/DeckKind';
import type { EdgeKind } from '../bindings/EdgeKind';
import type { Feature } from '../bindings/Feature';
import type { FeatureKind } from '../bindings/FeatureKind';
import type { House } from '../bindings/House';
import type { Measured } from '../bindings/Measured';
import type { MeasuredEdge } from '../bindings/MeasuredEdge';
import type { MeasuredSection } from '../bindings/MeasuredSection';
import type { Point as PlanPoint } from '../bindings/Point';
import type { Roof } from '../bindings/Roof';
import type { Section } from '../bindings/Section';
import type { Typed } from '../bindings/Typed';
import type { TypedEdge } from '../bindings/TypedEdge';

export type {
  Corner,
  CutUp,
  DeckKind,
  EdgeKind,
  Feature,
  FeatureKind,
  House,
  Measured,
  MeasuredEdge,
  MeasuredSection,
  PlanPoint,
  Roof,
  Section,
  Typed,
  TypedEdge,
};

/** What an old vent can be, among the parts of the roof. */
export type VentItem = 'ridge-vent' | 'box-vent' | 'turbine-vent' | 'power-vent' | 'intake';

/** Something that the program can't measure as it is drawn. */
export interface Problem {
  /** The section's name, where it concerns one. */
  section: string | null;
  /** Which edge of the section, counted from 1, where it concerns one. */
  edge: number | null;
  words: string;
}

/** Something marked on the picture: a hidden condition, mostly. */
export interface Pin {
  id: string;
  x_in: string;
  y_in: string;
  label: string;
  /** As the kit's status marks have it. */
  state: 'drafted' | 'waiting' | 'approved' | 'declined';
}

/** Where on a roof, in the words of a condition. */
export type PlaceWord =
  'field' | 'eave' | 'rake' | 'valley' | 'hip' | 'ridge' | 'roof-to-wall' | 'chimney' | 'skylight' | 'pipe';

/** What a tap on the picture means. */
export interface Nearest {
  section: string;
  /** The edge's kind, where the tap was near one. */
  edge: EdgeKind | null;
  place: PlaceWord;
  /** `north`, `south-east`, … by the compass. */
  side: string;
}

/** An edge's letter is the key that names it. Ridge is G and headwall D, since R and H are taken. */
export const EDGES: readonly { kind: EdgeKind; word: string; letter: string; says: string }[] = [
  { kind: 'eave', word: 'Eave', letter: 'E', says: 'the low edge, level' },
  { kind: 'rake', word: 'Rake', letter: 'R', says: 'a sloped edge in the open' },
  { kind: 'valley', word: 'Valley', letter: 'V', says: 'two sections meet and water runs in' },
  { kind: 'hip', word: 'Hip', letter: 'H', says: 'two sections meet and water runs off' },
  { kind: 'ridge', word: 'Ridge', letter: 'G', says: 'the high edge, level' },
  { kind: 'wall', word: 'Wall', letter: 'W', says: 'a sloped edge against a side wall' },
  { kind: 'headwall', word: 'Headwall', letter: 'D', says: 'a level high edge against a wall' },
  { kind: 'transition', word: 'Transition', letter: 'T', says: 'a level edge where the slope changes' },
];

export const FEATURES: readonly { kind: FeatureKind; word: string; letter: string }[] = [
  { kind: 'pipe', word: 'Pipe', letter: 'P' },
  { kind: 'chimney', word: 'Chimney', letter: 'K' },
  { kind: 'skylight', word: 'Skylight', letter: 'S' },
  { kind: 'wall-end', word: 'Wall end', letter: 'L' },
  { kind: 'old-vent', word: 'Old vent', letter: 'O' },
];

export const VENTS: readonly { value: VentItem; label: string }[] = [
  { value: 'ridge-vent', label: 'Ridge vent' },
  { value: 'box-vent', label: 'Box vent' },
  { value: 'turbine-vent', label: 'Turbine vent' },
  { value: 'power-vent', label: 'Power vent' },
  { value: 'intake', label: 'Intake' },
];

const USUAL_SIZE: Partial<Record<FeatureKind, [width: string, length: string]>> = {
  chimney: ['32', '24'],
  skylight: ['24', '48'],
};

export function edgeWord(kind: EdgeKind): string {
  return EDGES.find((edge) => edge.kind === kind)?.word ?? kind;
}

export function edgeLetter(kind: EdgeKind): string {
  return EDGES.find((edge) => edge.kind === kind)?.letter ?? '';
}

export function featureWord(kind: FeatureKind): string {
  return FEATURES.find((feature) => feature.kind === kind)?.word ?? kind;
}

/** A feature as it is put down: with the usual size of its kind, to be put right after. */
export function newFeature(kind: FeatureKind, at: PlanPoint | null, section: string | null): Feature {
  const [width, length] = USUAL_SIZE[kind] ?? [null, null];
  return {
    kind,
    section,
    at,
    width_in: width,
    length_in: length,
    count: 1,
    free_area_sqin: null,
    vent: kind === 'old-vent' ? 'box-vent' : null,
  };
}

/** A roof of which nothing is known, over the commonest house. */
export function newRoof(): Roof {
  return {
    sections: [],
    features: [],
    house: {
      stories: 1,
      deck: 'plywood',
      rafter_spacing_in: '24',
      overhang_in: '12',
      wall_thickness_in: '6',
      layers: 1,
      attic_floor_sqft: '0',
      climate_zone: null,
      vapor_retarder: false,
      high_wind: false,
      cut_up: 'plain',
      built_before_1978: false,
    },
  };
}

/** The first of "section 1", "section 2", … or of a name with a number after it that no section has yet. */
export function freeName(roof: Roof, wish = 'section', numbered = wish === 'section'): string {
  const taken = new Set(roof.sections.map((section) => section.name));
  if (!numbered && !taken.has(wish)) return wish;
  for (let number = numbered ? 1 : 2; ; number += 1) {
    const name = `${wish} ${number}`;
    if (!taken.has(name)) return name;
  }
}
