/** What a place on the picture is called: near which edge or feature, on which section, and on which side. */

import { PLACES } from '../bindings/Labels';
import {
  boxOfRoof,
  compass,
  distance,
  type Edge,
  edgesOf,
  inside,
  inward,
  middle,
  nearest,
  onto,
  type Point,
  pointOf,
  pointsOf,
  rises,
  sectionAt,
} from './plan';
import type { Place } from '../bindings/Place';
import { inSentence } from '../forms/choices';
import type { EdgeKind, Feature, Nearest, Roof } from './shape';

/** A transition is field on both sides: finds have no word of their own for it. */
const PLACE_OF: Record<EdgeKind, Place> = {
  eave: 'eave',
  rake: 'rake',
  valley: 'valley',
  hip: 'hip',
  ridge: 'ridge',
  wall: 'roof-to-wall',
  headwall: 'roof-to-wall',
  transition: 'field',
};

const PLACE_OF_FEATURE: Partial<Record<Feature['kind'], Place>> = {
  chimney: 'chimney',
  skylight: 'skylight',
  pipe: 'pipe',
  'wall-end': 'roof-to-wall',
};

/** The way that a section's water runs, by the compass; unknown, the way it lies from the roof's middle. */
function faces(roof: Roof, index: number, north: number): string {
  const section = roof.sections[index];
  const up = section && rises(section);
  if (up) return compass({ x: -up.x, y: -up.y }, north);
  return section ? fromMiddle(roof, inside(pointsOf(section)), north) : '';
}

function middleOf(roof: Roof): Point {
  const box = boxOfRoof(roof);
  return box ? { x: (box.left + box.right) / 2, y: (box.bottom + box.top) / 2 } : { x: 0, y: 0 };
}

function fromMiddle(roof: Roof, at: Point, north: number): string {
  const from = middleOf(roof);
  return compass({ x: at.x - from.x, y: at.y - from.y }, north);
}

/**
 * The side of an edge: eave, ridge and headwall lie on the side that their section faces; rake and wall on the side
 * that they look out to; valley and hip, which belong to two, where they lie from the roof's middle.
 */
function sideOf(roof: Roof, edge: Edge, north: number): string {
  if (edge.kind === 'rake' || edge.kind === 'wall') {
    const section = roof.sections[edge.section];
    const into = section ? inward(pointsOf(section), edge.edge) : { x: 0, y: 0 };
    return compass({ x: -into.x, y: -into.y }, north);
  }
  if (edge.kind === 'valley' || edge.kind === 'hip') {
    const at = middle(edge.from, edge.to);
    if (distance(at, middleOf(roof)) > 24) return fromMiddle(roof, at, north);
  }
  return faces(roof, edge.section, north);
}

function featureAt(roof: Roof, at: Point, reach: number): Feature | undefined {
  return nearest(
    roof.features.filter((each) => each.at && PLACE_OF_FEATURE[each.kind]),
    (each) => {
      const middle = each.at ? pointOf(each.at) : at;
      const [wide, long] = [Number(each.width_in ?? 0) / 2, Number(each.length_in ?? 0) / 2];
      return Math.hypot(
        Math.max(0, Math.abs(at.x - middle.x) - wide),
        Math.max(0, Math.abs(at.y - middle.y) - long),
      );
    },
    reach,
  );
}

/** What a place means, or undefined where it is off the roof. `reach` is how near an edge counts, in inches. */
export function placeAt(roof: Roof, at: Point, reach = 24, north = 0): Nearest | undefined {
  const on = sectionAt(roof, at);
  const edges = edgesOf(roof, on);
  const near = nearest(edges, (edge) => distance(at, onto(at, edge.from, edge.to)), reach);
  const index = on ?? near?.section;
  const section = index === undefined ? undefined : roof.sections[index];
  if (index === undefined || !section) return undefined;
  const feature = featureAt(roof, at, reach / 2);
  if (feature) {
    const place = PLACE_OF_FEATURE[feature.kind] ?? 'field';
    return { section: section.name, edge: null, place, side: faces(roof, index, north) };
  }
  if (!near) return { section: section.name, edge: null, place: 'field', side: faces(roof, index, north) };
  return {
    section: section.name,
    edge: near.kind,
    place: PLACE_OF[near.kind],
    side: sideOf(roof, near, north),
  };
}

/** Every place that can be chosen without the picture, with where it is. */
export function placesOf(roof: Roof, north = 0): { at: Point; nearest: Nearest; label: string }[] {
  const fields = roof.sections.flatMap((section, index) =>
    section.outline.length < 3
      ? []
      : [
          {
            at: inside(pointsOf(section)),
            nearest: {
              section: section.name,
              edge: null,
              place: 'field' as const,
              side: faces(roof, index, north),
            },
            label: `${section.name}: field`,
          },
        ],
  );
  const edges = edgesOf(roof)
    .filter((edge) => edge.kind !== 'transition')
    .map((edge) => {
      const section = roof.sections[edge.section]?.name ?? '';
      const place = PLACE_OF[edge.kind];
      const side = sideOf(roof, edge, north);
      return {
        at: middle(edge.from, edge.to),
        nearest: { section, edge: edge.kind, place, side },
        label: `${section}: ${inSentence(PLACES[place])}, ${side}`,
      };
    });
  const features = roof.features.flatMap((feature) => {
    const place = PLACE_OF_FEATURE[feature.kind];
    if (!feature.at || !place) return [];
    const at = pointOf(feature.at);
    const found = placeAt(roof, at, 24, north);
    const section = feature.section ?? found?.section;
    if (!section || feature.kind === 'wall-end') return [];
    return [
      {
        at,
        nearest: { section, edge: null, place, side: found?.side ?? '' },
        label: `${section}: ${inSentence(PLACES[place])}`,
      },
    ];
  });
  return [...fields, ...edges, ...features];
}
