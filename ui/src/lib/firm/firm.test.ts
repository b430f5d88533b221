import { render, screen, waitFor, within } from '@testing-library/svelte';
import userEvent from '@testing-library/user-event';
import { expect, it } from 'vitest';

import { AT_DESK, AT_BOOKS } from '../../../tests/desk';
import asks from '../../../tests/fixtures/import-preview.json';
import ready from '../../../tests/fixtures/import-ready.json';
import { faults } from '../../../tests/page';
import { program, refuse } from '../../../tests/program';
import { toasts } from '../kit';
import { desk } from '../start/desk.svelte';
import FirmPage from './FirmPage.svelte';
import { onLines } from '../kit/file';
import { ROLES } from '../bindings/Labels';
import { problemsIn } from '../forms/spec';
import { emptyFirm, factOf, FIRM_FIELDS } from './settings';

const GOOD = {
  good: true,
  entries: 1793,
  attachments: 4,
  withheld: 0,
  elsewhere: 0,
  entries_a_second: 90_000,
  problems: [],
  more: 0,
};

async function at(answers: Parameters<typeof program>[0] = {}) {
  const stands = program(answers);
  render(FirmPage, { locale: 'en-US' });
  await screen.findByRole('heading', { name: 'Settings' });
  return stands;
}

it('records a change of the settings from its day on', async () => {
  const { last, count } = await at();
  await userEvent.click(screen.getByRole('button', { name: 'Change the settings' }));
  const overhead = screen.getByLabelText('Rate, an hour worked');
  await userEvent.clear(overhead);
  await userEvent.type(overhead, '14.25');
  await userEvent.click(screen.getByRole('button', { name: 'Keep the settings' }));
  await waitFor(() => expect(count('record')).toBe(1));
  expect(last('record').facts[0]).toMatchObject({
    kind: 'firm',
    date: '2026-11-02',
    name: 'Quill and Daughter Roofing',
    overhead_rate: '14.25',
    sales_tax: '0',
  });
  expect(last('record').facts[0].overtime_over_day).toBeUndefined();
});

it('shows the last good back-up, and makes another', async () => {
  const { count } = await at({ back_up: GOOD });
  expect(screen.getByText('quill/back-ups/quill-2026-11-01.tearoff')).toBeTruthy();
  await userEvent.click(screen.getByRole('button', { name: 'Back up now' }));
  await screen.findByText(/The back-up: 1,793 facts and/);
  expect(count('desk_state')).toBe(1);
});

it('names what verify found, and what to do', async () => {
  const wrong = {
    entry: 'A-17',
    kind: 'bill',
    recorded_at: null,
    place: 'bill',
    problem: 'its hash is wrong',
  };
  await at({ verify: { ...GOOD, good: false, problems: [wrong], more: 2 } });
  await userEvent.click(screen.getByRole('button', { name: 'Verify the file' }));
  await screen.findByText('A-17, bill: its hash is wrong');
  expect(screen.getByText(/restore the last good back-up/)).toBeTruthy();
  expect(screen.getByText('And 2 more.')).toBeTruthy();
});

it('says so when work was stopped', async () => {
  await at({ verify: () => refuse('Stopped as asked.') });
  await userEvent.click(screen.getByRole('button', { name: 'Verify the file' }));
  await waitFor(() => expect(toasts.shown.at(-1)?.text).toBe('Stopped as asked.'));
  expect(screen.queryByRole('progressbar')).toBeNull();
});

it('sets a PIN that was typed twice the same', async () => {
  const { last, count } = await at({ set_pin: { ...AT_DESK, pins: ['owner'] } });
  const owner = within(screen.getByRole('form', { name: ROLES.owner.label }));
  await userEvent.type(owner.getByLabelText('New PIN'), '471100');
  await userEvent.type(owner.getByLabelText('New PIN, once more'), '471200');
  await userEvent.click(owner.getByRole('button', { name: 'Set the PIN' }));
  expect(owner.getByText(/The two are not the same/)).toBeTruthy();
  expect(count('set_pin')).toBe(0);
  await userEvent.clear(owner.getByLabelText('New PIN, once more'));
  await userEvent.type(owner.getByLabelText('New PIN, once more'), '471100');
  await userEvent.click(owner.getByRole('button', { name: 'Set the PIN' }));
  await waitFor(() => expect(last('set_pin')).toEqual({ role: 'owner', pin: '471100' }));
  await owner.findByLabelText('The owner’s PIN that holds now');
});

