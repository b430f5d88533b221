/** The reviews of a first day: what most firms begin with, to be looked over, changed and recorded at once. */

import { BURDEN_ON, JOURNAL_LINES } from '../bindings/Labels';
import type { JournalLine } from '../bindings/JournalLine';
import type { SetUpStep } from '../bindings/SetUpStep';
import type { UsualFact } from '../bindings/UsualFact';
import type { UsualLists } from '../bindings/UsualLists';
import { fact } from '../facts';
import { draftOf, factOf, FIRM_FIELDS } from '../firm/settings';
import { field, needed } from '../forms/fields';
import type { Line } from '../forms/spec';
import { percentOf, shareOf } from '../kit/decimal';
import { recipeForm } from '../rates/recipe';
import { people } from './people';
import { parts, production } from './priced';
import { factIn, keeps, lineOf, list, taken, tick, tickedIn, type Review, type SettingUp } from './review';

const CODE_FIELDS = ['code', 'title', 'unit', 'bought_in'] as const;

function codes(usual: readonly UsualFact[]): Review {
  return {
    kind: 'set-up-codes',
    title: 'The usual cost codes',
    record: keeps('codes', 'code'),
    fields: [],
    lists: list(
      'codes',
      'Hours, parts and bills are charged to them',
      [
        tick((line) => line.title || 'This code'),
        needed(field.text('code', 'Word', { when: taken })),
        needed(field.text('title', 'Covers', { when: taken, wide: true })),
        field.text('unit', 'Measured in', { when: taken, unmarked: true }),
        field.text('bought_in', 'Bought in', { when: taken, unmarked: true }),
      ],
      (line) => line.shown ?? '',
    ),
    start: () => ({ fields: {}, lists: { codes: usual.map(lineOf) } }),
    facts: ({ lists }, _context, id) =>
      tickedIn(lists.codes).map((line, index) => factIn(usual, line, CODE_FIELDS, id(index))),
    says: () => 'The cost codes are kept.',
  };
}

const ofPay = (values: unknown, context: unknown, line: Line) =>
  taken(values, context, line) && line.calculated_on === 'pay';

function burden(usual: readonly UsualFact[]): Review {
  return {
    kind: 'set-up-burden',
    title: 'The usual labor burden',
    record: keeps('burden', 'rate'),
    fields: [],
    lists: list(
      'burden',
      'Federal figures name their source; your state and your insurer say the others',
      [
        tick((line) => line.shown ?? ''),
        needed(field.percent('percent', 'Percent of pay', { when: ofPay })),
        needed(
          field.qty('rate', (line) => BURDEN_ON[line.calculated_on as keyof typeof BURDEN_ON], {
            unit: () => '$',
            when: (values, context, line) => taken(values, context, line) && line.calculated_on !== 'pay',
          }),
        ),
        field.money('wage_base', 'Stops at pay of', { when: ofPay }),
        field.text('class', 'Only for class', {
          when: (values, context, line) => taken(values, context, line) && line.usual_class !== '',
        }),
        field.text('source', 'Where it is written', { when: taken, wide: true }),
      ],
      (line) => line.shown ?? '',
    ),
    start: () => ({
      fields: {},
      lists: {
        burden: usual.map((each, at) => {
          const line = lineOf(each, at);
          return { ...line, percent: percentOf(line.rate ?? ''), usual_class: line.class ?? '' };
        }),
      },
    }),
    facts: ({ lists }, _context, id) =>
      tickedIn(lists.burden).map((line, index) => {
        const rate = line.calculated_on === 'pay' ? shareOf(line.percent ?? '') : (line.rate ?? '');
        return factIn(usual, { ...line, rate }, ['rate', 'wage_base', 'class', 'source'], id(index));
      }),
    says: () => 'The labor burden is kept.',
  };
}

function standards(usual: readonly UsualFact[]): Review {
  const unit = (line: Line) => usual[Number(line.at)]?.measure_word ?? undefined;
  const isFigure = (line: Line) => unit(line) !== undefined;
  return {
    kind: 'set-up-standards',
    title: 'What code and company usually ask',
    record: keeps('standards', 'point'),
    fields: [],
    lists: list(
      'standards',
      'Your building office says what holds with you',
      [
        tick((line) => `${line.shown} (${line.origin === 'code' ? 'code' : 'company'})`),
        needed(
          field.qty('value', 'How much', {
            unit,
            when: (values, context, line) => taken(values, context, line) && isFigure(line),
          }),
        ),
        needed(
          field.choice(
            'asked',
            'Asked for',
            [
              { value: '1', label: 'Yes' },
              { value: '0', label: 'No' },
            ],
            { when: (values, context, line) => taken(values, context, line) && !isFigure(line) },
          ),
        ),
        field.text('source', 'Where it is written', { when: taken, wide: true, unmarked: true }),
      ],
      (line) => `${line.shown}, ${line.origin}`,
    ),
    start: () => ({
      fields: {},
      lists: { standards: usual.map(lineOf).map((line) => ({ ...line, asked: line.value ?? '' })) },
    }),
    facts: ({ lists }, _context, id) =>
      tickedIn(lists.standards).map((line, index) => {
        const value = (isFigure(line) ? line.value : line.asked) ?? '';
        return factIn(usual, { ...line, value }, ['value', 'source'], id(index));
      }),
    says: () => 'What code and company ask is kept.',
  };
}

