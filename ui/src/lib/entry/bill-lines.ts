/** What every form of a bill does with its lines. */

import { filled } from '../facts';
import type { OrderedLine } from '../bindings/OrderedLine';
import { field } from '../forms/fields';
import type { Around, FieldSpec, Line, Question, Sum, Values } from '../forms/spec';
import { call } from '../ipc';
import { below, total } from './calculate';

/** It takes off what is owed: its lines are typed as printed, and recorded below zero. */
export const isCredit = ({ fields }: Values): boolean => fields.credit === 'yes';

/** What a line's amount was last worked out from: a person may type another over it. */
function pricedAs(line: Line): string {
  return line.quantity && line.unit_price ? `${line.quantity} × ${line.unit_price}` : '';
}

/** A quantity and a printed price give a line's amount, as long as nobody types another. Nothing where none waits. */
export function amountsOf({ lists }: Values): Question | undefined {
  const lines = (lists.lines ?? []).filter((line) => pricedAs(line) !== (line.priced_as ?? ''));
  const asked = lines.filter((line) => pricedAs(line) !== '');
  if (asked.length === 0) return undefined;
  const takes = asked.map((line) => ({ quantity: line.quantity ?? '', unit_price: line.unit_price ?? '' }));
  return {
    key: JSON.stringify(takes),
    ask: async () => {
      const amounts = await call('line_amounts', { lines: takes });
      const amountOf = new Map(asked.map((line, index) => [pricedAs(line), amounts[index]]));
      return (now) => {
        for (const line of now.lists.lines ?? []) {
          const amount = amountOf.get(pricedAs(line));
          if (amount === undefined || line.priced_as === pricedAs(line)) continue;
          line.amount = amount;
          line.priced_as = pricedAs(line);
        }
      };
    },
  };
}

/** Whether a line stands on the bill: one that an order brought is ticked. */
const isOn = (line: Line): boolean => line.ordered !== 'yes' || line.take === 'yes';

/** A line that an order brought is ticked where it stands on the bill. */
export function ticked<C extends Around>(): FieldSpec<C> {
  return field.check<C>('take', 'On this bill', {
    when: (_values, _context, line) => line.ordered === 'yes',
  });
}

/** The lines of an order, to be ticked. */
export function linesOf(job: string, lines: readonly OrderedLine[]): Line[] {
  return lines.map((line) => ({
    job,
    code: line.code,
    cost_kind: line.cost_kind,
    description: line.description ?? '',
    quantity: line.quantity ?? '',
    unit: line.unit ?? '',
    amount: line.amount,
    part: line.part ?? '',
    part_of: line.code,
    ordered: 'yes',
    take: 'yes',
  }));
}

/** The part that an order named, as long as the line stands under the code of that part. */
export const partOf = (line: Line): string => (line.part_of === line.code && line.part) || '';

/** A bill's lines as they are recorded. */
export function recordedLines(values: Values, list: string): Line[] {
  const signed = (amount = '') => (amount && isCredit(values) ? below(amount) : amount);
  const lines = (values.lists[list] ?? []).filter(isOn);
  return lines.map((typed) => {
    const { priced_as: _from, ordered: _ordered, take: _take, part_of: _of, ...line } = typed;
    return filled<Line>({
      ...line,
      part: partOf(typed),
      job: line.job?.trim() ?? '',
      unit: (line.quantity && line.unit) || '',
      amount: signed(line.amount),
      tax: signed(line.tax),
    });
  });
}

/** What a bill comes to as it is typed. */
export function sumsOf(all: readonly Line[]): Sum[] {
  const lines = all.filter(isOn);
  const net = total(lines.map((line) => line.amount));
  const tax = total(lines.map((line) => line.tax));
  return [
    { name: 'before tax', value: net },
    { name: 'tax', value: tax },
    { name: 'in all', value: total([net, tax]) },
  ];
}
