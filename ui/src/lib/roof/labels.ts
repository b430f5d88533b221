/**
 * Where words are written on a picture of a roof, so that none lies over another. Each label has its places in the
 * order in which it would rather stand; the first that is free is its own. One that finds none is left out, and the
 * list beside the picture says it.
 */

import {
  boxOf,
  distance,
  type Edge,
  holds,
  inward,
  middle,
  type Point,
  pointOf,
  pointsOf,
  rises,
} from './plan';
import { type Feature, FEATURES, type Roof, type Section } from './shape';

/** A box on the sheet, in pixels round its middle, turned by so many degrees. */
export interface Block {
  x: number;
  y: number;
  width: number;
  height: number;
  turned: number;
}

/** What could be written where: `as` says which form of it. */
export interface Try<As> {
  as: As;
  block: Block;
}

export interface Wanted<As> {
  key: string;
  tries: readonly Try<As>[];
  /** It is rather left out than written across a line. */
  clear?: boolean;
}

/** Room kept free round every label, in pixels. */
const APART = 2;

/** How wide letters are, as shares of their height: rather too wide than too narrow. */
const NARROW = /[ijltfrI.,:;'’|!()×]/;
const WIDE = /[mwMW%@]/;
const CAPITAL = /[A-Z0-9]/;

/** About how wide a text is written at so many pixels. */
export function widthOf(text: string, size: number): number {
  const shares = [...text].map((letter) => {
    if (letter === ' ') return 0.3;
    if (NARROW.test(letter)) return 0.38;
    if (WIDE.test(letter)) return 0.9;
    return CAPITAL.test(letter) ? 0.66 : 0.58;
  });
  return size * shares.reduce((sum, share) => sum + share, 0);
}

/** A line of text round a place. */
export function textBlock(text: string, size: number, at: Point, turned = 0): Block {
  return { ...at, width: widthOf(text, size), height: size * 1.2, turned };
}

function cornersOf({ x, y, width, height, turned }: Block): Point[] {
  const [cos, sin] = [Math.cos((turned * Math.PI) / 180), Math.sin((turned * Math.PI) / 180)];
  const half = { x: width / 2, y: height / 2 };
  return [
    [-half.x, -half.y],
    [half.x, -half.y],
    [half.x, half.y],
    [-half.x, half.y],
  ].map(([dx = 0, dy = 0]) => ({ x: x + dx * cos - dy * sin, y: y + dx * sin + dy * cos }));
}

/** Whether two boxes have any place in common: no line lies between them that is square to a side of either. */
export function overlap(block: Block, other: Block): boolean {
  const reach = Math.hypot(block.width, block.height) + Math.hypot(other.width, other.height);
  if (distance(block, other) * 2 >= reach) return false;
  const [a, b] = [cornersOf(block), cornersOf(other)];
  return [block.turned, block.turned + 90, other.turned, other.turned + 90].every((degrees) => {
    const way = { x: Math.cos((degrees * Math.PI) / 180), y: Math.sin((degrees * Math.PI) / 180) };
    const [from, to] = [a, b].map((corners) => corners.map((at) => at.x * way.x + at.y * way.y));
    if (!from || !to) return true;
    return Math.min(...from) < Math.max(...to) && Math.min(...to) < Math.max(...from);
  });
}

function isOn(block: Block, sheet: { width: number; height: number }): boolean {
  return cornersOf(block).every(({ x, y }) => x >= 0 && y >= 0 && x <= sheet.width && y <= sheet.height);
}

/**
 * Gives each label the first of its places that is on the sheet and free. What comes first is served first. Across a
 * line of the drawing it is written only where there is no other room for it.
 */
export function placed<As>(
  wanted: readonly Wanted<As>[],
  taken: readonly Block[],
  sheet: { width: number; height: number },
  lines: readonly Block[] = [],
): Map<string, Try<As>> {
  const full = [...taken];
  const found = new Map<string, Try<As>>();
  for (const { key, tries, clear = false } of wanted) {
    const isFree = ({ block }: Try<As>) => {
      const room = { ...block, width: block.width + 2 * APART, height: block.height + 2 * APART };
      return isOn(block, sheet) && !full.some((each) => overlap(room, each));
    };
    const crosses = ({ block }: Try<As>) => lines.some((line) => overlap(block, line));
    const free =
      tries.find((each) => isFree(each) && !crosses(each)) ?? (clear ? undefined : tries.find(isFree));
    if (!free) continue;
    found.set(key, free);
    full.push(free.block);
  }
  return found;
}

// ---- what a roof has to say

/** How a place on the plan lies on the sheet. */
type On = (at: Point) => Point;

/** How thick an edge is drawn at most, in pixels. */
const STROKE = 5;

/** The edges as they are drawn. */
export function edgeBlocks(edges: readonly Edge[], on: On): Block[] {
  return edges.map((edge) => {
    const [from, to] = [on(edge.from), on(edge.to)];
    const turned = (Math.atan2(to.y - from.y, to.x - from.x) * 180) / Math.PI;
    return { ...middle(from, to), width: distance(from, to), height: STROKE, turned };
  });
}

/** How much of a section is written: its name, its slope beneath, and the arrow that water follows. */
export type SectionForm = 'arrow' | 'slope' | 'name';

const SHIFTS = [
  { x: 0, y: 0 },
  { x: 0, y: -22 },
  { x: 0, y: 22 },
  { x: -40, y: 0 },
  { x: 40, y: 0 },
  { x: -12, y: 0 },
  { x: 12, y: 0 },
];

/** Into how many places a section is parted, each way, where its name finds no room near its middle. */
const PLACES = 12;

/** Places all over a section as it lies on the sheet, the nearest to its middle first. */
function placesIn(corners: readonly Point[], at: Point): Point[] {
  const box = boxOf(corners);
  const places: Point[] = [];
  for (let column = 1; column < PLACES; column += 1) {
    for (let row = 1; row < PLACES; row += 1) {
      places.push({
        x: box.left + ((box.right - box.left) * column) / PLACES,
        y: box.bottom + ((box.top - box.bottom) * row) / PLACES,
      });
    }
  }
  return places.toSorted((a, b) => distance(a, at) - distance(b, at));
}

/**
 * A section's name and slope: all of it rather than part of it, and near the place given rather than elsewhere; within
 * the section, and across none of its edges.
 */
export function sectionWanted(
  key: string,
  section: Section,
  words: { name: string; slope: string; size: number },
  at: Point,
  on: On,
): Wanted<SectionForm> {
  const { name, slope, size } = words;
  const corners = pointsOf(section).map(on);
  const places = [
    ...SHIFTS.map((shift) => ({ x: at.x + shift.x, y: at.y + shift.y })),
    ...placesIn(corners, at),
  ];
  const width = Math.max(widthOf(name, size + 2), widthOf(slope, size + 1));
  const forms: { as: SectionForm; height: number; wide: number }[] = [
    { as: 'arrow', height: 3.3 * size + 32, wide: width },
    { as: 'slope', height: 2.7 * size, wide: width },
    { as: 'name', height: 1.4 * size, wide: widthOf(name, size + 2) },
  ];
  const usable = rises(section) ? forms : forms.slice(1);
  const ways = [
    ...usable.map((form) => ({ ...form, turned: 0 })),
    // A section narrower than its name is high enough for it.
    ...forms.slice(1).map((form) => ({ ...form, turned: -90 })),
  ];
  return {
    key,
    clear: true,
    tries: ways.flatMap(({ as, height, wide, turned }) =>
      places
        .map((place) => ({ as, block: { ...place, width: wide + 2 * APART, height, turned } }))
        .filter(({ block }) => cornersOf(block).every((corner) => holds(corners, corner))),
    ),
  };
}

/** Where the parts of a section's label lie inside its block: baselines, and the middle of the arrow. */
export function sectionLines(form: SectionForm, block: Block, size: number) {
  const top = block.y - block.height / 2;
  return {
    name: top + 1.1 * size,
    slope: form === 'name' ? undefined : top + 2.4 * size,
    arrow: form === 'arrow' ? top + 3.1 * size + 15 : undefined,
  };
}

/** Where a line of a block stands that is upright, or turned with its block. */
export function baseline(block: Block, y: number, size: number) {
  if (block.turned === 0) return { x: block.x, y };
  const down = 0.35 * size;
  const off = y - down - block.y;
  return { transform: `translate(${block.x + off} ${block.y}) rotate(${block.turned})`, y: down };
}

/** Where along an edge a label may stand, the middle first. */
const ALONG = [0.5, 0.35, 0.65, 0.22, 0.78];

/** A label beside an edge, written along it: outside rather than inside, and never longer than the edge. */
export function edgeWanted(
  key: string,
  edge: Edge,
  roof: Roof,
  on: On,
  texts: string[],
  size: number,
): Wanted<string> {
  const [from, to] = [on(edge.from), on(edge.to)];
  const long = distance(from, to);
  const section = roof.sections[edge.section];
  const into = section ? inward(pointsOf(section), edge.edge) : { x: 0, y: 0 };
  const along = (Math.atan2(to.y - from.y, to.x - from.x) * 180) / Math.PI;
  const turned = along > 90 || along <= -90 ? along + 180 : along;
  const off = size * 0.92;
  const fitting = texts.filter((text) => widthOf(text, size) <= long + 8);
  return {
    key,
    tries: fitting.flatMap((text) =>
      [-1, 1].flatMap((side) =>
        ALONG.map((share) => {
          const at = {
            x: from.x + (to.x - from.x) * share + side * into.x * off,
            y: from.y + (to.y - from.y) * share - side * into.y * off,
          };
          return { as: text, block: textBlock(text, size, at, turned) };
        }),
      ),
    ),
  };
}

/** An edge's letter in its disc, just inside the edge. */
export function letterWanted(key: string, edge: Edge, roof: Roof, on: On): Wanted<string> {
  const [from, to] = [on(edge.from), on(edge.to)];
  const section = roof.sections[edge.section];
  const into = section ? inward(pointsOf(section), edge.edge) : { x: 0, y: 0 };
  const shares = distance(from, to) > 28 ? ALONG : [];
  return {
    key,
    tries: shares.map((share) => ({
      as: '',
      block: {
        x: from.x + (to.x - from.x) * share + into.x * 15,
        y: from.y + (to.y - from.y) * share - into.y * 15,
        width: 19,
        height: 19,
        turned: 0,
      },
    })),
  };
}

/** The length of an edge of the picked section: inside, beside the edge's letter. */
export function lengthWanted(key: string, edge: Edge, roof: Roof, on: On, text: string): Wanted<string> {
  const [from, to] = [on(edge.from), on(edge.to)];
  const section = roof.sections[edge.section];
  const into = section ? inward(pointsOf(section), edge.edge) : { x: 0, y: 0 };
  const at = middle(from, to);
  // What is level stands farther in from an upright edge than from a level one.
  const off = 15 + Math.abs(into.x) * 20;
  return {
    key,
    tries: [1, -1, 1.8, -1.8].map((side) => ({
      as: text,
      block: textBlock(text, 13, {
        x: at.x + into.x * off - into.y * 38 * side,
        y: at.y - into.y * off - into.x * 30 * side,
      }),
    })),
  };
}

/** Never smaller than can be seen and hit. */
export const LEAST_FEATURE = 14;

/** How large a feature is drawn, in pixels. */
export function featureSize(feature: Feature, scale: number): { width: number; length: number } {
  return {
    width: Math.max(LEAST_FEATURE, Number(feature.width_in ?? 0) * scale),
    length: Math.max(LEAST_FEATURE, Number(feature.length_in ?? 0) * scale),
  };
}

/** How far a feature is turned: as its section rises. */
export function featureTurn(up: Point = { x: 0, y: 1 }): number {
  return (Math.atan2(up.x, up.y) * 180) / Math.PI;
}

/** A feature's letter and how many there are. */
export function featureText(feature: Feature): string {
  const letter = FEATURES.find((each) => each.kind === feature.kind)?.letter ?? '';
  return feature.count > 1 ? `${letter} × ${feature.count}` : letter;
}

/** The marks of what stands on the roof, which no label covers. */
export function featureBlocks(roof: Roof, on: On, scale: number): Block[] {
  return roof.features.flatMap((feature) => {
    if (!feature.at) return [];
    const section = roof.sections.find((each) => each.name === feature.section);
    const { width, length } = featureSize(feature, scale);
    return [
      { ...on(pointOf(feature.at)), width, height: length, turned: featureTurn(section && rises(section)) },
    ];
  });
}

/** A feature's letter at one of its four corners. */
export function featureWanted(key: string, feature: Feature, on: On, scale: number): Wanted<string> {
  if (!feature.at) return { key, tries: [] };
  const at = on(pointOf(feature.at));
  const text = featureText(feature);
  const wide = widthOf(text, 13);
  const { width, length } = featureSize(feature, scale);
  const [right, down] = [width / 2 + 6 + wide / 2, Math.max(8, length / 2)];
  return {
    key,
    tries: [
      { x: right, y: -10 },
      { x: -right, y: -10 },
      { x: right, y: 10 },
      { x: -right, y: 10 },
      { x: 0, y: -down - 12 },
      { x: 0, y: down + 12 },
    ].map((shift) => ({ as: text, block: textBlock(text, 13, { x: at.x + shift.x, y: at.y + shift.y }) })),
  };
}
