/** Saying what a line of the bank is. */

import type { Bank } from '../bindings/Bank';
import type { BankItem } from '../bindings/BankItem';
import type { BankLineShown } from '../bindings/BankLineShown';
import { OTHER_BANK_LINES } from '../bindings/Labels';
import { total } from '../entry/calculate';
import { money } from '../entry/fields';
import { fact, filled } from '../facts';
import { choices } from '../forms/choices';
import { field, needed } from '../forms/fields';
import type { Line, Values } from '../forms/spec';
import { showDate } from '../kit/dates';
import { toMinor } from '../kit/money';
import type { FormSpec } from './context';
import { COST } from './overhead';

/** In which column of the fact each kind of payment is named. */
const COLUMNS: Readonly<Record<string, string>> = {
  payment: 'payment',
  refund: 'refund',
  'vendor-payment': 'vendor_payment',
  'overhead-cost': 'overhead_cost',
};

/** Of so many payments one is chosen: those that come nearest. */
const OFFERED = 40;

/** What a payment is, in a line. */
export function itemWords({ date, text, number }: BankItem, locale: string): string {
  return [text, number, showDate(date, locale)].filter(Boolean).join(', ');
}

/** Those with the line's amount first, then those that move the same way, the nearest day first. */
export function nearest(line: BankLineShown, free: readonly BankItem[]): BankItem[] {
  const amount = toMinor(line.amount);
  const days = (item: BankItem) => Math.abs(Date.parse(item.date) - Date.parse(line.date));
  const rank = (item: BankItem) => {
    const of = toMinor(item.amount);
    if (of === amount) return 0;
    return of < 0n === amount < 0n ? 1 : 2;
  };
  return [...free].sort((one, other) => rank(one) - rank(other) || days(one) - days(other)).slice(0, OFFERED);
}

const taken = ({ lists }: Values): Line[] => (lists.payments ?? []).filter((line) => line.take === 'yes');

export function whatItIs(line: BankLineShown, { shown, free }: Bank, locale: string): FormSpec {
  const proposed = new Set(line.items.map((item) => item.source.id));
  const offered = nearest(line, free);
  return {
    kind: 'bank-cleared',
    title: `${money(line.amount)} on ${showDate(line.date, locale)}: ${line.words}`,
    record: 'Record what it is',
    fields: [
      needed(
        field.choice('is', 'What it is', [
          { value: 'payments', label: 'Payments that the books hold' },
          ...choices(OTHER_BANK_LINES),
        ]),
      ),
      field.text('note', 'Note', { wide: true, when: ({ fields }) => fields.is !== 'payments' }),
    ],
    lists: [
      {
        name: 'payments',
        line: (each) => each.what ?? '',
        title: 'Which payments',
        empty: 'Every payment that the books hold has cleared.',
        fields: [field.check('take', (each) => `${each.what ?? ''}: ${money(each.amount ?? '0')}`)],
        when: ({ fields }) => fields.is === 'payments',
      },
    ],
    start: () => ({
      fields: { is: offered.length > 0 ? 'payments' : '' },
      lists: {
        payments: offered.map((item) => ({
          id: item.source.id,
          column: COLUMNS[item.source.kind] ?? '',
          amount: item.amount,
          what: itemWords(item, locale),
          take: proposed.has(item.source.id) ? 'yes' : '',
        })),
      },
    }),
    sums: (values) =>
      values.fields.is === 'payments'
        ? [
            { name: 'The bank’s line', value: line.amount },
            { name: 'They come to', value: total(taken(values).map((each) => each.amount)) },
          ]
        : [],
    problems: (values): Record<string, string> => {
      if (values.fields.is === 'something-else' && !values.fields.note?.trim()) {
        return { note: 'Type what it is.' };
      }
      if (values.fields.is !== 'payments') return {};
      const come = total(taken(values).map((each) => each.amount));
      if (taken(values).length === 0) return { '': 'Choose its payments, or say what else it is.' };
      if (toMinor(come) === toMinor(line.amount)) return {};
      return { '': `They come to ${money(come)}, and the bank’s line is ${money(line.amount)}.` };
    },
    facts: (values, _context, id) => {
      const payments = values.fields.is === 'payments';
      return [
        fact('bank-cleared', id(0), {
          date: line.date,
          statement: shown?.source.id,
          place: line.place,
          other: payments ? '' : values.fields.is,
          note: payments ? '' : values.fields.note,
          items: payments
            ? taken(values).map(({ id: payment, column }) => filled({ [column ?? '']: payment }))
            : [],
        }),
      ];
    },
    says: () => `${money(line.amount)} at the bank is settled.`,
    undo: 'It was not that',
  };
}

/** A cost that only the bank tells of, such as its fee. */
export function costOf(line: BankLineShown): FormSpec {
  return {
    ...COST,
    kind: `bank-cost-${line.date}`,
    start: () => ({
      fields: {
        date: line.date,
        description: line.words,
        amount: line.amount.replace(/^-/, ''),
        owed_from: 'bank',
      },
      lists: {},
    }),
  };
}
