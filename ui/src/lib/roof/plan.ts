/**
 * Geometry of the plan, for drawing only: where things are on the sheet and what is near. Areas and true lengths are
 * the program's.
 */

import { decimalOf } from './length';
import type { Corner, EdgeKind, PlanPoint, Roof, Section } from './shape';

/** A place on the plan in inches. */
export interface Point {
  x: number;
  y: number;
}

export interface Box {
  left: number;
  right: number;
  bottom: number;
  top: number;
}

/** An edge of a section, with where it is. */
export interface Edge {
  section: number;
  edge: number;
  kind: EdgeKind;
  from: Point;
  to: Point;
}

/** Two places nearer than this are one: less than can be drawn. */
export const SAME_IN = 0.01;

export function pointOf(at: PlanPoint): Point {
  return { x: Number(at.x_in), y: Number(at.y_in) };
}

export function planPoint(at: Point): PlanPoint {
  return { x_in: decimalOf(at.x), y_in: decimalOf(at.y) };
}

export function cornerOf(at: Point, edge: EdgeKind): Corner {
  return { ...planPoint(at), edge };
}

export function pointsOf(section: Section): Point[] {
  return section.outline.map(pointOf);
}

export function distance(a: Point, b: Point): number {
  return Math.hypot(b.x - a.x, b.y - a.y);
}

export function same(a: Point, b: Point): boolean {
  return distance(a, b) < SAME_IN;
}

export function middle(a: Point, b: Point): Point {
  return { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 };
}

export function edgesOf(roof: Roof, only?: number): Edge[] {
  return roof.sections.flatMap((section, index) => {
    if (only !== undefined && only !== index) return [];
    const points = pointsOf(section);
    return section.outline.flatMap((corner, edge) => {
      const [from, to] = [points[edge], points[(edge + 1) % points.length]];
      return from && to ? [{ section: index, edge, kind: corner.edge, from, to }] : [];
    });
  });
}

/** Twice the area inside, more than nothing where the corners go against the clock. */
export function turn(points: readonly Point[]): number {
  return points.reduce((sum, point, index) => {
    const next = points[(index + 1) % points.length] ?? point;
    return sum + point.x * next.y - next.x * point.y;
  }, 0);
}

/** The point of balance, or the mean of the corners where nothing is enclosed. */
export function center(points: readonly Point[]): Point {
  const twice = turn(points);
  if (Math.abs(twice) < 1) {
    const count = Math.max(1, points.length);
    return {
      x: points.reduce((sum, point) => sum + point.x, 0) / count,
      y: points.reduce((sum, point) => sum + point.y, 0) / count,
    };
  }
  const sum = points.reduce(
    (so, point, index) => {
      const next = points[(index + 1) % points.length] ?? point;
      const cross = point.x * next.y - next.x * point.y;
      return { x: so.x + (point.x + next.x) * cross, y: so.y + (point.y + next.y) * cross };
    },
    { x: 0, y: 0 },
  );
  return { x: sum.x / (3 * twice), y: sum.y / (3 * twice) };
}

/**
 * A place well inside, for words: the center, unless it lies outside or something stands close to it. Then the place
 * of a coarse search that is farthest from the edges and from what stands there.
 */
export function inside(points: readonly Point[], avoid: readonly Point[] = []): Point {
  const balance = center(points);
  const box = boxOf(points);
  const close = Math.min(72, (box.right - box.left) / 4, (box.top - box.bottom) / 4);
  if (holds(points, balance) && avoid.every((one) => distance(one, balance) > close)) return balance;
  let best = balance;
  let depth = -1;
  for (let column = 1; column < 16; column += 1) {
    for (let row = 1; row < 16; row += 1) {
      const at = {
        x: box.left + ((box.right - box.left) * column) / 16,
        y: box.bottom + ((box.top - box.bottom) * row) / 16,
      };
      if (!holds(points, at)) continue;
      const edges = points.map((point, index) =>
        distance(at, onto(at, point, points[(index + 1) % points.length] ?? point)),
      );
      const near = Math.min(...edges, ...avoid.map((one) => distance(one, at)));
      if (near > depth) [best, depth] = [at, near];
    }
  }
  return best;
}

