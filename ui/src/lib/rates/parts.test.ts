import { render, screen, waitFor, within } from '@testing-library/svelte';
import userEvent from '@testing-library/user-event';
import { expect, it } from 'vitest';

import type { Rates } from '../bindings/Rates';
import FirmPage from '../firm/FirmPage.svelte';
import { AT_DESK, AT_BOOKS } from '../../../tests/desk';
import asks from '../../../tests/fixtures/import-ready.json';
import { faults } from '../../../tests/page';
import { program, refuse } from '../../../tests/program';
import fixture from '../../../tests/fixtures/rates.json';
import { desk } from '../start/desk.svelte';
import RatesPage from './RatesPage.svelte';

const rates = fixture as unknown as Rates;
const point = (place: number) => rates.check_points[place]!;

async function at(part: string, answers: Parameters<typeof program>[0] = {}) {
  const stands = program(answers);
  render(RatesPage, { part, locale: 'en-US' });
  await screen.findByRole('heading', { level: 2 });
  return stands;
}

async function atFirm(answers: Parameters<typeof program>[0] = {}) {
  const stands = program(answers);
  render(FirmPage, { locale: 'en-US' });
  await screen.findByRole('heading', { name: 'Code and company standard' });
  return stands;
}

it('shows what a package costs now, at whom, and leaves out what is retired', async () => {
  await at('parts');
  const row = screen.getByRole('row', { name: /^Laminated shingles laminated/ });
  const cells = within(row).getAllByRole('cell');
  expect(cells.slice(0, 7).map((cell) => cell.textContent?.trim())).toEqual([
    'Field shingles',
    'bundle',
    '33.3333 sq ft',
    'shingle',
    '35.70',
    'Three Forks Roofing Wholesale',
    '07/01/2026',
  ]);
  expect(screen.getByRole('row', { name: /^Slate-look shingles slate .* no price yet/ })).toBeTruthy();
  expect(screen.queryByText('Strip shingles, old wrap')).toBeNull();
  await userEvent.click(screen.getByLabelText('Retired ones too'));
  expect(screen.getByText('Strip shingles, old wrap')).toBeTruthy();
  await userEvent.type(screen.getByLabelText('Find'), 'ridge vent');
  expect(screen.getByText(`1 of ${rates.parts.length}`)).toBeTruthy();
});

it('records a new price where the part stands, and takes back one of its history', async () => {
  const { last, count } = await at('parts');
  await userEvent.click(screen.getByRole('button', { name: 'New price of Laminated shingles' }));
  await userEvent.click(screen.getByRole('button', { name: 'Keep the price' }));
  expect(screen.getByText('Price: type it.')).toBeTruthy();
  await userEvent.type(screen.getByLabelText('Price of a bundle'), '36.57');
  await userEvent.tab();
  await userEvent.click(screen.getByRole('button', { name: 'Keep the price' }));
  await waitFor(() => expect(count('record')).toBe(1));
  const laminated = rates.parts.find((part) => part.name === 'laminated');
  expect(last('record').facts).toEqual([
    {
      kind: 'part-price',
      id: expect.any(String),
      date: '2026-11-02',
      part: laminated?.id,
      vendor: laminated?.best?.vendor_id,
      price: '36.57',
    },
  ]);
  await waitFor(() => expect(count('rates')).toBe(2));
  await userEvent.click(screen.getByRole('button', { name: 'Prices of Laminated shingles' }));
  const history = screen.getByRole('list', { name: /newest first/ });
  expect(within(history).getAllByRole('listitem')).toHaveLength(3);
  await userEvent.click(within(history).getAllByRole('button', { name: /^Take back 34.50/ })[0]!);
  await waitFor(() => expect(last('reverse').id).toBe(laminated?.history[2]?.id));
});

