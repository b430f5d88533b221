/** Sections measured by hand: one figure for each kind of edge, whatever the roof came with. */

import { freeName, type EdgeKind, type Roof, type Section, type TypedEdge } from './shape';

/** The exact sum of two decimals that are not below nothing. */
export function addDecimals(a: string, b: string): string {
  const places = Math.max(a.split('.')[1]?.length ?? 0, b.split('.')[1]?.length ?? 0);
  const parts = (value: string) => {
    const [whole = '0', after = ''] = value.split('.');
    return BigInt(whole + after.padEnd(places, '0'));
  };
  const sum = (parts(a) + parts(b)).toString().padStart(places + 1, '0');
  if (places === 0) return sum;
  return `${sum.slice(0, -places)}.${sum.slice(-places)}`.replace(/\.?0+$/, '');
}

/** The feet of one kind, all edges of it together; empty where there is none. */
export function feetOf(section: Section, kind: EdgeKind): string {
  const all = (section.typed?.edges ?? []).filter((edge) => edge.kind === kind);
  return all.length === 0 ? '' : all.map((edge) => edge.length_ft).reduce(addDecimals);
}

/** The feet of one kind set anew: they stand where the first of them stood. */
export function setFeet(edges: readonly TypedEdge[], kind: EdgeKind, feet: string): TypedEdge[] {
  const first = edges.findIndex((edge) => edge.kind === kind);
  const at = first === -1 ? edges.length : edges.slice(0, first).filter((edge) => edge.kind !== kind).length;
  const others = edges.filter((edge) => edge.kind !== kind);
  if (feet === '') return others;
  return [...others.slice(0, at), { kind, length_ft: feet }, ...others.slice(at)];
}

/** The roof with one more section that is measured by hand. */
export function addTyped(roof: Roof): Roof {
  const slope = roof.sections.at(-1)?.slope ?? '6';
  const section: Section = {
    name: freeName(roof),
    slope,
    outline: [],
    typed: { area_sqft: '0', edges: [] },
  };
  return { ...roof, sections: [...roof.sections, section] };
}
