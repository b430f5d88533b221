/** The points of the checklist on one roof: by part, how each stands, and the parts that a package can be for. */

import { say, told } from '../kit/say.svelte';
import type { CheckState } from '../bindings/CheckState';
import type { JobPoint } from '../bindings/JobPoint';
import { ITEMS } from '../bindings/Labels';
import type { Workmanship } from '../bindings/Workmanship';
import type { Choice } from '../forms/spec';
import type { StatusWord } from '../kit/status';
import { many } from '../kit/many';

/** Which mark the state of a point is shown by. */
export const STATE_MARKS: Readonly<Record<CheckState, StatusWord>> = {
  good: 'done',
  open: 'open',
  'not-here': 'withdrawn',
};

export interface Part {
  part: string;
  points: JobPoint[];
  settled: number;
}

/** The points by the part of the roof, in the order in which the list comes to each part first. */
export function byPart(points: readonly JobPoint[]): Part[] {
  const parts = new Map<string, Part>();
  for (const point of points) {
    const part = parts.get(point.part) ?? { part: point.part, points: [], settled: 0 };
    part.points.push(point);
    if (point.settled) part.settled += 1;
    parts.set(point.part, part);
  }
  return [...parts.values()];
}

/** "12 of 20 points are settled." */
export function standsAt(points: readonly JobPoint[]): string {
  const settled = points.filter((point) => point.settled).length;
  if (points.length === 0) return say('No point is asked of this roof.');
  if (settled === points.length && settled > 1)
    return say('All {points} are settled.', { points: told(many(settled, 'point')) });
  return say('{n} of {points} settled.', {
    n: settled,
    points: told(many(points.length, 'point is', 'points are')),
  });
}

/** The parts of this roof that a package can be for. */
export function itemsOf(work: Workmanship): Choice[] {
  const items = new Map<string, string>();
  for (const { item, part } of [...work.to_install, ...work.installed, ...work.points]) {
    if (item !== null && item !== 'tear-off' && item !== 'haul') items.set(item, part);
  }
  return [...items, ['other', ITEMS.other] as const].map(([value, label]) => ({ value, label }));
}

/** What is given as the reason where something about the work is taken back. */
export const MISTAKE = 'Recorded by mistake';