it('adds a part, and retires one by a change', async () => {
  const { last, count } = await at('parts');
  await userEvent.click(screen.getByRole('button', { name: 'Add a part' }));
  await userEvent.type(screen.getByLabelText(/^Title/), 'Coil nails');
  await userEvent.type(screen.getByLabelText(/^Word/), 'nails');
  await userEvent.selectOptions(screen.getByLabelText('Answers which part of the roof'), 'fasteners');
  await userEvent.type(screen.getByLabelText(/^Bought by the/), 'box');
  await userEvent.type(screen.getByLabelText(/^One covers/), '7200');
  await userEvent.tab();
  await userEvent.click(screen.getByRole('button', { name: 'Add' }));
  await waitFor(() => expect(count('record')).toBe(1));
  expect(last('record').facts[0]).toMatchObject({
    kind: 'part',
    name: 'nails',
    item: 'fasteners',
    package: 'box',
    covers: '7200',
    retired: false,
  });
  expect(last('record').facts[0].free_area_sqin).toBeUndefined();
  await userEvent.click(await screen.findByRole('button', { name: 'Change Ridge vent, 4 ft pieces' }));
  await userEvent.click(await screen.findByLabelText(/^Retired: kept/));
  await userEvent.click(screen.getByRole('button', { name: 'Keep the change' }));
  await waitFor(() => expect(count('record')).toBe(2));
  const vent = rates.parts.find((part) => part.name === 'ridge-vent');
  expect(last('record').facts[0]).toMatchObject({ revises: vent?.id, free_area_sqin: '18', retired: true });
});

it('puts a rate beside what finished jobs took, and takes theirs over', async () => {
  const { last, count } = await at('production');
  expect(
    screen.getByRole('button', { name: /^Change Tear-off, Walkable, 4 to under 8 in 12, 2 stories: 1.263/ }),
  ).toBeTruthy();
  expect(screen.getByText(/An hour of a crew costs/).textContent).toContain('North 36.04');
  await userEvent.click(screen.getByRole('button', { name: /^Use 1.336283 for Tear-off/ }));
  await userEvent.selectOptions(screen.getByLabelText('Slope'), 'steep');
  await userEvent.click(screen.getByRole('button', { name: 'Keep the rate' }));
  await waitFor(() => expect(count('record')).toBe(1));
  expect(last('record').facts).toEqual([
    {
      kind: 'production-rate',
      id: expect.any(String),
      date: '2026-11-02',
      item: 'tear-off',
      steepness: 'steep',
      stories: 1,
      code: rates.observed[0]?.code_id,
      hours: '1.336283',
    },
  ]);
});

it('asks about a rate that is far from usual before it is kept', async () => {
  const told = '120 h for one square of field shingles is far from the usual 0.4 to 10 (common practice).';
  const { last } = await at('production', {
    far_from_usual: ({ typed }) => (typed.hours === '1.2' ? [told] : []),
  });
  await userEvent.click(screen.getByRole('button', { name: 'Add a rate' }));
  // Shingles are laid by the square: the program keeps the hours of a square foot.
  await userEvent.type(screen.getByLabelText(/^Hours for one square/), '120');
  await userEvent.tab();
  expect(await screen.findByText(told)).toBeTruthy();
  expect(last('far_from_usual')).toEqual({
    typed: { item: 'shingles', hours: '1.2', price: null, covers: null },
  });
  await userEvent.click(screen.getByRole('button', { name: 'Keep the rate' }));
  await waitFor(() => expect(last('record').facts[0]).toMatchObject({ hours: '1.2' }));
  expect(last('record').facts[0]).not.toHaveProperty('far_off');
});

it('says hours of what is laid by the square for a square, and begins a change with them', async () => {
  await at('production');
  const shingles = { name: /^Change Field shingles, Walkable, 4 to under 8 in 12, 1 stories: 2.02 hours/ };
  await userEvent.click(screen.getByRole('button', shingles));
  expect(await screen.findByLabelText(/^Hours for one square/)).toHaveProperty('value', '2.02');
  expect(screen.getByRole('row', { name: /^Field shingles Walkable.* square 2.02/ })).toBeTruthy();
});

it('keeps a refusal in the form that it is about', async () => {
  await at('production', { record: () => refuse('Work takes time.', 'hours') });
  await userEvent.click(screen.getByRole('button', { name: 'Add a rate' }));
  await userEvent.type(screen.getByLabelText(/^Hours for one/), '0');
  await userEvent.tab();
  await userEvent.click(screen.getByRole('button', { name: 'Keep the rate' }));
  await screen.findByText(/Work takes time/);
  expect(screen.getByLabelText(/^Hours for one/).getAttribute('aria-invalid')).toBe('true');
});

