/**
 * Who writes numbers, days and moments the way a locale does. The system takes far longer to make a writer than the
 * writer to write, and a page has hundreds of figures: each is made once.
 */

function keptBy<Look, Writer>(make: (locale: string | undefined, look: Look) => Writer) {
  const kept = new Map<string, Writer>();
  return (locale: string | undefined, look: Look): Writer => {
    const key = `${locale ?? ''} ${JSON.stringify(look)}`;
    const found = kept.get(key);
    if (found) return found;
    const made = make(locale, look);
    kept.set(key, made);
    return made;
  };
}

/** Writes numbers. */
export const numbers = keptBy(
  (locale, look: Intl.NumberFormatOptions) => new Intl.NumberFormat(locale, look),
);

/** Writes days and moments. */
export const days = keptBy(
  (locale, look: Intl.DateTimeFormatOptions) => new Intl.DateTimeFormat(locale, look),
);

/** The region that a locale is of, if it says. */
export const regions = keptBy((locale, _: null) => new Intl.Locale(locale ?? 'en').region);
