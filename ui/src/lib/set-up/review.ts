/** What the reviews of a first day have in common: lines of a usual list, ticked, changed, and recorded at once. */

import type { Lists } from '../bindings/Lists';
import type { Rates } from '../bindings/Rates';
import type { SetUpStep } from '../bindings/SetUpStep';
import type { TypedRate } from '../bindings/TypedRate';
import type { UsualFact } from '../bindings/UsualFact';
import type { UsualLists } from '../bindings/UsualLists';
import { filled, type FactForm } from '../facts';
import { field, needed } from '../forms/fields';
import type { Around, FieldSpec, FormSpec, Line } from '../forms/spec';
import { call } from '../ipc';

/** What a review may look at. */
export interface SettingUp extends Around {
  lists: Lists;
  rates: Rates;
  usual: UsualLists;
}

export type Review = FormSpec<SettingUp>;
export type Field = FieldSpec<SettingUp>;

export const taken = (_values: unknown, _context: unknown, line: Line) => line.take === 'yes';

/** A line of a usual list: ticked, with its figures as text, and the place of its fact in the list. */
export function lineOf(usual: UsualFact, at: number): Line {
  const fields = Object.entries(usual.fact).map(([name, value]): [string, string] => [name, String(value)]);
  return { ...Object.fromEntries(fields), shown: usual.title, take: 'yes', at: String(at) };
}

/** The fact of a line as it was offered, with what was changed in it. */
export function factIn(
  usual: readonly UsualFact[],
  line: Line,
  changed: readonly string[],
  id: string,
): FactForm {
  const offered = usual[Number(line.at)]?.fact ?? {};
  const own = Object.fromEntries(changed.map((name) => [name, line[name]?.trim()]));
  return { ...filled({ ...offered, ...own }), id } as unknown as FactForm;
}

export function tick(label: (line: Line) => string): Field {
  return { ...field.check('take', label), wide: true };
}

/** The code that a line is charged to is asked where the firm has no code of the usual word. */
export const code: Field = needed(
  field.choice(
    'code',
    'Charged to the code',
    ({ lists }) => lists.codes.map((row) => ({ value: row.code, label: `${row.code}: ${row.title}` })),
    {
      none: 'Choose',
      when: (values, { lists }, line) =>
        taken(values, lists, line) && !lists.codes.some((row) => row.code === line.usual_code),
    },
  ),
);

/** With the usual word where the firm has it, and open where it has not. */
export function charged(line: Line, { lists }: SettingUp): Line {
  const known = lists.codes.some((row) => row.code === line.code);
  return { ...line, usual_code: line.code ?? '', code: known ? (line.code ?? '') : '' };
}

export function list(step: SetUpStep, title: string, fields: readonly Field[], name: (line: Line) => string) {
  return [{ name: step, line: name, title, fields, inRows: true }] as const;
}

export function tickedIn(lines: readonly Line[] | undefined): Line[] {
  return (lines ?? []).filter((line) => line.take === 'yes');
}

export function keeps(step: SetUpStep, one: string): Review['record'] {
  return ({ lists }) => {
    const { length } = tickedIn(lists[step]);
    return length === 1 ? `Keep one ${one}` : `Keep ${length} ${one}s`;
  };
}

/** Asks of each line that was changed whether it is near what is usual, and says it before it is kept. */
export function askedAbout(
  typed: (lines: Line) => TypedRate[],
  step: SetUpStep,
): Pick<Review, 'asks' | 'cautions'> {
  return {
    asks: ({ lists }) => {
      const rates = tickedIn(lists[step]).flatMap(typed);
      if (rates.length === 0) return undefined;
      return {
        key: JSON.stringify(rates),
        ask: async () => {
          const told = await Promise.all(rates.map((each) => call('far_from_usual', { typed: each })));
          return ({ fields }) => {
            fields.far_off = told.flat().join('\n');
          };
        },
      };
    },
    cautions: ({ fields }) => (fields.far_off ? fields.far_off.split('\n') : []),
  };
}
