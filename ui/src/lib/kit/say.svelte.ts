/**
 * What the page says, in the language of whoever reads it. The English words are the key: they stand where they are
 * shown, and the one catalog, which the program writes, holds what they are called in Spanish.
 */

import type { Language } from '../bindings/Language';
import { SPANISH } from '../bindings/Spanish';
import { systemLocale } from './locale';

type Values = Readonly<Record<string, string | number>>;

let language = $state<Language>('en');

/** Whose language the page speaks from here on. */
export function speak(of: Language | undefined): void {
  language = of ?? 'en';
}

/** Dates and figures as whoever reads them writes them: in this country, in either language. */
export function spokenLocale(): string {
  return language === 'es' ? 'es-US' : systemLocale();
}

function filled(pattern: string, values: Values | undefined): string {
  return values ? pattern.replace(/\{(\w+)\}/gu, (_, name: string) => String(values[name] ?? '')) : pattern;
}

/** Words that stand in the page's source, with what they are filled in with. */
export function say(english: keyof typeof SPANISH, values?: Values): string {
  return filled(language === 'es' ? SPANISH[english] : english, values);
}

interface Sentence {
  looksLike: RegExp;
  names: readonly string[];
  spanish: string;
}

const escaped = (text: string) => text.replace(/[\\^$.*+?()[\]{}|/]/gu, '\\$&');

let known: readonly Sentence[] | undefined;

/**
 * The sentences with something to fill in, the longest first: what says more fits less. Put together when the first is
 * asked for: whoever reads English never waits for them.
 */
const sentences = (): readonly Sentence[] => (known ??= sentencesOf(SPANISH));

const sentencesOf = (catalog: Readonly<Record<string, string>>): Sentence[] =>
  Object.entries(catalog)
    .filter(([english]) => /\{\w+\}/u.test(english))
    .sort(([left], [right]) => right.replace(/\{\w+\}/gu, '').length - left.replace(/\{\w+\}/gu, '').length)
    .map(([english, spanish]) => {
      const parts = english.split(/\{\w+\}/u).map(escaped);
      return {
        looksLike: new RegExp(`^${parts.join('(.+?)')}$`, 'su'),
        names: [...english.matchAll(/\{(\w+)\}/gu)].map(([, name]) => name ?? ''),
        spanish,
      };
    });

function inSpanish(english: string): string | undefined {
  const whole = (SPANISH as Readonly<Record<string, string>>)[english];
  if (whole !== undefined) return whole;
  for (const { looksLike, names, spanish } of sentences()) {
    const found = looksLike.exec(english);
    if (!found) continue;
    const values = names.map((name, index) => [
      name,
      inSpanish(found[index + 1] ?? '') ?? found[index + 1] ?? '',
    ]);
    return filled(spanish, Object.fromEntries(values) as Values);
  }
  return undefined;
}

/** Words that come from the program, where the catalog knows them; what a person typed is nobody's to translate. */
export function told(english: string): string {
  return language === 'es' ? (inSpanish(english) ?? english) : english;
}

/** A word of the trade in both languages, so that everybody on the roof means the same and a crew can correct it. */
export function both(english: string): string {
  const own = told(english);
  return own === english ? english : `${own} (${english})`;
}

/** Words on the sheet that homeowner and crew look at together: English first, since the homeowner signs it. */
export function forBoth(english: keyof typeof SPANISH, values?: Values): string {
  const plain = filled(english, values);
  return language === 'es' ? `${plain} / ${say(english, values)}` : plain;
}

/** The English of a sentence that is shown in another language: it stands below it. */
export function original(english: string): string | undefined {
  return told(english) === english ? undefined : english;
}
