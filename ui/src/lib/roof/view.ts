/** Which part of the plan the sheet shows, and at what scale. */

import type { Box, Point } from './plan';

export interface View {
  /** Pixels for an inch. */
  scale: number;
  /** Where the upper left corner of the sheet lies on the plan, in inches. */
  left: number;
  top: number;
}

/** From a village to a nail head. */
const LEAST = 0.08;
const MOST = 24;

export const FIRST_VIEW: View = { scale: 1.75, left: -60, top: 420 };

export function toSheet(view: View, at: Point): Point {
  return { x: (at.x - view.left) * view.scale, y: (view.top - at.y) * view.scale };
}

export function toPlan(view: View, at: Point): Point {
  return { x: view.left + at.x / view.scale, y: view.top - at.y / view.scale };
}

/** Nearer or farther, with one place of the sheet staying where it is. */
export function zoom(view: View, factor: number, at: Point): View {
  const scale = Math.min(MOST, Math.max(LEAST, view.scale * factor));
  const fixed = toPlan(view, at);
  return { scale, left: fixed.x - at.x / scale, top: fixed.y + at.y / scale };
}

/** Shifted by pixels, as when the paper is pushed. */
export function push(view: View, dx: number, dy: number): View {
  return { ...view, left: view.left - dx / view.scale, top: view.top + dy / view.scale };
}

/** All of a box with a margin round it, in a sheet of so many pixels. */
export function fit(box: Box, width: number, height: number, margin = 56): View {
  const [wide, high] = [Math.max(12, box.right - box.left), Math.max(12, box.top - box.bottom)];
  const room = { wide: Math.max(40, width - 2 * margin), high: Math.max(40, height - 2 * margin) };
  const scale = Math.min(MOST, Math.max(LEAST, Math.min(room.wide / wide, room.high / high)));
  return {
    scale,
    left: (box.left + box.right) / 2 - width / 2 / scale,
    top: (box.bottom + box.top) / 2 + height / 2 / scale,
  };
}

/** The same view, shifted no further than is needed to show a place with a little room round it. */
export function follow(view: View, at: Point, width: number, height: number, margin = 32): View {
  const on = toSheet(view, at);
  const dx = on.x < margin ? margin - on.x : Math.min(0, width - margin - on.x);
  const dy = on.y < margin ? margin - on.y : Math.min(0, height - margin - on.y);
  return dx === 0 && dy === 0 ? view : push(view, dx, dy);
}
