/** For the tests: a roof, and answers in the shape of the program's. Lengths here are plan lengths, not true ones. */

import { distance, edgesOf } from '../src/lib/roof/plan';
import { addReady } from '../src/lib/roof/ready';
import { EDGES, type EdgeKind, type Measured, newRoof, type Roof } from '../src/lib/roof/shape';

/** An L of 24 ft span, 50 ft by 40 ft outside, with 1 ft of overhang. */
export const ELL: Roof = addReady(newRoof(), 'ell', {
  span: 288,
  length: 600,
  overhang: 12,
  slope: '6',
  out: 192,
});

export function answerFor(roof: Roof): Measured {
  const feet = new Map<EdgeKind, number>();
  const sections = roof.sections.map((section, index) => ({
    name: section.name,
    slope: section.slope,
    plan_sqft: '100',
    area_sqft: '111.8034',
    edges: edgesOf(roof, index).map((edge) => {
      const long = distance(edge.from, edge.to) / 12;
      feet.set(edge.kind, (feet.get(edge.kind) ?? 0) + long);
      const length_ft = long.toFixed(4);
      return {
        kind: edge.kind,
        plan_ft: length_ft,
        length_ft,
        counted_ft: length_ft,
        from: null,
        to: null,
        shared_with: null,
      };
    }),
  }));
  const lengths = Object.fromEntries(
    EDGES.map(({ kind }) => [`${kind}_ft`, (feet.get(kind) ?? 0).toFixed(4)]),
  ) as Record<`${EdgeKind}_ft`, string>;
  return {
    sections,
    ...lengths,
    area_sqft: '2140.5049',
    squares: '21.405',
    wall_ends: 0,
    steepest: '6',
    lowest: '6',
    attic_floor_sqft: '1600',
    cut_up: 'some',
    working: [],
  };
}
