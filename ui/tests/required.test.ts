/**
 * Whether the forms tell truly what may stay empty. Every form is filled in: what it asks for and nothing else must be
 * all that the program needs, and whatever it asks for the program must refuse to go without. What the program needs of
 * a fact it writes itself, into the bindings.
 */

import { describe, expect, it } from 'vitest';

import type { Lists } from '../src/lib/bindings/Lists';
import type { JobPage } from '../src/lib/bindings/JobPage';
import type { Rates } from '../src/lib/bindings/Rates';
import type { UsualLists } from '../src/lib/bindings/UsualLists';
import written from '../src/lib/bindings/Facts.ts?raw';
import { PILE } from '../src/lib/books/bill';
import { ACCOUNT, COST, RECURRING } from '../src/lib/books/overhead';
import { handedIn } from '../src/lib/books/papers';
import * as entry from '../src/lib/entry/forms';
import type { FactForm } from '../src/lib/facts';
import { noticeForm } from '../src/lib/firm/notices';
import {
  problemsIn,
  type Around,
  type FieldSpec,
  type FormSpec,
  type Line,
  type Values,
} from '../src/lib/forms/spec';
import { partForm, pointForm, standardForm } from '../src/lib/rates/forms';
import { formOf, LISTS } from '../src/lib/rates/spec';
import { recipeForm } from '../src/lib/rates/recipe';
import { reviewOf } from '../src/lib/set-up/reviews';
import page from './fixtures/job-page.json';
import desk from './fixtures/bill-desk.json';
import lists from './fixtures/lists.json';
import newLists from './fixtures/new-lists.json';
import rates from './fixtures/rates.json';
import toBill from './fixtures/to-bill.json';
import usual from './fixtures/usual-lists.json';

/** Of each kind of fact the fields that it cannot be without, and of its lines as `lines.amount`. */
const NEEDS = needs(written);

