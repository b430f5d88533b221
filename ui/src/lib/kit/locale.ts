/** The system's locale, as the web view reports it, or American English where it reports none that is known. */
export function systemLocale(): string {
  const first =
    typeof navigator === 'undefined' ? undefined : (navigator.languages?.[0] ?? navigator.language);
  return knownLocale(first) ?? 'en-US';
}

/** What is known of each tag. Every figure asks, and the system looks through all its locales to answer. */
const asked = new Map<string, string | undefined>();

function knownLocale(tag: string | undefined): string | undefined {
  if (!tag) return undefined;
  if (!asked.has(tag)) asked.set(tag, supported(tag));
  return asked.get(tag);
}

function supported(tag: string): string | undefined {
  try {
    return Intl.NumberFormat.supportedLocalesOf([tag])[0];
  } catch {
    // Not a language tag at all (a bare "C", say): the caller has a fallback.
    return undefined;
  }
}
