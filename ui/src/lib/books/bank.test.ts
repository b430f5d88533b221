import { fireEvent, render, screen, waitFor, within } from '@testing-library/svelte';
import userEvent from '@testing-library/user-event';
import { beforeEach, expect, it } from 'vitest';

import { AT_BOOKS, AT_DESK } from '../../../tests/desk';
import fixture from '../../../tests/fixtures/bank.json';
import preview from '../../../tests/fixtures/import-preview.json';
import { A_LOOK, hearKeys } from '../../../tests/page';
import { program } from '../../../tests/program';
import type { Bank } from '../bindings/Bank';
import { desk } from '../start/desk.svelte';
import { nearest } from './bank';
import BooksPage from './BooksPage.svelte';

const bank = fixture as Bank;

hearKeys();

beforeEach(() => desk.set({ ...AT_DESK, person: AT_BOOKS }));

async function at(answers: Parameters<typeof program>[0] = {}, about?: string) {
  const stands = program(answers);
  render(BooksPage, { part: 'bank', about, locale: 'en-US' });
  await waitFor(() => expect(stands.count('bank')).toBe(1));
  await screen.findByRole('button', { name: 'Take in a statement' });
  return stands;
}

const none: Bank = {
  statements: [],
  shown: null,
  lines: [],
  fitting: 0,
  not_cleared: [],
  free: [],
  balances: null,
};

it(
  'shows what differs before what fits, and both balances',
  async () => {
    await at();
    const heads = screen.getAllByRole('heading', { level: 3 }).map((each) => each.textContent ?? '');
    const place = (begins: string) => heads.findIndex((each) => each.startsWith(begins));
    expect(place('Differences')).toBeGreaterThanOrEqual(0);
    expect(place('Differences')).toBeLessThan(place('Lines that fit'));
    expect(place('Lines that fit')).toBeLessThan(place('Matched'));
    const differences = within(screen.getByRole('group', { name: 'Differences' }));
    expect(differences.getByText('Monthly fee')).toBeTruthy();
    expect(differences.getByText(/In the books with −186\.40: Paid to/)).toBeTruthy();
    // A fee can be recorded from here; a check with another amount is put right where it was paid.
    expect(differences.getAllByRole('button', { name: /^Record a cost/ })).toHaveLength(1);
    const balances = within(screen.getByRole('group', { name: 'How both come to the same' }));
    expect(balances.getByText('By the bank')).toBeTruthy();
    // Money that leaves the bank is no loss.
    expect(differences.getAllByText(/−15\.00/)[0]?.closest('.loss')).toBeNull();
  },
  A_LOOK,
);

it(
  'matches what fits by one key, and shows what is left',
  async () => {
    const { last, count } = await at();
    await userEvent.keyboard('m');
    await waitFor(() => expect(count('match_bank')).toBe(1));
    expect(last('match_bank')).toEqual({ ends: bank.shown?.ends });
    await waitFor(() => expect(count('bank')).toBe(2));
  },
  A_LOOK,
);

it(
  'says by the keyboard what the first difference is, and refuses what does not come to it',
  async () => {
    const { last, count } = await at();
    const user = userEvent.setup();
    await user.keyboard('s');
    const dialog = within(await screen.findByRole('dialog'));
    const first = bank.lines.find((line) => line.state === 'other-amount')!;
    // What it was taken for is ticked, and does not come to the line.
    await user.click(dialog.getByRole('button', { name: 'Record what it is' }));
    expect(await dialog.findByText(/They come to .*, and the bank’s line is/)).toBeTruthy();
    expect(count('record')).toBe(0);
    await user.selectOptions(dialog.getByLabelText(/^What it is/), 'bank-error');
    await user.click(dialog.getByRole('button', { name: 'Record what it is' }));
    await waitFor(() => expect(count('record')).toBe(1));
    expect(last('record').facts).toMatchObject([
      {
        kind: 'bank-cleared',
        date: first.date,
        statement: bank.shown?.source.id,
        place: first.place,
        other: 'bank-error',
        items: [],
      },
    ]);
  },
  A_LOOK,
);

it(
  'names the payments of a line that fits another one',
  async () => {
    const { last, count } = await at();
    const user = userEvent.setup();
    const line = bank.lines.find((each) => each.state === 'fits')!;
    await user.click(screen.getAllByRole('button', { name: /^It is something else/ })[0]!);
    const dialog = within(await screen.findByRole('dialog'));
    await user.click(dialog.getByRole('button', { name: 'Record what it is' }));
    await waitFor(() => expect(count('record')).toBe(1));
    const { facts } = last('record');
    expect(facts[0].items).toEqual([{ vendor_payment: line.items[0]!.source.id }]);
    expect(facts[0]).not.toHaveProperty('other');
  },
  A_LOOK,
);

it(
  'takes in what was dropped, and asks for the balance that the file does not tell',
  async () => {
    const asks = {
      ...preview,
      kind: 'bank',
      problems: [],
      problem_count: 0,
      questions: [
        {
          about: 'closing_balance',
          field: null,
          column: null,
          message: 'What stood at the bank after October 31, 2026? The file does not say.',
          answers: [],
          lines: [2],
        },
      ],
    };
    const { last, count } = program({ bank: none, import_read: asks });
    render(BooksPage, { part: 'bank', locale: 'en-US' });
    // Without a statement the file is asked for at once.
    const zone = await screen.findByText('or drop it here');
    const file = new File([new Uint8Array([1, 2, 3])], 'october.ofx');
    await fireEvent.drop(zone, { dataTransfer: { files: [file] } });
    await waitFor(() => expect(count('import_read')).toBe(1));
    expect(last('import_read')).toEqual({ kind: 'bank', choices: null, dropped: 'AQID' });
    const user = userEvent.setup();
    await user.type(await screen.findByLabelText('Balance at the end'), '620');
    await user.tab();
    await user.click(screen.getByRole('button', { name: 'That is it' }));
    await waitFor(() => expect(count('import_read')).toBe(2));
    expect(last('import_read')).toMatchObject({ kind: 'bank', choices: { closing_balance: '620.00' } });
    expect(last('import_read')).not.toHaveProperty('dropped');
  },
  A_LOOK,
);

it('offers the payments that come nearest first', () => {
  const item = (amount: string, date: string) => ({
    source: { ...bank.lines[0]!.items[0]!.source, id: `${amount} ${date}` },
    date,
    text: 'Payment',
    number: null,
    amount,
  });
  const line = { ...bank.lines[0]!, amount: '-20.00', date: '2026-10-10' };
  const free = [item('20.00', '2026-10-10'), item('-5.00', '2026-10-01'), item('-20.00', '2026-08-01')];
  const ids = nearest(line, [...free, item('-7.00', '2026-10-09')]).map((each) => each.amount);
  expect(ids).toEqual(['-20.00', '-7.00', '-5.00', '20.00']);
});
