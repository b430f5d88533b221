/** Photos that are on the disk already, as a draft keeps them and as a fact names them. */

/** As it is shown, and as it was taken. */
export interface Shot {
  photo: string;
  original: string;
}

export function shotsOf(lines: readonly Record<string, string>[] | undefined): Shot[] {
  return (lines ?? []).flatMap(({ photo, original }) => (photo ? [{ photo, original: original ?? '' }] : []));
}

/** Photos as a fact names them. */
export function named(shots: readonly Shot[]): { photo: string; original?: string }[] {
  return shots.map(({ photo, original }) => (original ? { photo, original } : { photo }));
}
