/** The form for a pile of bills: one after another, each as it lies in the hand. */

import type { Habit } from '../bindings/Habit';
import { COST_KINDS } from '../bindings/Labels';
import { amountsOf, isCredit, linesOf, partOf, recordedLines, sumsOf, ticked } from '../entry/bill-lines';
import { below, total } from '../entry/calculate';
import { BOUGHT_KINDS } from '../entry/fields';
import { fact } from '../facts';
import { inSentence } from '../forms/choices';
import { field, needed } from '../forms/fields';
import { isBlank, pathOf, type Line, type Values } from '../forms/spec';
import { call } from '../ipc';
import { isZero } from '../kit/money';
import type { BooksContext, FieldSpec, FormSpec } from './context';
import { account } from './overhead';

const jobLine = (): Line => ({ cost_kind: 'material' });
const ownLine = (): Line => ({});

const vendorOf = ({ fields }: Values, { pile }: BooksContext) =>
  pile?.vendors.find((each) => each.name === fields.vendor?.trim());

const orderOf = ({ fields }: Values, { pile }: BooksContext) =>
  pile?.orders.find((each) => each.id === fields.purchase_order);

function words({ code, cost_kind, account: own }: Habit): string {
  return own ?? `${code ?? ''}, ${cost_kind ? inSentence(COST_KINDS[cost_kind]) : ''}`;
}

const vendor: FieldSpec = needed(
  field.text('vendor', 'From whom', {
    wide: true,
    known: ({ pile }) => pile?.vendors.map((each) => each.name) ?? [],
    hint: (values, context) => {
      const known = vendorOf(values, context);
      if (!values.fields.vendor?.trim()) return undefined;
      if (!known) return 'A new vendor: added to the list with this.';
      return known.last.length > 0 ? `Last for ${known.last.map(words).join('; ')}.` : undefined;
    },
  }),
);

/** The unit in which a code's material is bought. */
const boughtIn = (line: Line, { lists }: BooksContext): string =>
  lists.codes.find((row) => row.code === line.code)?.bought_in ?? '';

/** A vendor was chosen: what its last bill was for stands in the first line, as long as nobody typed another. */
function begin(values: Values, context: BooksContext) {
  const last = vendorOf(values, context)?.last[0];
  const { lines = [], overhead = [] } = values.lists;
  const untouched =
    lines.every((line) => isBlank(line, jobLine())) && overhead.every((line) => isBlank(line, ownLine()));
  if (!last || !untouched) return;
  const own = context.lists.overhead.find((row) => row.name === last.account);
  values.lists.lines = last.code ? [{ ...jobLine(), code: last.code, cost_kind: last.cost_kind ?? '' }] : [];
  values.lists.overhead = own ? [{ account: own.id }] : [];
}

/** An order was chosen: its lines stand there as they were ordered. */
function fill(values: Values, context: BooksContext) {
  const order = orderOf(values, context);
  if (!order) {
    values.fields.completes_order = '';
    return;
  }
  values.fields.vendor = order.vendor;
  values.lists.lines = linesOf(order.job, order.lines);
}

