/**
 * What the crew reads is read through one catalog: no component of the site view holds words of its own, and whatever
 * it says has its Spanish. What the program says, its own tests hold against the same catalog.
 */

import { describe, expect, it } from 'vitest';

import day from './fixtures/site-day.json';
import { SPANISH } from '../src/lib/bindings/Spanish';
import * as labels from '../src/lib/bindings/Labels';
import { both, say, speak, told } from '../src/lib/kit/say.svelte';
import { literalsIn, saidIn } from './literals';

const SOURCES: Readonly<Record<string, string>> = import.meta.glob('../src/lib/**/*.{svelte,ts}', {
  query: '?raw',
  import: 'default',
  eager: true,
});

/** What a crew sees: its own pages, the checklist on them, and the parts that every form is drawn with there. */
const OF_THE_CREW = [
  /\/site\/.*\.svelte$/u,
  /\/site\/counted\.ts$/u,
  /\/workmanship\/(SiteWork|CheckList|CheckForm|Inspections|InstalledParts)\.svelte$/u,
  /\/workmanship\/points\.ts$/u,
  /\/photos\/(Shots|Photo|PhotoButton)\.svelte$/u,
  /\/forms\/(FormFoot|FormBox|FormField|FormFields)\.svelte$/u,
  /\/forms\/(spec|take-back)\.ts$/u,
  /\/kit\/(Field|Stepper|OneOf|Choice|DateField|QtyField|MoneyField|TextField|FigureInput|Toasts)\.svelte$/u,
  /\/start\/(InTouchLine|OtherFile)\.svelte$/u,
];

/** What is recorded, in the books' own language, or is no word that people read. */
const NO_LABELS: readonly (string | RegExp)[] = [
  'Pressed by mistake',
  'Logged by mistake',
  'Typed by mistake',
  'Withdrawn by mistake',
  'Recorded by mistake',
  'The decision was entered by mistake',
  'Withdrawn on site, before a decision.',
  'Taken back right after it was entered.',
  // Suggested for a field whose text is recorded.
  'Deck',
  'Membrane',
  'Flashing',
  'Final inspection',
  'Building office',
  // The homeowner's own, and a mark that the catalog tells.
  /^`\$\{side\} side`$/u,
  'at risk',
  // Keys, currencies, and parts of drawings.
  /^(Enter|Escape|Arrow\w+|Ctrl\+Z|USD|h)$/u,
  /^`Signature /u,
  /^`M\$\{|^`\$\{tx/u,
];

const known = (words: string) =>
  NO_LABELS.some((each) => (typeof each === 'string' ? each === words : each.test(words)));

const ofTheCrew = Object.entries(SOURCES).filter(([file]) => OF_THE_CREW.some((path) => path.test(file)));

describe('the crew reads through one catalog', () => {
  it('looks at every component of the site view', () => {
    expect(ofTheCrew.length).toBeGreaterThan(35);
  });

  it.each(ofTheCrew)('%s holds no words of its own', (file, source) => {
    expect(literalsIn(file, source).filter((words) => !known(words))).toEqual([]);
  });

  it('has Spanish for all that is looked up', () => {
    const said = ofTheCrew.flatMap(([file, source]) => saidIn(file, source));
    expect(said.length).toBeGreaterThan(300);
    expect(said.filter((words) => !(words in SPANISH))).toEqual([]);
  });

  it('has Spanish for the closed lists of the site view', () => {
    speak('es');
    const lists = [
      labels.PLACES,
      labels.CAUSES,
      labels.COUNTED_IN,
      labels.DAMAGED,
      labels.MARKS,
      labels.PRICINGS,
      labels.VERDICTS,
      labels.DECIDED_BY,
      labels.COURSES,
      labels.CHECK_STATES,
      labels.CHANGE_STATES,
      labels.WORK_STATES,
      labels.ITEMS,
    ];
    const words = lists.flatMap((list) =>
      Object.values<string | { label: string; single?: string; several?: string }>(list).flatMap((of) =>
        typeof of === 'string' ? [of] : [of.label, of.single ?? of.label, of.several ?? of.label],
      ),
    );
    expect([...new Set(words)].filter((each) => !(each in SPANISH))).toEqual([]);
    speak('en');
  });
});

describe('what is said', () => {
  it('is English until somebody who reads Spanish sits down', () => {
    speak(undefined);
    expect(say('Log it')).toBe('Log it');
    expect(told('Eave')).toBe('Eave');
    expect(both('Eave')).toBe('Eave');
  });

  it('is Spanish then, with what is filled in, and words of the trade in both', () => {
    speak('es');
    expect(say('Hours on {number}', { number: '26-013' })).toBe('Horas en 26-013');
    expect(both('Eave')).toBe('Alero (Eave)');
    expect(told('September 28, 2026, as planned')).toBe('28 de septiembre de 2026, según el plan');
    expect(told('They are slow to pay')).toBe('They are slow to pay');
    speak('en');
  });

  it('has Spanish for whatever the program says on the day of the made-up firm', () => {
    speak('es');
    const sentences = day.jobs.flatMap((job) => [
      ...job.cautions.map((caution) => caution.words),
      ...job.before_work,
      ...job.conditions.flatMap((condition) => condition.stop_words ?? []),
    ]);
    expect(sentences.length).toBeGreaterThan(10);
    expect(sentences.filter((words) => told(words) === words)).toEqual([]);
    speak('en');
  });
});
