import { kept } from './writers';

/** The system's locale, as the web view reports it, or American English where it reports none that is known. */
export function systemLocale(): string {
  const first =
    typeof navigator === 'undefined' ? undefined : (navigator.languages?.[0] ?? navigator.language);
  return knownLocale(first) ?? 'en-US';
}

/** Every figure asks, and the system looks through all its locales to answer. */
const knownLocale = kept((tag: string | undefined): string | undefined => {
  if (!tag) return undefined;
  try {
    return Intl.NumberFormat.supportedLocalesOf([tag])[0];
  } catch {
    // Not a language tag at all (a bare "C", say): the caller has a fallback.
    return undefined;
  }
});
