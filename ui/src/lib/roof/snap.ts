/** What the pen is drawn to: corners and edges that are there, lines at 45° and 90°, and the squares of the sheet. */

import { distance, nearest, onto, type Point } from './plan';

export interface Snapping {
  /** The finest square, in inches. */
  step: number;
  /** How near something has to be, in inches on the plan. */
  reach: number;
  corners?: readonly Point[];
  edges?: readonly { from: Point; to: Point }[];
  /** The last corner: lines at 45° and 90° go out from it. */
  from?: Point;
}

export interface Snapped {
  at: Point;
  to: 'corner' | 'edge' | 'line' | 'square';
}

/** A corner goes before an edge, an edge before a line, and the squares are always there. */
export function snap(raw: Point, { step, reach, corners = [], edges = [], from }: Snapping): Snapped {
  const corner = nearest(corners, (each) => distance(each, raw), reach);
  if (corner) return { at: corner, to: 'corner' };
  const line = from && lineNear(raw, from, step, reach);
  const edge = nearest(edges, (each) => distance(raw, onto(raw, each.from, each.to)), reach);
  if (edge) {
    // Where the line from the last corner meets the edge, both are kept.
    const met = line && from && meet(from, line, edge.from, edge.to);
    if (met && distance(met, raw) <= reach) return { at: met, to: 'edge' };
    return { at: onEdge(raw, edge, step), to: 'edge' };
  }
  if (line) return { at: line, to: 'line' };
  return { at: toSquare(raw, step), to: 'square' };
}

export function toSquare(at: Point, step: number): Point {
  // Adding nothing turns a minus nought into nought.
  return { x: Math.round(at.x / step) * step + 0, y: Math.round(at.y / step) * step + 0 };
}

/** The place on the nearest of the eight lines from a corner, a whole number of squares out, if it is within reach. */
function lineNear(raw: Point, from: Point, step: number, reach: number): Point | undefined {
  const [dx, dy] = [raw.x - from.x, raw.y - from.y];
  const eighth = Math.round(Math.atan2(dy, dx) / (Math.PI / 4));
  const way = {
    x: Math.round(Math.cos((eighth * Math.PI) / 4)),
    y: Math.round(Math.sin((eighth * Math.PI) / 4)),
  };
  const along = (dx * way.x + dy * way.y) / (way.x * way.x + way.y * way.y);
  const steps = Math.round(along / step) * step;
  if (steps <= 0) return undefined;
  const off = Math.hypot(dx - along * way.x, dy - along * way.y);
  return off <= reach ? { x: from.x + steps * way.x, y: from.y + steps * way.y } : undefined;
}

/** On a level or upright edge the squares still count; on a sloped one, the nearest place on it. */
function onEdge(raw: Point, edge: { from: Point; to: Point }, step: number): Point {
  const at = onto(raw, edge.from, edge.to);
  const square = toSquare(at, step);
  const level = Math.abs(edge.from.y - edge.to.y) < 1e-6;
  const upright = Math.abs(edge.from.x - edge.to.x) < 1e-6;
  if (level) return onto({ x: square.x, y: at.y }, edge.from, edge.to);
  if (upright) return onto({ x: at.x, y: square.y }, edge.from, edge.to);
  const nearSquare = onto(square, edge.from, edge.to);
  return distance(nearSquare, square) < 1e-6 ? square : at;
}

function meet(a: Point, b: Point, c: Point, d: Point): Point | undefined {
  const [ux, uy, vx, vy] = [b.x - a.x, b.y - a.y, d.x - c.x, d.y - c.y];
  const cross = ux * vy - uy * vx;
  if (Math.abs(cross) < 1e-9) return undefined;
  const along = ((c.x - a.x) * vy - (c.y - a.y) * vx) / cross;
  const across = ((c.x - a.x) * uy - (c.y - a.y) * ux) / cross;
  if (along < 0 || across < 0 || across > 1) return undefined;
  return { x: a.x + along * ux, y: a.y + along * uy };
}