it('gives the books a PIN of their own, by the owner’s', async () => {
  desk.set({ ...AT_DESK, pins: ['owner'] });
  const { last } = await at({ set_pin: { ...AT_DESK, pins: ['owner', 'books'] } });
  const books = within(screen.getByRole('form', { name: ROLES.books.label }));
  await userEvent.type(books.getByLabelText('New PIN'), 'five ridge caps');
  await userEvent.type(books.getByLabelText('New PIN, once more'), 'five ridge caps');
  await userEvent.click(books.getByRole('button', { name: 'Set the PIN' }));
  expect(books.getByText('Type the PIN that holds now.')).toBeTruthy();
  await userEvent.type(books.getByLabelText('The owner’s PIN that holds now'), '471100');
  await userEvent.click(books.getByRole('button', { name: 'Set the PIN' }));
  await waitFor(() =>
    expect(last('set_pin')).toEqual({ role: 'books', old: '471100', pin: 'five ridge caps' }),
  );
});

it('asks what a file does not say, shows it as it would be, and takes it in', async () => {
  const read = ({ choices }: { choices: unknown }) => (choices === null ? asks : ready);
  const applied = { facts: 4, rows: 3, duplicates: 0, makes: [], totals: ready.new_totals };
  const { last, count } = await at({ import_read: read, import_apply: applied });
  await userEvent.click(screen.getByRole('button', { name: 'Choose the file' }));
  await screen.findByText(/begin with the month or with the day/);
  expect(screen.getByRole<HTMLButtonElement>('button', { name: /^Take in/ }).disabled).toBe(true);
  await userEvent.click(screen.getByRole('button', { name: /^month\/day\/year/ }));
  expect(last('import_read')).toMatchObject({
    kind: 'bills',
    choices: {
      separator: 'comma',
      date_order: 'month-first',
      mapping: { vendor: 'vendor', amount: 'amount' },
    },
  });
  await userEvent.click(await screen.findByRole('button', { name: 'Take in 3 rows' }));
  await waitFor(() => expect(count('import_apply')).toBe(1));
  expect(toasts.shown.at(-1)?.text).toContain('3 rows are taken in, as 4 facts.');
});

it('changes which column is what, and leaves the others as they were', async () => {
  const { last } = await at({ import_read: ready });
  await userEvent.click(screen.getByRole('button', { name: 'Choose the file' }));
  await userEvent.selectOptions(await screen.findByLabelText(/^unit price/), 'quantity');
  const { mapping } = last('import_read').choices;
  expect(mapping.unit_price ?? mapping['unit price']).toBe('quantity');
  expect(mapping.vendor).toBe('vendor');
});

it('leaves the page as it was when no file was chosen', async () => {
  const chosen = () => {
    throw { code: 'nothing-chosen', field: null, message: 'No file was chosen.', remedy: 'Choose one.' };
  };
  await at({ import_read: chosen });
  await userEvent.click(screen.getByRole('button', { name: 'Choose the file' }));
  expect(screen.queryByText('As it would be')).toBeNull();
  expect(toasts.shown).toEqual([]);
});

it('keeps the back-ups and the PIN to the owner', async () => {
  desk.set({ ...AT_DESK, person: AT_BOOKS });
  await at();
  expect(screen.queryByRole('heading', { name: 'Back-ups' })).toBeNull();
  expect(screen.queryByRole('button', { name: 'Change the settings' })).toBeNull();
  expect(screen.getByRole('heading', { name: 'Read in a CSV' })).toBeTruthy();
});

it('names lines, and what a firm lacks', () => {
  expect(onLines([])).toBe('');
  expect(onLines([3])).toBe('Line 3');
  expect(onLines([3, 4, 9])).toBe('Lines 3, 4 and 9');
  expect(onLines([1, 2, 3, 4, 5, 6, 7, 8, 9, 10])).toBe('Lines 1, 2, 3, 4, 5, 6, 7, 8 and 2 more');
  expect(factOf(emptyFirm('2026-01-01')).overtime_over_day).toBeUndefined();
  const missing = problemsIn(
    { fields: FIRM_FIELDS },
    { fields: emptyFirm(), lists: {} },
    { today: '2026-01-01' },
  );
  expect(Object.keys(missing)).toEqual(['name', 'town', 'state']);
});

it('has names and roles in order', async () => {
  await at({ import_read: asks });
  await userEvent.click(screen.getByRole('button', { name: 'Choose the file' }));
  await screen.findByText('Which column is what');
  expect(await faults('region')).toEqual([]);
});
