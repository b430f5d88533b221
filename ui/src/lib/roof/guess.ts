/**
 * What the edges of a section that was just closed most likely are. A guess saves typing and is never kept from the
 * person: every edge can be named otherwise.
 *
 * The section is drawn from its eave: the first edge is one, and the section rises from it. Then, edge by edge:
 * - shared with another section: where it is level, ridge if both fall away from it, transition if one goes on where
 *   the other ends, eave if both rise; where it is sloped, valley if both rise away from it, hip if both fall away;
 * - level and as low as the first: eave; level and higher: ridge;
 * - straight up the slope: rake; across it: hip where the section narrows upwards, valley where it widens.
 */

import { distance, inward, type Point, pointsOf, rises } from './plan';
import type { EdgeKind, Roof, Section } from './shape';

/** Two directions that differ by less than a degree or so are one. */
const STRAIGHT = 0.02;

/** How far from a line a corner may lie and still be on it, in inches. */
const ON_LINE_IN = 0.5;

const dot = (a: Point, b: Point) => a.x * b.x + a.y * b.y;

interface Side {
  from: Point;
  to: Point;
  into: Point;
  /** How the section goes up or down from the edge inwards: 1 straight up, −1 straight down, 0 along it. */
  away: number;
}

function sidesOf(points: readonly Point[], up: Point): Side[] {
  return points.map((from, index) => {
    const into = inward(points, index);
    return { from, to: points[(index + 1) % points.length] ?? from, into, away: dot(into, up) };
  });
}

/** What an edge is that no other section shares. */
function alone(side: Side, first: Side, up: Point): EdgeKind {
  if (1 - Math.abs(side.away) < STRAIGHT * STRAIGHT) {
    const higher = dot({ x: side.from.x - first.from.x, y: side.from.y - first.from.y }, up);
    return side.away > 0 || higher < ON_LINE_IN ? 'eave' : 'ridge';
  }
  if (Math.abs(side.away) < STRAIGHT) return 'rake';
  return side.away < 0 ? 'hip' : 'valley';
}

/** What an edge is that two sections share. */
function between(ours: Side, theirs: Side): EdgeKind {
  const level = [ours, theirs].every((side) => 1 - Math.abs(side.away) < STRAIGHT * STRAIGHT);
  if (ours.away < -STRAIGHT && theirs.away < -STRAIGHT) return level ? 'ridge' : 'hip';
  if (ours.away > STRAIGHT && theirs.away > STRAIGHT) return level ? 'eave' : 'valley';
  return level ? 'transition' : 'rake';
}

/** How much of `ours` lies along `theirs`, from 0 to 1. */
export function shared(ours: { from: Point; to: Point }, theirs: { from: Point; to: Point }): number {
  const long = distance(ours.from, ours.to);
  if (long === 0 || distance(theirs.from, theirs.to) === 0) return 0;
  const way = { x: (ours.to.x - ours.from.x) / long, y: (ours.to.y - ours.from.y) / long };
  const along = (at: Point) => dot({ x: at.x - ours.from.x, y: at.y - ours.from.y }, way);
  const off = (at: Point) => Math.abs((at.x - ours.from.x) * way.y - (at.y - ours.from.y) * way.x);
  if (off(theirs.from) > ON_LINE_IN || off(theirs.to) > ON_LINE_IN) return 0;
  const [low, high] = [along(theirs.from), along(theirs.to)].sort((a, b) => a - b) as [number, number];
  return Math.max(0, Math.min(long, high) - Math.max(0, low)) / long;
}

/** The kinds that a section's edges would be guessed to be if it stood alone. */
export function guessAlone(points: readonly Point[]): EdgeKind[] {
  const up = inward(points, 0);
  const sides = sidesOf(points, up);
  const [first] = sides;
  return first ? sides.map((side, index) => (index === 0 ? 'eave' : alone(side, first, up))) : [];
}

/**
 * Names the edges of one section, and of its neighbors where they meet it and still have the name that they were first
 * guessed to have.
 */
export function guessEdges(roof: Roof, index: number): Roof {
  const section = roof.sections[index];
  if (!section || section.outline.length < 3) return roof;
  const points = pointsOf(section);
  const kinds = guessAlone(points);
  const sides = sidesOf(points, inward(points, 0));
  const sections = roof.sections.map((other, at) => {
    if (at === index) return other;
    return meeting(other, sides, kinds);
  });
  const outline = section.outline.map((corner, edge) => ({ ...corner, edge: kinds[edge] ?? corner.edge }));
  sections[index] = { ...section, outline };
  return { ...roof, sections };
}

/** A neighbor with the edges that it shares named anew; what the new section's edges are is written into `kinds`. */
function meeting(other: Section, sides: readonly Side[], kinds: EdgeKind[]): Section {
  const up = rises(other);
  if (!up) return other;
  const points = pointsOf(other);
  const theirs = sidesOf(points, up);
  const first = guessAlone(points);
  let changed = false;
  const outline = other.outline.map((corner, edge) => {
    const their = theirs[edge];
    if (!their) return corner;
    let kind = corner.edge;
    sides.forEach((our, mine) => {
      const [ofOurs, ofTheirs] = [shared(our, their), shared(their, our)];
      if (ofOurs === 0 || dot(our.into, their.into) > 0) return;
      const met = between(our, their);
      // The first edge stays the eave that it was drawn as, unless the slope goes on below it.
      if (ofOurs >= 0.5 && (mine > 0 || met === 'transition' || met === 'valley')) kinds[mine] = met;
      if (ofTheirs >= 0.5 && corner.edge === first[edge]) kind = met;
    });
    changed ||= kind !== corner.edge;
    return kind === corner.edge ? corner : { ...corner, edge: kind };
  });
  return changed ? { ...other, outline } : other;
}
