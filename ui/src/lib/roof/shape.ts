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
import * as LABELS from '../bindings/Labels';
import type { Measured } from '../bindings/Measured';
import type { MeasuredEdge } from '../bindings/MeasuredEdge';
import type { MeasuredSection } from '../bindings/MeasuredSection';
import type { Place } from '../bindings/Place';
import type { Point as PlanPoint } from '../bindings/Point';
import type { Roof } from '../bindings/Roof';
import type { Section } from '../bindings/Section';
import type { Typed } from '../bindings/Typed';
import type { TypedEdge } from '../bindings/TypedEdge';
import { wordsOf } from '../forms/choices';

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

/** What a tap on the picture means. */
export interface Nearest {
  section: string;
  /** The edge's kind, where the tap was near one. */
  edge: EdgeKind | null;
  place: Place;
  /** `north`, `south-east`, … by the compass. */
  side: string;
}

/** An edge's letter is the key that names it. Ridge is G and headwall D, since R and H are taken. */
const EDGE_KEYS: Readonly<Record<EdgeKind, string>> = {
  eave: 'E',
  rake: 'R',
  valley: 'V',
  hip: 'H',
  ridge: 'G',
  wall: 'W',
  headwall: 'D',
  transition: 'T',
};

const FEATURE_KEYS: Readonly<Record<FeatureKind, string>> = {
  pipe: 'P',
  chimney: 'K',
  skylight: 'S',
  'wall-end': 'L',
  'old-vent': 'O',
};

export const EDGES = wordsOf(LABELS.EDGES).map((kind) => ({
  kind,
  word: LABELS.EDGES[kind].label,
  letter: EDGE_KEYS[kind],
  says: LABELS.EDGES[kind].about,
}));

export const FEATURES = wordsOf(LABELS.FEATURES).map((kind) => ({
  kind,
  word: LABELS.FEATURES[kind],
  letter: FEATURE_KEYS[kind],
}));

const USUAL_SIZE: Partial<Record<FeatureKind, [width: string, length: string]>> = {
  chimney: ['32', '24'],
  skylight: ['24', '48'],
};

export function edgeWord(kind: EdgeKind): string {
  return LABELS.EDGES[kind].label;
}

export function edgeLetter(kind: EdgeKind): string {
  return EDGE_KEYS[kind];
}

export function featureWord(kind: FeatureKind): string {
  return LABELS.FEATURES[kind];
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
      attic_floor_sqft: null,
      climate_zone: null,
      vapor_retarder: false,
      high_wind: false,
      cut_up: null,
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