it('shows the old price, the new one and the change before a list is taken in', async () => {
  const change = {
    line: 2,
    part: 'Laminated shingles',
    vendor: 'Yard',
    package: 'bundle',
    since: '2026-12-01',
  };
  const price_changes = [
    { ...change, old: '34.5', new: '36.57', change: '0.06' },
    { ...change, line: 3, part: 'Strip shingles', old: null, new: '29.8', change: null },
  ];
  const { last } = await at('prices', { import_read: { ...asks, kind: 'prices', price_changes } });
  expect(screen.queryByLabelText('What is in it')).toBeNull();
  await userEvent.click(screen.getByRole('button', { name: 'Choose the file' }));
  const table = await screen.findByRole('table', { name: 'Prices that change' });
  expect(last('import_read').kind).toBe('prices');
  const said = within(table)
    .getAllByRole('row')
    .map((row) => row.textContent?.replace(/\s+/g, ' ').trim());
  expect(said[1]).toContain('34.50');
  expect(said[1]).toContain('36.57 a bundle');
  expect(said[1]).toContain('+6.0 %');
  expect(said[2]).toContain('none yet');
});

it('sets code and company side by side, each change a fact of its own', async () => {
  const { last, count } = await atFirm();
  const row = screen.getByRole('row', { name: /^Ice barrier at eaves, level/ });
  expect(row.textContent).toContain('24 in');
  expect(row.textContent).toContain('48 in');
  expect(screen.getByText('Check your local code.')).toBeTruthy();
  await userEvent.click(
    screen.getByRole('button', { name: 'Set what the code asks: Membrane along rakes, width' }),
  );
  await userEvent.type(screen.getByLabelText(/^How much/), '0');
  await userEvent.tab();
  await userEvent.click(screen.getByRole('button', { name: 'Keep it' }));
  expect(screen.getByText('Source: type it.')).toBeTruthy();
  await userEvent.type(screen.getByLabelText('Where it is written'), 'IRC R905');
  await userEvent.click(screen.getByRole('button', { name: 'Keep it' }));
  await waitFor(() => expect(count('record')).toBe(1));
  expect(last('record').facts).toEqual([
    {
      kind: 'standard',
      id: expect.any(String),
      topic: 'barrier-rake',
      origin: 'code',
      value: '0',
      source: 'IRC R905',
      date: '2026-11-02',
    },
  ]);
});

it('begins with the usual lists where there are none', async () => {
  const none = {
    ...rates,
    standards: rates.standards.map((row) => ({ ...row, code: null, company: null })),
    check_points: [],
  };
  const { count } = await atFirm({ rates: none, begin_standards: 29, begin_checklist: 24 });
  await userEvent.click(screen.getByRole('button', { name: 'Begin with the usual list' }));
  await waitFor(() => expect(count('begin_standards')).toBe(1));
  await userEvent.click(screen.getByRole('button', { name: 'Begin with the usual points' }));
  await waitFor(() => expect(count('begin_checklist')).toBe(1));
});

it('moves a point of the checklist, and retires one', async () => {
  const { last, count } = await atFirm();
  await userEvent.click(screen.getByRole('button', { name: `Down: ${point(0).words}` }));
  await waitFor(() => expect(count('record')).toBe(1));
  expect(last('record').facts).toMatchObject([
    {
      kind: 'check-point',
      revises: point(1).id,
      item: point(1).item,
      position: 1,
      blocks: point(1).blocks,
      retired: false,
    },
    { kind: 'check-point', revises: point(0).id, words: point(0).words, position: 2 },
  ]);
  expect(last('record').facts[1].item).toBeUndefined();
  await userEvent.click(screen.getByRole('button', { name: `Retire: ${point(3).words}` }));
  await waitFor(() => expect(count('record')).toBe(2));
  expect(last('record').facts).toMatchObject([{ revises: point(3).id, position: 4, retired: true }]);
});

it('shows the books parts and prices only, to read', async () => {
  desk.set({ ...AT_DESK, person: AT_BOOKS });
  await at('parts');
  expect(screen.queryByRole('link', { name: 'Production' })).toBeNull();
  expect(screen.queryByRole('button', { name: 'Add a part' })).toBeNull();
  expect(screen.getByRole('button', { name: 'Prices of Laminated shingles' })).toBeTruthy();
});

it.each(['parts', 'production', 'prices', 'firm'])(
  'has names and roles in order: %s',
  async (part) => {
    await (part === 'firm' ? atFirm() : at(part));
    if (part === 'parts') {
      await userEvent.click(screen.getByRole('button', { name: 'New price of Laminated shingles' }));
    }
    expect(await faults('region')).toEqual([]);
  },
  30_000,
);