export const PILE: FormSpec = {
  kind: 'bill',
  title: 'Bill',
  record: 'Record, then the next',
  fields: [
    vendor,
    needed(field.text('reference', 'Number on it')),
    needed(field.date('date', 'Date on it')),
    field.date('due', 'To be paid by'),
    field.choice(
      'purchase_order',
      'Fills the order',
      (context, values) =>
        (context.pile?.orders ?? [])
          .filter((order) => !values.fields.vendor?.trim() || order.vendor === values.fields.vendor.trim())
          .map((order) => ({ value: order.id, label: `${order.number} · ${order.vendor} · ${order.job}` })),
      { none: 'None' },
    ),
    field.check('completes_order', 'Nothing more comes on that order', {
      when: (values) => Boolean(values.fields.purchase_order),
    }),
    field.check('credit', 'It is a vendor credit', {
      hint: (values) => (isCredit(values) ? 'Its lines are recorded below zero.' : undefined),
    }),
    field.photo('picture', 'Picture of the bill', { of: () => 'of the bill' }),
    field.note('note', 'Note', { wide: true }),
  ],
  lists: [
    {
      name: 'lines',
      line: 'Line',
      title: 'For jobs',
      blank: jobLine,
      add: (lines) => (lines.length === 0 ? 'Add a line for a job' : 'Add another line for a job'),
      fields: [
        ticked(),
        needed(field.text('job', 'Job', { known: ({ pile }) => pile?.jobs.map((job) => job.number) ?? [] })),
        needed(
          field.choice(
            'code',
            'Code',
            ({ lists }) =>
              lists.codes.map((row) => ({ value: row.code, label: `${row.code} · ${row.title}` })),
            { none: 'Choose', wide: true },
          ),
        ),
        needed(field.choice('cost_kind', 'Kind', BOUGHT_KINDS)),
        field.text('description', 'What', { wide: true }),
        field.qty('quantity', 'How many', {
          negative: true,
          unit: (line, context) => line.unit || boughtIn(line, context) || undefined,
        }),
        field.rate('unit_price', 'Price of one'),
        needed(field.money('amount', 'Amount before tax', { negative: true })),
        field.money('tax', 'Tax', { negative: true }),
        field.qty('came', 'How many came', { when: (values) => Boolean(values.fields.purchase_order) }),
        field.choice(
          'condition',
          'For a condition',
          ({ pile }, _values, line) =>
            (pile?.conditions ?? [])
              .filter((found) => found.job === line.job?.trim())
              .map((found) => ({ value: found.id, label: found.number })),
          {
            none: 'None',
            when: (_values, { pile }, line) =>
              (pile?.conditions ?? []).some((found) => found.job === line.job?.trim()),
          },
        ),
      ],
    },
    {
      name: 'overhead',
      line: 'Own line',
      title: 'For the firm itself',
      blank: ownLine,
      add: (lines) =>
        lines.length === 0 ? 'Add a line that is no job’s' : 'Add another line that is no job’s',
      fields: [
        account,
        field.text('description', 'What', { wide: true }),
        needed(field.money('amount', 'Amount before tax', { negative: true })),
        field.money('tax', 'Tax', { negative: true }),
      ],
    },
  ],
  start: ({ today }) => ({ fields: { date: today }, lists: { lines: [jobLine()], overhead: [] } }),
  // The next bill of the pile is often of the same day.
  again: ({ fields }) => ({
    fields: { date: fields.date ?? '' },
    lists: { lines: [jobLine()], overhead: [] },
  }),
  changed: (values, path, context) => {
    if (path === 'vendor') begin(values, context);
    if (path === 'due') values.fields.due_typed = values.fields.due ? 'yes' : '';
    if (path === 'purchase_order') fill(values, context);
    const at = pathOf(path);
    const line = at?.list === 'lines' ? values.lists.lines?.[at.index] : undefined;
    if (line && (at?.name === 'code' || at?.name === 'cost_kind')) {
      line.unit = line.cost_kind === 'material' ? boughtIn(line, context) : '';
    }
  },
  asks: (values) => {
    const { fields, lists } = values;
    const amounts = amountsOf(values);
    const bill = {
      vendor: fields.vendor?.trim() ?? '',
      reference: fields.reference?.trim() ?? '',
      credit: isCredit(values),
      date: fields.date || null,
      purchase_order: fields.purchase_order || null,
      lines: (lists.lines ?? [])
        .filter((line) => line.amount && line.code)
        .map((line) => ({
          job: line.job?.trim() ?? '',
          code: line.code ?? '',
          quantity: line.quantity || null,
          amount: line.amount ?? '0',
          came: line.came || null,
          part: partOf(line) || null,
        })),
    };
    if (bill.vendor === '' && !amounts) return undefined;
    return {
      key: JSON.stringify([amounts?.key, bill]),
      ask: async () => {
        const priced = await amounts?.ask();
        const known = await call('check_bill', { bill });
        return (now) => {
          priced?.(now);
          if (!now.fields.due_typed) now.fields.due = known.due ?? '';
          now.fields.same = known.same?.id ?? '';
          now.fields.same_words = known.same ? `${known.same.date}|${known.same.total}` : '';
          now.fields.differences = known.differences.map((each) => each.text).join('\n');
        };
      },
    };
  },
  sums: ({ lists }) => sumsOf([...(lists.lines ?? []), ...(lists.overhead ?? [])]),
  cautions: ({ fields }) => (fields.differences ? fields.differences.split('\n') : []),
  problems: ({ fields, lists }): Record<string, string> => {
    if (fields.same) return { reference: 'This bill of this vendor is recorded already.' };
    const none = [...(lists.lines ?? []), ...(lists.overhead ?? [])].length === 0;
    return none ? { '': 'Type what was bought: for a job, or for the firm itself.' } : {};
  },
  facts: (values, context, id) => {
    const name = values.fields.vendor?.trim() ?? '';
    const known = vendorOf(values, context);
    const { reference, date, due, purchase_order, picture, note } = values.fields;
    const bill = fact('bill', id(0), {
      reference: reference?.trim(),
      date,
      due,
      purchase_order,
      picture,
      note,
      vendor: known?.id ?? id(1),
      completes_order: values.fields.completes_order === 'yes' || undefined,
      credit: isCredit(values) || undefined,
      lines: recordedLines(values, 'lines'),
      overhead: recordedLines(values, 'overhead'),
    });
    return known ? [bill] : [fact('vendor', id(1), { name }), bill];
  },
  says: ({ fields }) => `Bill ${fields.reference ?? ''} of ${fields.vendor ?? ''} recorded.`,
};

/** Whether a bill comes to anything: what a pile adds up to leaves the others out. */
export function comesTo(values: Values): string {
  const lines = [...(values.lists.lines ?? []), ...(values.lists.overhead ?? [])];
  const sum = total(lines.flatMap((line) => [line.amount, line.tax]));
  return isCredit(values) && !isZero(sum) ? below(sum) : sum;
}