function needs(text: string): Map<string, string[]> {
  const found = new Map<string, string[]>();
  let kind = '';
  let list = '';
  for (const line of text.split('\n')) {
    const begun = /^ {2}'([\w-]+)': \{$/.exec(line);
    const lines = /^ {4}(\w+)\?: \{$/.exec(line);
    const named = /^ +(\w+): /.exec(line);
    if (begun) found.set((kind = begun[1] ?? ''), []);
    else if (lines) list = `${lines[1]}.`;
    else if (line === '    }[];') list = '';
    else if (named) found.get(kind)?.push(list + named[1]);
  }
  return found;
}

const isOpen = (value: unknown) => value === undefined || value === null || value === '';

/** What the program would miss in these facts. */
function missed(facts: readonly FactForm[]): string[] {
  return facts.flatMap((each) => {
    const fact = each as unknown as Record<string, unknown>;
    return (NEEDS.get(each.kind) ?? []).flatMap((path) => {
      const [name = '', within] = path.split('.');
      if (!within) return isOpen(fact[name]) ? [`${each.kind}.${name}`] : [];
      const open = ((fact[name] ?? []) as Record<string, unknown>[]).some((line) => isOpen(line[within]));
      return open ? [`${each.kind}.${path}`] : [];
    });
  });
}

interface Shown {
  name: string;
  spec: FormSpec;
  context: Around;
}

const form = <C extends Around>(name: string, spec: FormSpec<C>, context: C): Shown => ({
  name,
  spec: spec as unknown as FormSpec,
  context,
});

const today = '2026-10-31';
const theLists = lists as unknown as Lists;
const theRates = rates as unknown as Rates;
const onJob = {
  today,
  lists: theLists,
  job: page as unknown as JobPage,
  jobs: ['26-021'],
  next: toBill,
} as unknown as Parameters<(typeof entry.BILL)['start']>[0];
const around = { today, lists: theLists, rates: theRates, pile: desk } as never;
const settingUp = {
  today,
  lists: newLists as unknown as Lists,
  rates: theRates,
  usual: usual as unknown as UsualLists,
};
const STEPS = [
  'codes',
  'people',
  'burden',
  'parts',
  'production',
  'standards',
  'checklist',
  'accounts',
] as const;

const FORMS: readonly Shown[] = [
  ...Object.entries(entry).map(([name, spec]) => form(name, spec as FormSpec, onJob)),
  ...LISTS.map((list) => form(list.id, formOf(list, undefined), { today, lists: theLists })),
  form('part', partForm(undefined), around),
  form('standard of the code', standardForm(theRates.standards[0], 'code'), around),
  form('standard of the company', standardForm(theRates.standards[0], 'company'), around),
  form('check point', pointForm(undefined, theRates, 1), around),
  form('recipe', recipeForm(undefined, theRates.recipe_to_begin), around),
  form('notice', noticeForm(undefined, 'WI'), around),
  form('bill of the pile', PILE, around),
  form('overhead account', ACCOUNT, around),
  form('overhead cost', COST, around),
  form('recurring cost', RECURRING, around),
  form('papers', handedIn({ id: 'v', name: 'x', tin_ends: null } as never), around),
  ...STEPS.map((step) => form(`set-up, ${step}`, reviewOf(step, settingUp), settingUp)),
];

/** What a form asks for though a fact could be without it, and the rule that would refuse it or what would be lost. */
const ASKED_ALL_THE_SAME: Readonly<Record<string, string>> = {
  'part: colors.color': 'a line without its color is none, and is dropped',
  'standard of the code: source': 'what the code asks is refused without where it is written',
  'CONTRACT: unit_prices.price': 'a line without its price is none, and is dropped',
  'DECISION: method': 'a decision of the homeowner is refused without how it came',
  'notice: copies': 'from 1 to 4',
  'notice: least_points': 'a size of type that is set',
  'recurring cost: owed_from': 'without a vendor it comes from somewhere',
  'set-up, people: people.crew': 'who works on roofs stands in a crew, and is counted in its size',
  'set-up, people: people.hourly': 'hours without pay cost nothing, so that 0 is to be meant',
};

/** Its figures are measures of a roof, and 0 of most is refused; an empty one would be sent as 0. */
const SENT_AS_0 = 'recipe';

const TYPED: Partial<Record<FieldSpec['kind'], string>> = {
  date: today,
  money: '1.00',
  qty: '1',
  rate: '1',
  percent: '1',
  stepper: '1',
};

interface Asked {
  field: FieldSpec;
  line: Line;
  path: string;
}

function asked({ spec, context }: Shown, values: Values): Asked[] {
  const shows = ({ field, line }: Asked) => field.when?.(values, context, line) ?? true;
  const own = spec.fields.map((field) => ({ field, line: values.fields, path: field.name }));
  const within = (spec.lists ?? [])
    .filter((list) => list.when?.(values) ?? true)
    .flatMap((list) =>
      (values.lists[list.name] ?? []).flatMap((line) =>
        list.fields.map((field) => ({ field, line, path: `${list.name}.${field.name}` })),
      ),
    );
  return [...own, ...within].filter(shows);
}

/** The form with what it asks for, and everything else left empty. */
function filledIn(shown: Shown): Values {
  const { spec, context } = shown;
  const values = spec.start?.(context, {}) ?? { fields: {}, lists: {} };
  for (const list of spec.lists ?? []) {
    if (list.blank && (list.when?.(values) ?? true) && (values.lists[list.name] ?? []).length === 0) {
      values.lists[list.name] = [list.blank(values, context)];
    }
  }
  // What one field says may bring another.
  for (const round of [1, 2, 3]) {
    for (const { field, line } of asked(shown, values)) {
      if (field.required) {
        line[field.name] ||=
          TYPED[field.kind] ??
          field.choices?.(context, values, line).find((each) => each.value)?.value ??
          'x';
      } else if (field.kind !== 'check' && round === 1) line[field.name] = '';
    }
  }
  // Hours are asked for all or for each, and so for neither by itself.
  if (spec.kind === 'time-entry') for (const line of values.lists.people ?? []) line.hours = '8';
  return values;
}

function factsOf({ spec, context }: Shown, values: Values): FactForm[] {
  return spec.facts?.(values, context, (index) => `id-${index}`) ?? [];
}

describe.each(FORMS)('$name', (shown) => {
  it('asks for all that the program needs', () => {
    const values = filledIn(shown);
    const facts = factsOf(shown, values);
    expect(problemsIn(shown.spec, values, shown.context)).toEqual({});
    expect(facts.length).toBeGreaterThan(0);
    expect(missed(facts)).toEqual([]);
  });

  it('asks for nothing that the program can be without', () => {
    const paths = [
      ...new Set(asked(shown, filledIn(shown)).flatMap(({ field, path }) => (field.required ? [path] : []))),
    ];
    expect(paths.length).toBeGreaterThan(0);
    const idle = paths.filter((path) => {
      const values = filledIn(shown);
      for (const each of asked(shown, values)) if (each.path === path) each.line[each.field.name] = '';
      try {
        const facts = factsOf(shown, values);
        return facts.length > 0 && missed(facts).length === 0;
      } catch {
        return false;
      }
    });
    const given = idle.filter((path) => !(`${shown.name}: ${path}` in ASKED_ALL_THE_SAME));
    expect(shown.name === SENT_AS_0 ? [] : given).toEqual([]);
  });
});
