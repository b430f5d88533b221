import { render, screen, waitFor } from '@testing-library/svelte';
import userEvent from '@testing-library/user-event';
import { beforeEach, expect, it } from 'vitest';

import App from '../../App.svelte';
import { AT_DESK, AT_BOOKS, ON_CREW, NOTHING_OPEN } from '../../../tests/desk';
import { faults } from '../../../tests/page';
import { program, refuse } from '../../../tests/program';
import { toasts } from '../kit';
import { desk } from './desk.svelte';

const UNSEATED = { ...AT_DESK, person: null, pins: ['owner' as const] };

beforeEach(() => {
  desk.forget();
  Object.defineProperty(document, 'fonts', { configurable: true, value: { ready: Promise.resolve() } });
});

function at(state: Parameters<typeof program>[1], answers: Parameters<typeof program>[0] = {}) {
  const stands = program(answers, state);
  render(App);
  return stands;
}

it('offers three ways to begin, and the files that were open before', async () => {
  const { last } = at(NOTHING_OPEN, { open_recent: () => UNSEATED });
  await userEvent.click(await screen.findByRole('button', { name: 'Quill and Daughter Roofing' }));
  expect(last('open_recent')).toEqual({ path: 'quill/quill.tearoff' });
  await screen.findByRole('heading', { name: 'Who is at the desk?' });
});

it('says why a file could not be opened, and stays where it was', async () => {
  at(NOTHING_OPEN, { open_file: () => refuse('That file was made by a newer Tearoff.') });
  await userEvent.click(await screen.findByRole('button', { name: 'Open a firm’s file' }));
  await waitFor(() => expect(screen.getByText(/made by a newer Tearoff/)).toBeTruthy());
  expect(screen.getByRole('button', { name: 'Begin a new firm' })).toBeTruthy();
});

it('makes a new firm, once nothing is missing', async () => {
  const { last, count } = at(NOTHING_OPEN, { make_firm: () => AT_DESK });
  await userEvent.click(await screen.findByRole('button', { name: 'Begin a new firm' }));
  await userEvent.click(screen.getByRole('button', { name: 'Choose the place and make it' }));
  expect(count('make_firm')).toBe(0);
  expect(screen.getByText(/Type the firm’s name/)).toBeTruthy();
  await userEvent.type(screen.getByLabelText('The owner’s name'), 'Ada Fell');
  await userEvent.type(screen.getByLabelText('Name'), 'Fell Roofing');
  await userEvent.type(screen.getByLabelText('Town'), 'Lower Weir');
  await userEvent.type(screen.getByLabelText('State'), 'oh');
  const tax = screen.getByLabelText('On what is billed');
  await userEvent.clear(tax);
  await userEvent.type(tax, '7.25');
  await userEvent.click(screen.getByRole('button', { name: 'Choose the place and make it' }));
  await waitFor(() => expect(count('make_firm')).toBe(1));
  expect(last('make_firm').firm).toMatchObject({
    name: 'Fell Roofing',
    town: 'Lower Weir',
    state: 'OH',
    owner: 'Ada Fell',
    settings: { sales_tax: '0.0725', overtime_over_week: '40', material_tax_is_cost: true },
  });
  expect(last('make_firm').firm.settings.overtime_over_day).toBeUndefined();
});

it('gives a file that no longer opens new letters, where two copies were written on', async () => {
  const says = 'its copy holds another entry A 7: both were written under one letter.';
  const { last, count } = at(NOTHING_OPEN, {
    open_file: () => refuse(says),
    reletter: () => refuse('That is not the passphrase of this joining file.'),
  });
  await userEvent.click(await screen.findByRole('button', { name: 'Open a firm’s file' }));
  await screen.findByText(/both were written under one letter/);
  await userEvent.click(screen.getByRole('button', { name: 'Give a file new letters' }));
  await screen.findByText(/Here you choose the other copy, then the joining file/);
  await userEvent.type(screen.getByLabelText('The passphrase'), 'abcd efgh jkmn pqrs');
  await userEvent.click(screen.getByRole('button', { name: 'Choose the file, then the joining file' }));
  await screen.findByText(/That is not the passphrase of this joining file/);
  expect(last('reletter')).toEqual({ passphrase: 'abcd efgh jkmn pqrs' });
  expect(count('join_firm')).toBe(0);
});

it('asks the owner for the PIN, and nobody else', async () => {
  const sit = (args: { person: string; pin?: string }) => {
    if (args.pin === '0000') refuse('That is not the PIN.');
    return { ...AT_DESK, person: args.pin ? AT_DESK.person : AT_BOOKS };
  };
  const { last } = at(UNSEATED, { sit });
  await userEvent.click(await screen.findByRole('button', { name: 'Ruth Quill' }));
  await userEvent.type(screen.getByLabelText('The PIN of Ruth Quill'), '0000{Enter}');
  await screen.findByText(/That is not the PIN/);
  await userEvent.click(screen.getByRole('button', { name: 'Somebody else' }));
  await userEvent.click(screen.getByRole('button', { name: 'Nell Abara' }));
  await waitFor(() => expect(location.hash).toBe('#/books'));
  expect(last('sit')).toEqual({ person: AT_BOOKS.id });
});

it('shows each at the desk what they come for', async () => {
  at({ ...AT_DESK, person: AT_BOOKS });
  await screen.findByText('Nell Abara, books');
  expect(screen.queryByRole('link', { name: 'Jobs' })).toBeNull();
  expect(screen.getByRole('link', { name: 'Hand-off' })).toBeTruthy();
});

it('lands the crew on the site view, without any other place', async () => {
  at({ ...AT_DESK, person: ON_CREW });
  await screen.findByRole('heading', { level: 1, name: 'Site' });
  expect(screen.queryByRole('link', { name: 'Month end' })).toBeNull();
  await waitFor(() => expect(document.title).toBe('Site · Tearoff'));
});

it.each([
  ['nothing open', NOTHING_OPEN],
  ['nobody seated', UNSEATED],
])(
  'has names and roles in order: %s',
  async (_, state) => {
    at(state);
    await waitFor(() => expect(desk.state).toBeTruthy());
    expect(await faults()).toEqual([]);
  },
  30_000,
);

it('leaves what one person entered to nobody else to take back', () => {
  desk.set(AT_DESK);
  toasts.done('Hours of 2 people recorded.', () => undefined);
  desk.set({ ...AT_DESK });
  expect(toasts.shown).toHaveLength(1);
  desk.set({ ...AT_DESK, person: AT_BOOKS });
  expect(toasts.shown).toEqual([]);
});
