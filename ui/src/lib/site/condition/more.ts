/** What a condition says beyond place, count and photo: patches, marks, moisture, the place on the picture. */

import type { MarkKind } from '../../bindings/MarkKind';

export interface DrawnPatch {
  /** Inches along the eave, up the slope, and past the rafter before it, as text. */
  along_eave: string;
  up_slope: string;
  from_rafter: string;
  /** Where on the squared deck it was drawn, inches from the left and from the eave; absent where it was typed. */
  x?: number;
  y?: number;
}

export interface Mark {
  /** The photo's hash: photos are numbered only when the condition is logged. */
  photo: string;
  kind: MarkKind;
  /** Fractions of the picture's width and height, as text. */
  x: string;
  y: string;
  to_x?: string;
  to_y?: string;
  words?: string;
}

export interface More {
  patches: DrawnPatch[];
  marks: Mark[];
  moisture: string;
  reason: string;
  x_in: string;
  y_in: string;
}

export function nothingMore(): More {
  return { patches: [], marks: [], moisture: '', reason: '', x_in: '', y_in: '' };
}

/** As a draft keeps it. What a draft of another day says otherwise is left out rather than trusted. */
export function readMore(text: string | undefined): More {
  const plain = nothingMore();
  if (!text) return plain;
  try {
    const read: unknown = JSON.parse(text);
    if (typeof read !== 'object' || read === null) return plain;
    const of = read as Partial<More>;
    return {
      patches: Array.isArray(of.patches) ? of.patches : [],
      marks: Array.isArray(of.marks) ? of.marks : [],
      moisture: of.moisture ?? '',
      reason: of.reason ?? '',
      x_in: of.x_in ?? '',
      y_in: of.y_in ?? '',
    };
  } catch {
    return plain;
  }
}

/** A patch is whole once both measures are there. */
export function whole(patches: readonly DrawnPatch[]) {
  return patches
    .filter((patch) => patch.along_eave !== '' && patch.up_slope !== '')
    .map(({ along_eave, up_slope, from_rafter }) => ({
      along_eave,
      up_slope,
      from_rafter: from_rafter === '' ? null : from_rafter,
    }));
}

/** The fields that these add to a condition. `calculated` is what the patches come to, where that is known. */
export function fieldsOf(more: More, photos: readonly string[], count: string, calculated?: string) {
  const patches = whole(more.patches).map((patch) => ({
    along_eave_in: patch.along_eave,
    up_slope_in: patch.up_slope,
    ...(patch.from_rafter === null ? {} : { from_rafter_in: patch.from_rafter }),
  }));
  const marks = more.marks.flatMap(({ photo, ...mark }) => {
    const number = photos.indexOf(photo) + 1;
    return number > 0 ? [{ photo: number, ...mark }] : [];
  });
  const differs = calculated !== undefined && patches.length > 0 && calculated !== count;
  return {
    ...(patches.length > 0 ? { patches } : {}),
    ...(marks.length > 0 ? { marks } : {}),
    ...(more.moisture ? { moisture: more.moisture } : {}),
    ...(differs ? { calculated, count_reason: more.reason.trim() || null } : {}),
    ...(more.x_in && more.y_in ? { x_in: more.x_in, y_in: more.y_in } : {}),
  };
}

/** Four digits after the point are what the ledger keeps. */
export function decimal(value: number): string {
  return String(Number(value.toFixed(4)));
}
