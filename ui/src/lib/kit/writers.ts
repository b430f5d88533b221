/**
 * Who writes numbers, days and moments the way a locale does. The system takes far longer to make a writer than the
 * writer to write, and a page has hundreds of figures: each is made once.
 */

/** Works out each thing that is asked for once, and keeps it. */
export function kept<Asked extends unknown[], Made>(work: (...asked: Asked) => Made) {
  const all = new Map<string, { made: Made }>();
  return (...asked: Asked): Made => {
    const key = JSON.stringify(asked);
    let one = all.get(key);
    if (!one) all.set(key, (one = { made: work(...asked) }));
    return one.made;
  };
}

/** Writes numbers. */
export const numbers = kept(
  (locale: string | undefined, look: Intl.NumberFormatOptions) => new Intl.NumberFormat(locale, look),
);

/** Writes days and moments. */
export const days = kept(
  (locale: string | undefined, look: Intl.DateTimeFormatOptions) => new Intl.DateTimeFormat(locale, look),
);