function checklist(usual: readonly UsualFact[]): Review {
  return {
    kind: 'set-up-checklist',
    title: 'The usual checklist',
    record: keeps('checklist', 'point'),
    fields: [],
    lists: list(
      'checklist',
      'What is looked at on every job',
      [
        tick((line) => line.shown ?? ''),
        needed(field.text('words', 'What is looked at', { when: taken, wide: true })),
        field.check('waits', 'The completion packet waits for it', { when: taken }),
      ],
      (line) => line.shown ?? '',
    ),
    start: () => ({
      fields: {},
      lists: {
        checklist: usual.map((each, at) => ({
          ...lineOf(each, at),
          waits: each.fact.blocks === true ? 'yes' : '',
        })),
      },
    }),
    facts: ({ lists }, _context, id) =>
      tickedIn(lists.checklist).map((line, index) => ({
        ...factIn(usual, line, ['words'], id(index)),
        blocks: line.waits === 'yes',
      })),
    says: () => 'The checklist is kept.',
  };
}

function accounts(usual: readonly UsualFact[]): Review {
  return {
    kind: 'set-up-accounts',
    title: 'The usual accounts',
    record: keeps('accounts', 'account'),
    fields: [],
    lists: list(
      'accounts',
      'As they are called in your bookkeeper’s program',
      [
        tick((line) =>
          line.line ? JOURNAL_LINES[line.line as JournalLine].label : `Overhead: ${line.shown ?? ''}`,
        ),
        field.text('number', 'Number', { when: taken, unmarked: true }),
        needed(field.text('name', 'Name', { when: taken, wide: true })),
      ],
      (line) => line.shown ?? '',
    ),
    start: () => ({ fields: {}, lists: { accounts: usual.map(lineOf) } }),
    facts: ({ lists }, _context, id) =>
      tickedIn(lists.accounts).map((line, index) => factIn(usual, line, ['number', 'name'], id(index))),
    says: () => 'The accounts are kept.',
  };
}

/** What stands on the firm's papers. */
const ON_PAPER: readonly string[] = ['street', 'zip', 'phone', 'license', 'logo', 'lead_certificate'];

function letterhead(): Review {
  return {
    kind: 'set-up-letterhead',
    title: 'Letterhead',
    record: 'Keep the letterhead',
    fields: FIRM_FIELDS.filter((each) => ON_PAPER.includes(each.name)),
    start: ({ lists, today }) => ({ fields: draftOf(lists.firm, today), lists: {} }),
    facts: ({ fields }, _context, id) => [fact('firm', id(0), factOf(fields))],
    says: () => 'The letterhead is kept.',
    undo: false,
  };
}

/** How the company builds, begun from common practice. */
function recipe({ rates, lists }: SettingUp): Review {
  const form = recipeForm(undefined, rates.recipe_to_begin) as unknown as Review;
  return {
    ...form,
    kind: 'set-up-recipe',
    title: 'How we build',
    record: 'Keep it',
    start: (context, about) => {
      const values = form.start?.(context, about) ?? { fields: {}, lists: {} };
      return {
        ...values,
        fields: { ...values.fields, name: 'Our usual roof', usual: 'yes', date: lists.firm.date },
      };
    },
  };
}

/** The review that does a line of the list. */
export function reviewOf(step: SetUpStep, context: SettingUp): Review {
  const { usual } = context;
  switch (step) {
    case 'codes':
      return codes(usual.codes);
    case 'people':
      return people();
    case 'burden':
      return burden(usual.burden);
    case 'parts':
      return parts(usual.parts);
    case 'production':
      return production(usual.production);
    case 'standards':
      return standards(usual.standards);
    case 'recipe':
      return recipe(context);
    case 'letterhead':
      return letterhead();
    case 'checklist':
      return checklist(usual.checklist);
    case 'accounts':
      return accounts(usual.accounts);
  }
}

/** Where what is there already is changed. */
export const WHERE: Readonly<Record<SetUpStep, string>> = {
  codes: '#/rates/codes',
  people: '#/rates/people',
  burden: '#/rates/burden',
  parts: '#/rates/parts',
  production: '#/rates/production',
  standards: '#/firm',
  recipe: '#/rates/recipes',
  letterhead: '#/firm',
  checklist: '#/firm',
  accounts: '#/hand-off',
};

/** Whether a usual list of it is left to be looked over. */
export function isOffered(step: SetUpStep, usual: UsualLists): boolean {
  return step === 'people' || step === 'letterhead' || step === 'recipe' || usual[step].length > 0;
}