/** Where a section's name is written: clear of its edges, of what stands on the roof and of what is marked there. */
export function nameAt(roof: Roof, section: Section, marked: readonly Point[] = []): Point {
  const features = roof.features.flatMap((feature) => (feature.at ? [pointOf(feature.at)] : []));
  return inside(pointsOf(section), [...features, ...marked]);
}

export function holds(points: readonly Point[], at: Point): boolean {
  let within = false;
  points.forEach((a, index) => {
    const b = points[(index + 1) % points.length] ?? a;
    if (a.y > at.y !== b.y > at.y && at.x < ((b.x - a.x) * (at.y - a.y)) / (b.y - a.y) + a.x)
      within = !within;
  });
  return within;
}

/** The section whose inside holds a place. */
export function sectionAt(roof: Roof, at: Point): number | undefined {
  const found = roof.sections.findIndex((section) => holds(pointsOf(section), at));
  return found === -1 ? undefined : found;
}

/** The nearest place on the line from `a` to `b`. */
export function onto(at: Point, a: Point, b: Point): Point {
  const [dx, dy] = [b.x - a.x, b.y - a.y];
  const long = dx * dx + dy * dy;
  if (long === 0) return a;
  const along = Math.min(1, Math.max(0, ((at.x - a.x) * dx + (at.y - a.y) * dy) / long));
  return { x: a.x + along * dx, y: a.y + along * dy };
}

export function boxOf(points: readonly Point[]): Box {
  return {
    left: Math.min(...points.map((point) => point.x)),
    right: Math.max(...points.map((point) => point.x)),
    bottom: Math.min(...points.map((point) => point.y)),
    top: Math.max(...points.map((point) => point.y)),
  };
}

/** What is drawn, or undefined while nothing is. */
export function boxOfRoof(roof: Roof): Box | undefined {
  const points = [
    ...roof.sections.flatMap(pointsOf),
    ...roof.features.flatMap((feature) => (feature.at ? [pointOf(feature.at)] : [])),
  ];
  return points.length > 0 ? boxOf(points) : undefined;
}

/** The nearest of many within reach. */
export function nearest<T>(all: readonly T[], far: (each: T) => number, reach: number): T | undefined {
  let best: T | undefined;
  let least = reach;
  for (const one of all) {
    const how = far(one);
    if (how <= least) [best, least] = [one, how];
  }
  return best;
}

export function edgeNear(edges: readonly Edge[], at: Point, reach: number): Edge | undefined {
  return nearest(edges, (edge) => distance(at, onto(at, edge.from, edge.to)), reach);
}

const LEVEL: readonly EdgeKind[] = ['eave', 'ridge', 'headwall', 'transition'];

/** The direction into the section, square to one of its edges. */
export function inward(points: readonly Point[], edge: number): Point {
  const from = points[edge];
  const to = points[(edge + 1) % points.length];
  if (!from || !to) return { x: 0, y: 0 };
  const long = distance(from, to) || 1;
  const side = turn(points) >= 0 ? 1 : -1;
  return { x: (-side * (to.y - from.y)) / long, y: (side * (to.x - from.x)) / long };
}

/**
 * Which way the section rises, as a direction of length 1: into it from its first eave, or towards its first other
 * level edge. Undefined while no level edge is named.
 */
export function rises(section: Section): Point | undefined {
  const points = pointsOf(section);
  if (points.length < 3) return undefined;
  const eave = section.outline.findIndex((corner) => corner.edge === 'eave');
  if (eave !== -1) return inward(points, eave);
  const level = section.outline.findIndex((corner) => LEVEL.includes(corner.edge));
  if (level === -1) return undefined;
  const into = inward(points, level);
  return { x: -into.x || 0, y: -into.y || 0 };
}

const COMPASS = ['north', 'north-east', 'east', 'south-east', 'south', 'south-west', 'west', 'north-west'];

/**
 * A direction on the sheet by the compass. `north` is how many degrees north lies clockwise from up the sheet; with
 * `four`, only the main winds are named.
 */
export function compass(way: Point, north = 0, four = false): string {
  const degrees = (Math.atan2(way.x, way.y) * 180) / Math.PI - north;
  const part = four ? 90 : 45;
  const turns = Math.round(degrees / part) * (part / 45);
  return COMPASS[((turns % 8) + 8) % 8] ?? 'north';
}
