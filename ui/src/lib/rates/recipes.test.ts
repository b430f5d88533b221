import { render, screen, waitFor, within } from '@testing-library/svelte';
import userEvent from '@testing-library/user-event';
import { expect, it } from 'vitest';

import type { Rates } from '../bindings/Rates';
import { AT_BOOKS, AT_DESK } from '../../../tests/desk';
import { faults } from '../../../tests/page';
import { program } from '../../../tests/program';
import fixture from '../../../tests/fixtures/rates.json';
import { desk } from '../start/desk.svelte';
import RatesPage from './RatesPage.svelte';

const rates = fixture as unknown as Rates;

async function open(answers: Parameters<typeof program>[0] = {}) {
  const stands = program(answers);
  render(RatesPage, { part: 'recipes', locale: 'en-US' });
  await screen.findByRole('heading', { name: 'How we build' });
  return stands;
}

it('lists how the firm builds, the usual one first', async () => {
  await open();
  const rows = within(screen.getByRole('table')).getAllByRole('row').slice(1);
  expect(rows.map((row) => within(row).getByRole('rowheader').textContent?.trim())).toEqual([
    expect.stringMatching(/^Our usual roof\s+the usual one$/),
    'Barns and sheds',
  ]);
  expect(rows[0]?.textContent).toContain('Ridge vent, Intake vent');
  expect(rows[1]?.textContent).toContain('none');
  expect(await faults('region')).toEqual([]);
});

it('asks every field of a recipe, and keeps a change from a day on', async () => {
  const { last, count } = await open();
  await userEvent.click(screen.getByRole('button', { name: 'Change Our usual roof' }));
  const dialog = within(await screen.findByRole('dialog'));
  const steep = dialog.getByLabelText(/^Steep from/);
  await userEvent.clear(steep);
  await userEvent.type(steep, '9');
  await userEvent.tab();
  await userEvent.click(dialog.getByRole('button', { name: 'Keep the change' }));
  await waitFor(() => expect(count('record')).toBe(1));
  const [kept] = last('record').facts as [Record<string, unknown>];
  const before = rates.recipes[0]!.recipe;
  const { exhaust, intake, waste, ...rest } = before;
  // What is left open stands nowhere in the fact.
  const unset = [
    'eave_rows',
    'insulation_depth_in',
    'shingle_nails',
    'vented_eave_ft',
    'downspouts',
  ] as const;
  const others = Object.fromEntries(Object.entries(rest).filter(([, value]) => value !== null));
  expect(unset.map((name) => before[name])).toEqual(unset.map(() => null));
  expect(kept).toMatchObject({
    ...others,
    kind: 'recipe',
    name: 'Our usual roof',
    date: '2026-11-02',
    usual: true,
    retired: false,
    steep_from: '9',
  });
  expect(unset.map((name) => kept[name] ?? '')).toEqual(unset.map(() => ''));
  expect([kept.eave_rows, kept.downspouts]).toEqual([undefined, undefined]);
  const vents = kept.vents as { vent: string }[];
  expect(vents.map(({ vent }) => vent)).toEqual([...exhaust, intake!].map(({ vent }) => vent));
  expect(kept.waste).toHaveLength(waste.length);
  expect(kept.waste).toEqual(expect.arrayContaining([{ item: 'shingles', cut_up: 'some', share: '0.13' }]));
  // Nothing of the recipe is left unasked: what the program knows of one stands in the fact.
  const asked = new Set([...Object.keys(kept), 'exhaust', 'intake', ...unset]);
  expect(Object.keys(before).filter((name) => !asked.has(name))).toEqual([]);
});

it('adds one that begins as the usual one is', async () => {
  const { last, count } = await open();
  await userEvent.click(screen.getByRole('button', { name: 'Add a recipe' }));
  const dialog = within(await screen.findByRole('dialog'));
  await userEvent.click(dialog.getByRole('button', { name: 'Add' }));
  expect(dialog.getByText('Name: type it.')).toBeTruthy();
  await userEvent.type(dialog.getByLabelText(/^Name/), 'Porches');
  await userEvent.click(dialog.getByLabelText(/^Gutters are hung/));
  await userEvent.clear(dialog.getByLabelText(/^Downspouts/));
  await userEvent.type(dialog.getByLabelText(/^Downspouts/), '2');
  await userEvent.tab();
  await userEvent.click(dialog.getByRole('button', { name: 'Add' }));
  await waitFor(() => expect(count('record')).toBe(1));
  expect(last('record').facts[0]).toMatchObject({
    name: 'Porches',
    usual: false,
    gutters: true,
    downspouts: 2,
    exposure_in: rates.recipe_to_begin.exposure_in,
  });
});

it('is read and not changed by whoever keeps the books', async () => {
  desk.set({ ...AT_DESK, person: AT_BOOKS });
  await open();
  expect(screen.queryByRole('button', { name: /^Change|^Add/ })).toBeNull();
});
