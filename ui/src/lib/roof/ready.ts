/** Shapes to begin with: from the measures of the walls to the sections of the roof over them, overhang included. */

import { boxOfRoof, cornerOf, type Point } from './plan';
import { type EdgeKind, freeName, type Roof, type Section } from './shape';

export type ReadyKind = 'gable' | 'hip' | 'shed' | 'ell';

export interface ReadyMeasures {
  /** Across the slopes, from outside of wall to outside of wall; of an L, across either leg. Inches. */
  span: number;
  /** The other way along the walls; of an L, the outside of the long leg. Inches. */
  length: number;
  /** Level, from the wall to the edge of the roof, all round. Inches. */
  overhang: number;
  /** Rise in 12. */
  slope: string;
  /** Of an L: how far the short leg stands out from the long one. Inches. */
  out?: number;
  /** Of a shed: whether its high edge is against a wall. */
  againstWall?: boolean;
}

export const READY: readonly { value: ReadyKind; label: string }[] = [
  { value: 'gable', label: 'Gable' },
  { value: 'hip', label: 'Hip' },
  { value: 'shed', label: 'Shed' },
  { value: 'ell', label: 'L with a valley' },
];

type Bare = [name: string, corners: [x: number, y: number, edge: EdgeKind][]];

function gable(long: number, deep: number): Bare[] {
  const half = deep / 2;
  return [
    [
      'front',
      [
        [0, 0, 'eave'],
        [long, 0, 'rake'],
        [long, half, 'ridge'],
        [0, half, 'rake'],
      ],
    ],
    [
      'back',
      [
        [long, deep, 'eave'],
        [0, deep, 'rake'],
        [0, half, 'ridge'],
        [long, half, 'rake'],
      ],
    ],
  ];
}

/** The ridge runs along the longer side; on a square all four meet in a point. */
function hip(long: number, deep: number): Bare[] {
  const half = Math.min(long, deep) / 2;
  const [a, b]: [[number, number], [number, number]] =
    long >= deep
      ? [
          [half, half],
          [long - half, half],
        ]
      : [
          [half, half],
          [half, deep - half],
        ];
  const square = long === deep;
  const lengthwise = long >= deep;
  const top = (from: [number, number], to: [number, number]): [number, number, EdgeKind][] =>
    square
      ? [[...from, 'hip']]
      : [
          [...from, 'ridge'],
          [...to, 'hip'],
        ];
  const end = (at: [number, number]): [number, number, EdgeKind][] => [[...at, 'hip']];
  return [
    ['front', [[0, 0, 'eave'], [long, 0, 'hip'], ...(lengthwise ? top(b, a) : end(a))]],
    ['right end', [[long, 0, 'eave'], [long, deep, 'hip'], ...(lengthwise ? end(b) : top(b, a))]],
    ['back', [[long, deep, 'eave'], [0, deep, 'hip'], ...(lengthwise ? top(a, b) : end(b))]],
    ['left end', [[0, deep, 'eave'], [0, 0, 'hip'], ...(lengthwise ? end(a) : top(a, b))]],
  ];
}

/** Two legs of one span: their ridges meet, a valley runs to the inner corner and a hip to the outer one. */
function ell(long: number, deep: number, out: number): Bare[] {
  const half = deep / 2;
  const [inner, crest] = [long - deep, long - half];
  return [
    [
      'front',
      [
        [0, 0, 'eave'],
        [inner, 0, 'valley'],
        [crest, half, 'ridge'],
        [0, half, 'rake'],
      ],
    ],
    [
      'back',
      [
        [long, deep, 'eave'],
        [0, deep, 'rake'],
        [0, half, 'ridge'],
        [crest, half, 'hip'],
      ],
    ],
    [
      'leg inside',
      [
        [inner, 0, 'eave'],
        [inner, -out, 'rake'],
        [crest, -out, 'ridge'],
        [crest, half, 'valley'],
      ],
    ],
    [
      'leg outside',
      [
        [long, -out, 'eave'],
        [long, deep, 'hip'],
        [crest, half, 'ridge'],
        [crest, -out, 'rake'],
      ],
    ],
  ];
}

/** What is wrong with the measures of a ready shape, or undefined. */
export function readyProblem(kind: ReadyKind, of: ReadyMeasures): string | undefined {
  if (!(of.span > 0) || !(of.length > 0)) return 'Give the span and the length: both are more than nothing.';
  if (kind === 'ell' && !(of.out && of.out > 0)) return 'Say how far the short leg stands out.';
  if (kind === 'ell' && of.length <= of.span) {
    return 'The long leg has to be longer than its span, or there is no inner corner.';
  }
  return undefined;
}

/** The roof with a ready shape added, to the right of what is there, a few feet off. */
export function addReady(roof: Roof, kind: ReadyKind, of: ReadyMeasures): Roof {
  const long = of.length + 2 * of.overhang;
  const deep = of.span + 2 * of.overhang;
  const bare: Bare[] =
    kind === 'gable'
      ? gable(long, deep)
      : kind === 'hip'
        ? hip(long, deep)
        : kind === 'ell'
          ? ell(long, deep, of.out ?? 0)
          : [
              [
                'shed',
                [
                  [0, 0, 'eave'],
                  [long, 0, 'rake'],
                  [long, deep, of.againstWall ? 'headwall' : 'ridge'],
                  [0, deep, 'rake'],
                ],
              ],
            ];
  const there = boxOfRoof(roof);
  const at: Point = there ? { x: Math.ceil(there.right / 12) * 12 + 48, y: there.bottom } : { x: 0, y: 0 };
  const lowest = Math.min(...bare.flatMap(([, corners]) => corners.map(([, y]) => y)));
  let next = roof;
  for (const [name, corners] of bare) {
    const section: Section = {
      name: freeName(next, name),
      slope: of.slope,
      outline: corners.map(([x, y, edge]) => cornerOf({ x: x + at.x, y: y - lowest + at.y }, edge)),
      typed: null,
    };
    next = { ...next, sections: [...next.sections, section] };
  }
  return { ...next, house: { ...next.house, overhang_in: String(of.overhang) } };
}
