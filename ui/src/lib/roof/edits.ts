/** Every change to a roof's drawing, as a function from one roof to the next. What was is left as it was. */

import { guessAlone, guessEdges } from './guess';
import { cornerOf, middle, planPoint, type Point, pointOf, pointsOf, same, sectionAt, turn } from './plan';
import {
  type Corner,
  type EdgeKind,
  type Feature,
  type FeatureKind,
  freeName,
  newFeature,
  type Roof,
  type Section,
} from './shape';

export function changeSection(roof: Roof, index: number, change: Partial<Section>): Roof {
  const was = roof.sections[index];
  if (!was) return roof;
  const sections = roof.sections.map((section, at) => (at === index ? { ...section, ...change } : section));
  // What stands on a section goes with its name.
  const renamed = change.name !== undefined && change.name !== was.name;
  const features = renamed
    ? roof.features.map((each) =>
        each.section === was.name ? { ...each, section: change.name ?? null } : each,
      )
    : roof.features;
  return { ...roof, sections, features };
}

/** Closes an outline into a section with its edges guessed. Undefined where nothing is enclosed. */
export function addSection(roof: Roof, points: readonly Point[]): Roof | undefined {
  if (points.length < 3 || Math.abs(turn(points)) < 2) return undefined;
  const section: Section = {
    name: freeName(roof),
    slope: roof.sections.findLast((each) => each.outline.length > 0)?.slope ?? '6',
    outline: points.map((point) => cornerOf(point, 'rake')),
    typed: null,
  };
  const next = { ...roof, sections: [...roof.sections, section] };
  return guessEdges(next, next.sections.length - 1);
}

export function removeSection(roof: Roof, index: number): Roof {
  const name = roof.sections[index]?.name;
  return {
    ...roof,
    sections: roof.sections.filter((_, at) => at !== index),
    features: roof.features.map((each) => (each.section === name ? { ...each, section: null } : each)),
  };
}

function changeOutline(roof: Roof, index: number, change: (outline: readonly Corner[]) => Corner[]): Roof {
  const section = roof.sections[index];
  return section ? changeSection(roof, index, { outline: change(section.outline) }) : roof;
}

/** One slope for every section that is drawn or typed. */
export function slopeAll(roof: Roof, slope: string): Roof {
  return { ...roof, sections: roof.sections.map((section) => ({ ...section, slope })) };
}

/**
 * Names an edge. Where a section was drawn from its ridge, its ridge was guessed to be the eave: once the edge that was
 * guessed to be the ridge is named the eave, all is guessed anew from there.
 */
export function nameEdge(roof: Roof, index: number, edge: number, kind: EdgeKind): Roof {
  const section = roof.sections[index];
  const guessed = section && guessAlone(pointsOf(section));
  const asGuessed = guessed?.every((each, at) => each === section?.outline[at]?.edge);
  if (section && asGuessed && kind === 'eave' && guessed?.[edge] === 'ridge') {
    const outline = [...section.outline.slice(edge), ...section.outline.slice(0, edge)];
    return guessEdges(changeSection(roof, index, { outline }), index);
  }
  return changeOutline(roof, index, (outline) =>
    outline.map((corner, at) => (at === edge ? { ...corner, edge: kind } : corner)),
  );
}

/** Moves a corner, and with it the corner of every section that meets there. */
export function moveCorner(roof: Roof, index: number, corner: number, to: Point): Roof {
  const was = roof.sections[index]?.outline[corner];
  if (!was) return roof;
  const from = pointOf(was);
  return {
    ...roof,
    sections: roof.sections.map((section, at) => ({
      ...section,
      outline: section.outline.map((each, place) =>
        (at === index ? place === corner : same(pointOf(each), from)) ? { ...each, ...planPoint(to) } : each,
      ),
    })),
  };
}

/** Takes a corner out; a section of three keeps its three. */
export function removeCorner(roof: Roof, index: number, corner: number): Roof {
  return changeOutline(roof, index, (outline) =>
    outline.length > 3 ? outline.filter((_, at) => at !== corner) : [...outline],
  );
}

/** A new corner in the middle of an edge; both halves keep its kind. */
export function splitEdge(roof: Roof, index: number, edge: number): Roof {
  return changeOutline(roof, index, (outline) => {
    const [from, to] = [outline[edge], outline[(edge + 1) % outline.length]];
    if (!from || !to) return [...outline];
    const added = cornerOf(middle(pointOf(from), pointOf(to)), from.edge);
    return [...outline.slice(0, edge + 1), added, ...outline.slice(edge + 1)];
  });
}

function nameAt(roof: Roof, at: Point): string | null {
  const index = sectionAt(roof, at);
  return index === undefined ? null : (roof.sections[index]?.name ?? null);
}

export function addFeature(roof: Roof, kind: FeatureKind, at: Point | null): Roof {
  const feature = newFeature(kind, at && planPoint(at), at && nameAt(roof, at));
  return { ...roof, features: [...roof.features, feature] };
}

export function changeFeature(roof: Roof, index: number, change: Partial<Feature>): Roof {
  return {
    ...roof,
    features: roof.features.map((each, at) => (at === index ? { ...each, ...change } : each)),
  };
}

/** Moves a feature; where it comes to stand on another section, it belongs to that one. */
export function moveFeature(roof: Roof, index: number, to: Point): Roof {
  const section = nameAt(roof, to) ?? roof.features[index]?.section ?? null;
  return changeFeature(roof, index, { at: planPoint(to), section });
}

export function removeFeature(roof: Roof, index: number): Roof {
  return { ...roof, features: roof.features.filter((_, at) => at !== index) };
}
