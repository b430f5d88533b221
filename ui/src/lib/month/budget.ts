/** The form in which the year's budget is set, month by month. */

import type { BudgetMonth } from '../bindings/BudgetMonth';
import { fact } from '../facts';
import { field } from '../forms/fields';
import type { FormSpec, Line } from '../forms/spec';
import { showMonth } from './months';

const FIELDS = ['sales', 'cost', 'overhead', 'crew_days'] as const;

/** A month as it stands in the form. */
function lineOf({ month, budget }: BudgetMonth): Line {
  return {
    month,
    sales: budget?.earned ?? '',
    cost: budget?.cost ?? '',
    overhead: budget?.overhead_cost ?? '',
    crew_days: budget?.crew_days ?? '',
  };
}

const typed = (line: Line) => FIELDS.filter((name) => (line[name] ?? '').trim() !== '');

/** The open months of the year, each with what is meant for it. A line that stays as it was says nothing. */
export function budgetForm(months: readonly BudgetMonth[], locale: string): FormSpec {
  const open = months.filter((each) => !each.closed).map(lineOf);
  const changed = (line: Line) => {
    const before = open.find((each) => each.month === line.month);
    return typed(line).length > 0 && FIELDS.some((name) => (line[name] ?? '') !== (before?.[name] ?? ''));
  };
  return {
    kind: `budget-${months[0]?.month.slice(0, 4) ?? ''}`,
    title: `Budget of ${months[0]?.month.slice(0, 4) ?? ''}`,
    record: ({ lists }) => {
      const count = (lists.months ?? []).filter(changed).length;
      return count === 1 ? 'Keep one month' : `Keep ${count} months`;
    },
    fields: [],
    lists: [
      {
        name: 'months',
        line: (line) => showMonth(line.month ?? '', locale),
        named: true,
        inRows: true,
        keepsBlank: true,
        fields: [
          field.money('sales', 'Sales', { unmarked: true }),
          field.money('cost', 'Cost of jobs', { unmarked: true }),
          field.money('overhead', 'Overhead', { unmarked: true }),
          field.qty('crew_days', 'Crew-days', { unmarked: true }),
        ],
      },
    ],
    start: () => ({ fields: {}, lists: { months: open.map((line) => ({ ...line })) } }),
    problems: ({ lists }) => {
      const found: Record<string, string> = {};
      (lists.months ?? []).forEach((line, index) => {
        const missing = FIELDS.find((name) => (line[name] ?? '').trim() === '');
        if (missing && typed(line).length > 0)
          found[`months[${index}].${missing}`] = 'Type it too; zero is an answer.';
      });
      return found;
    },
    facts: ({ lists }, { today }, id) =>
      (lists.months ?? [])
        .filter(changed)
        .map(({ month, sales, cost, overhead, crew_days }, index) =>
          fact('budget', id(index), { date: today, month, sales, cost, overhead, crew_days }),
        ),
    says: () => 'The budget is kept.',
    undo: 'The budget was not meant so',
  };
}
