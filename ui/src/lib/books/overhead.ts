/** Forms for what the firm costs beside its jobs. */

import type { Recurring } from '../bindings/Recurring';
import type { UsualAccount } from '../bindings/UsualAccount';
import { EVERY, OWED_FROM } from '../bindings/Labels';
import { fact } from '../facts';
import { choices } from '../forms/choices';
import { field, needed } from '../forms/fields';
import type { FieldSpec, FormSpec } from './context';

export const account: FieldSpec = needed(
  field.choice(
    'account',
    'Account',
    ({ lists }) =>
      lists.overhead.map((row) => ({
        value: row.id,
        label: row.number ? `${row.number} · ${row.name}` : row.name,
      })),
    { none: 'Choose', wide: true },
  ),
);

export const ACCOUNT: FormSpec = {
  kind: 'overhead-account',
  title: 'Overhead account',
  record: 'Keep the account',
  fields: [field.text('number', 'Number'), needed(field.text('name', 'Name', { wide: true }))],
  facts: ({ fields }, _context, id) => [fact('overhead-account', id(0), { ...fields })],
  says: ({ fields }) => `The account ${fields.name ?? ''} is kept.`,
  undo: 'The account is not needed',
};

/** A later version of an account: its number or name changes, what stands in it does not. */
export function changed(row: { id: string | null; number: string | null; name: string }): FormSpec {
  return {
    ...ACCOUNT,
    title: 'Change the account',
    start: () => ({ fields: { number: row.number ?? '', name: row.name }, lists: {} }),
    facts: ({ fields }, _context, id) => [
      fact('overhead-account', id(0), { ...fields, revises: row.id ?? '' }),
    ],
    undo: false,
  };
}

/** The usual accounts that are not there yet, all at once. */
export function usualAccounts(usual: readonly UsualAccount[]): FormSpec {
  return {
    kind: 'usual-accounts',
    title: 'The usual accounts',
    record: ({ lists }) => {
      const { length } = (lists.accounts ?? []).filter((line) => line.take === 'yes');
      return length === 1 ? 'Keep one account' : `Keep ${length} accounts`;
    },
    fields: [],
    lists: [
      {
        name: 'accounts',
        line: (line) => line.name ?? '',
        fields: [field.check('take', (line) => `${line.number ?? ''} ${line.name ?? ''}`)],
      },
    ],
    start: () => ({
      fields: {},
      lists: { accounts: usual.map(({ number, name }) => ({ number, name, take: 'yes' })) },
    }),
    facts: ({ lists }, _context, id) =>
      (lists.accounts ?? [])
        .filter((line) => line.take === 'yes')
        .map(({ number, name }, index) => fact('overhead-account', id(index), { number, name })),
    says: () => 'The accounts are kept.',
    undo: 'The accounts are not needed',
  };
}

const amount: FieldSpec = needed(field.money('amount', 'Amount'));
const description: FieldSpec = needed(field.text('description', 'What for', { wide: true }));
const from: FieldSpec = needed(field.choice('owed_from', 'Where it comes from', choices(OWED_FROM)));

export const COST: FormSpec = {
  kind: 'overhead-cost',
  title: 'Cost without a bill',
  record: 'Record the cost',
  fields: [needed(field.date('date', 'Date')), account, description, { ...amount, negative: true }, from],
  start: ({ today }) => ({ fields: { date: today, owed_from: 'bank' }, lists: {} }),
  facts: ({ fields }, _context, id) => [fact('overhead-cost', id(0), { ...fields })],
  says: ({ fields }) => `${fields.description ?? ''} is recorded.`,
};

/** A cost that comes again, as it is due now. */
export function due(cost: Recurring): FormSpec {
  const bill = cost.vendor !== null;
  return {
    ...COST,
    kind: `due-${cost.id}`,
    title: bill ? `Bill of ${cost.vendor}: ${cost.description}` : cost.description,
    record: bill ? 'Record the bill' : 'Record the cost',
    fields: bill
      ? [
          needed(field.date('date', 'Date on it')),
          needed(field.text('reference', 'Number on it')),
          amount,
          field.money('tax', 'Tax'),
          field.date('due', 'To be paid by'),
        ]
      : [needed(field.date('date', 'Date')), amount],
    start: ({ today }) => ({ fields: { date: cost.due ?? today, amount: cost.amount }, lists: {} }),
    facts: ({ fields }, { lists }, id) =>
      bill
        ? [
            fact('bill', id(0), {
              date: fields.date,
              reference: fields.reference,
              due: fields.due,
              vendor: lists.vendors.find((row) => row.name === cost.vendor)?.id ?? '',
              overhead: [
                {
                  account: cost.account,
                  description: cost.description,
                  amount: fields.amount,
                  ...(fields.tax ? { tax: fields.tax } : {}),
                  recurring: cost.id,
                },
              ],
            }),
          ]
        : [
            fact('overhead-cost', id(0), {
              date: fields.date,
              account: cost.account,
              description: cost.description,
              amount: fields.amount,
              owed_from: cost.owed_from ?? 'bank',
              recurring: cost.id,
            }),
          ],
    says: () => `${cost.description} is recorded.`,
  };
}

export const RECURRING: FormSpec = {
  kind: 'recurring-cost',
  title: 'Cost that comes again',
  record: 'Keep it',
  fields: [
    description,
    account,
    amount,
    needed(field.choice('every', 'How often', choices(EVERY))),
    needed(field.date('date', 'First due on')),
    field.date('until', 'Until'),
    field.choice(
      'vendor',
      'Whose bill it is',
      ({ lists }) => lists.vendors.map((row) => ({ value: row.id, label: row.name })),
      { none: 'No bill comes' },
    ),
    { ...from, when: ({ fields }) => !fields.vendor },
  ],
  start: ({ today }) => ({ fields: { date: today, every: 'month', owed_from: 'bank' }, lists: {} }),
  facts: ({ fields }, _context, id) => [
    fact('recurring-cost', id(0), { ...fields, owed_from: fields.vendor ? '' : fields.owed_from }),
  ],
  says: ({ fields }) => `${fields.description ?? ''} is offered when it is due.`,
  undo: 'It does not come again',
};

/** It comes no more after a day. */
export function ended(
  cost: Recurring,
  lists: { vendors: readonly { id: string; name: string }[] },
): FormSpec {
  return {
    kind: 'recurring-ended',
    title: `${cost.description} comes no more`,
    record: 'End it',
    fields: [needed(field.date('until', 'Last due on'))],
    start: ({ today }) => ({ fields: { until: today }, lists: {} }),
    facts: ({ fields }, _context, id) => [
      fact('recurring-cost', id(0), {
        revises: cost.id,
        date: cost.first,
        account: cost.account,
        description: cost.description,
        amount: cost.amount,
        every: cost.every,
        vendor: lists.vendors.find((row) => row.name === cost.vendor)?.id ?? '',
        owed_from: cost.owed_from ?? '',
        until: fields.until,
      }),
    ],
    says: () => `${cost.description} comes no more.`,
    undo: false,
  };
}
