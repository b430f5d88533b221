import { render, screen, waitFor } from '@testing-library/svelte';
import userEvent from '@testing-library/user-event';
import { beforeEach, expect, it } from 'vitest';

import { AT_DESK, AT_BOOKS } from '../../../tests/desk';
import lists from '../../../tests/fixtures/lists.json';
import preview from '../../../tests/fixtures/hand-off-preview.json';
import { faults } from '../../../tests/page';
import { program, refuse } from '../../../tests/program';
import { JOURNAL_LINES } from '../bindings/Labels';
import { toasts } from '../kit';
import { desk } from '../start/desk.svelte';
import HandOffPage from './HandOffPage.svelte';
import { isFigureColumn, shownCell } from './shown';

beforeEach(() => {
  desk.set({ ...AT_DESK, person: AT_BOOKS });
});

async function at(answers: Parameters<typeof program>[0] = {}) {
  const stands = program(answers);
  render(HandOffPage, { locale: 'en-US' });
  await screen.findByRole('heading', { name: 'Account names' });
  return stands;
}

it('begins with the newest closed month, and shows that every total ties', async () => {
  const { last } = await at();
  await screen.findByRole('heading', { name: 'Control totals' });
  expect(last('hand_off_preview')).toEqual({ month: '2026-09' });
  expect(screen.getAllByText('ties')).toHaveLength(preview.control_totals.length);
});

it('writes nothing when something does not tie', async () => {
  const broken = preview.control_totals.map((total, index) => ({ ...total, ties: index !== 1 }));
  await at({ hand_off_preview: { ...preview, control_totals: broken } });
  await screen.findByText('does not tie');
  expect(screen.getByRole<HTMLButtonElement>('button', { name: 'Write the folder' }).disabled).toBe(true);
});

it('writes the folder, tells how far it is, and where it went', async () => {
  const done = {
    ...preview,
    folder: 'given/quill-2026-09-part-1',
    debits: '297341.85',
    already_there: false,
  };
  const { count } = await at({ hand_off: done });
  await userEvent.click(await screen.findByRole('button', { name: 'Write the folder' }));
  await screen.findByText('given/quill-2026-09-part-1');
  await waitFor(() => expect(count('hand_off_preview')).toBe(2));
  expect(toasts.shown.at(-1)?.text).toBe('Part 1 of September 2026 is written.');
});

it('says why nothing was written', async () => {
  await at({ hand_off: () => refuse('The disk is full.') });
  await userEvent.click(await screen.findByRole('button', { name: 'Write the folder' }));
  await waitFor(() => expect(toasts.shown.at(-1)?.text).toBe('The disk is full.'));
  expect(screen.queryByRole('progressbar')).toBeNull();
});

it('says why a month has nothing to hand off', async () => {
  await at({ hand_off_preview: () => refuse('Nothing is booked in 2026-09 yet.') });
  await screen.findByText(/Nothing is booked in 2026-09 yet/);
});

it('shows the first rows of the file that is chosen', async () => {
  await at();
  await userEvent.click(await screen.findByRole('button', { name: /^Invoices invoices\.csv/ }));
  await screen.findByRole('group', { name: 'First rows of invoices.csv' });
});

it('keeps the firm’s account names, those that were changed', async () => {
  const { last, count } = await at();
  const expense = screen.getByLabelText(/^Loss expense/);
  await userEvent.clear(expense);
  await userEvent.type(expense, '6900 Losses foreseen');
  await userEvent.click(screen.getByRole('button', { name: 'Keep one name' }));
  await waitFor(() => expect(count('record')).toBe(1));
  expect(last('record').facts).toEqual([
    { kind: 'account', id: expect.any(String), line: 'loss-expense', name: '6900 Losses foreseen' },
  ]);
  await waitFor(() => expect(count('lists')).toBe(2));
});

it('has a title for every line of the journal, and lists what was handed off before', async () => {
  await at();
  expect(lists.accounts.map(({ line }) => line).sort()).toEqual(Object.keys(JOURNAL_LINES).sort());
  expect(screen.getByRole('link', { name: 'August 2026' }).getAttribute('href')).toBe('#/hand-off/2026-08');
});

it('shows figures as figures and numbers of things as they stand', () => {
  expect(shownCell('-1234.50', 'en-US')).toBe('\u22121,234.50');
  expect(shownCell('454', 'en-US', 'hours')).toBe('454');
  expect(shownCell('1200 Customers', 'en-US')).toBe('1200 Customers');
  expect(isFigureColumn(['1051', '1052'])).toBe(false);
  expect(isFigureColumn(['', '10.00'])).toBe(true);
  expect(isFigureColumn(['', ''])).toBe(false);
});

it('has names and roles in order', async () => {
  await at();
  await screen.findByRole('heading', { name: 'Control totals' });
  expect(await faults('region')).toEqual([]);
});
