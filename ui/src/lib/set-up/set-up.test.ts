import { render, screen, waitFor, within } from '@testing-library/svelte';
import userEvent from '@testing-library/user-event';
import { expect, it } from 'vitest';

import type { Lists } from '../bindings/Lists';
import type { Rates } from '../bindings/Rates';
import type { UsualLists } from '../bindings/UsualLists';
import lists from '../../../tests/fixtures/new-lists.json';
import rates from '../../../tests/fixtures/rates.json';
import usual from '../../../tests/fixtures/usual-lists.json';
import setUp from '../../../tests/fixtures/what-is-set-up.json';
import { faults } from '../../../tests/page';
import { program, refuse } from '../../../tests/program';
import { Form } from '../forms/form.svelte';
import type { SettingUp } from './review';
import { reviewOf } from './reviews';
import SetUpPage from './SetUpPage.svelte';

const context: SettingUp = {
  today: '2026-11-03',
  lists: lists as unknown as Lists,
  rates: rates as unknown as Rates,
  usual: usual as unknown as UsualLists,
};

const CODES = { ...context.lists, codes: codesOf(context.usual) };

function codesOf({ codes }: UsualLists): Lists['codes'] {
  return codes.map(({ fact }, at) => ({
    id: `code-${at}`,
    code: String(fact.code),
    title: String(fact.title),
    unit: null,
    bought_in: null,
    position: at,
  }));
}

async function page(answers: Parameters<typeof program>[0] = {}) {
  const stands = program({ what_is_set_up: setUp, usual_lists: usual, lists, ...answers });
  render(SetUpPage);
  await screen.findByRole('heading', { level: 2 });
  await screen.findByText(/things are left before the first price/);
  return stands;
}

/** The facts of a review as it opens, after what is changed in it. */
function factsOf(
  step: Parameters<typeof reviewOf>[0],
  around = context,
  change?: (form: Form<SettingUp>) => void,
) {
  const spec = reviewOf(step, around);
  const form = new Form(spec, { context: () => around });
  change?.(form);
  return spec.facts?.(form.values, around, (index) => `id-${index}`) ?? [];
}

it('says what is left, and keeps a usual list with one press, changed where a person changed it', async () => {
  const { last, count } = await page();
  expect(screen.getByRole('status').textContent?.replace(/\s+/g, ' ')).toContain('6 of 10 things are left');
  expect(screen.getByRole('button', { name: 'Parts and prices: review' })).toHaveProperty('disabled', true);
  await userEvent.click(screen.getByRole('button', { name: 'Cost codes: review' }));
  const tear = within(screen.getByRole('group', { name: 'Tear-off' }));
  await userEvent.clear(tear.getByLabelText(/^Word/));
  await userEvent.type(tear.getByLabelText(/^Word/), 'rip');
  await userEvent.click(within(screen.getByRole('group', { name: 'Deck' })).getByRole('checkbox'));
  expect(await faults('region')).toEqual([]);
  await userEvent.click(screen.getByRole('button', { name: `Keep ${usual.codes.length - 1} codes` }));
  await waitFor(() => expect(count('record')).toBe(1));
  const { facts } = last('record');
  expect(facts).toHaveLength(usual.codes.length - 1);
  expect(facts[1]).toEqual({
    kind: 'cost-code',
    id: expect.any(String),
    code: 'rip',
    title: 'Tear-off',
    unit: 'square',
    position: 20,
  });
  expect(facts.map((fact: { code: string }) => fact.code)).not.toContain('deck');
});

it('asks what nobody can know for the firm, and shows what the program refuses', async () => {
  const { count } = await page({ record: () => refuse('The rate is not a rate') });
  await userEvent.click(screen.getByRole('button', { name: 'Labor burden: review' }));
  await userEvent.click(screen.getByRole('button', { name: /^Keep 6 rates/ }));
  const state = within(screen.getByRole('group', { name: 'State unemployment' }));
  expect(await state.findByText(/Percent of pay is missing/)).toBeTruthy();
  expect(count('record')).toBe(0);
  for (const name of ['State unemployment', "Workers' compensation", 'General liability']) {
    await userEvent.click(within(screen.getByRole('group', { name })).getAllByRole('checkbox')[0]!);
  }
  await userEvent.click(screen.getByRole('button', { name: /^Keep 3 rates/ }));
  expect(await screen.findByText(/The rate is not a rate/)).toBeTruthy();
  expect(count('record')).toBe(1);
});

it('keeps federal rates as they are written, with their source and wage base', () => {
  const [social, medicare] = factsOf('burden');
  expect(social).toMatchObject({
    kind: 'burden-rate',
    name: 'Social Security',
    date: context.lists.firm.date,
    rate: '0.062',
    wage_base: '184500.00',
    on_premium: true,
  });
  expect(medicare).toMatchObject({ rate: '0.0145', source: '26 USC 3111(b)' });
  expect(medicare).not.toHaveProperty('wage_base');
});

it('takes prices with the parts, of a vendor that is new', () => {
  const around = { ...context, lists: CODES };
  const facts = factsOf('parts', around, (form) => {
    form.values.fields.vendor = 'The Yard';
    form.values.lists.parts![0]!.price = '495.00';
    form.values.lists.parts![1]!.take = '';
  });
  const count = usual.parts.length - 1;
  const vendor = facts[0]!;
  expect(vendor).toEqual({ kind: 'vendor', id: `id-${2 * count}`, name: 'The Yard' });
  expect(facts.slice(1, count + 1).every(({ kind }) => kind === 'part')).toBe(true);
  expect(facts[1]).toMatchObject({ item: 'haul', code: 'haul', cost_kind: 'disposal', covers: '4' });
  expect(facts.at(-1)).toEqual({
    kind: 'part-price',
    id: `id-${count}`,
    date: context.lists.firm.date,
    part: 'id-0',
    vendor: vendor.id,
    price: '495.00',
  });
  expect(facts).toHaveLength(count + 2);
});

it('asks for hours by the square, and keeps them by the square foot', () => {
  const around = { ...context, lists: CODES };
  let shown = '';
  const facts = factsOf('production', around, (form) => {
    const shingles = form.values.lists.production!.find((line) => line.item === 'shingles')!;
    shown = `${shingles.walkable} h for one ${shingles.measure}`;
    shingles.walkable = '2.3';
  });
  expect(shown).toBe('2 h for one square');
  const of = facts.filter((each) => 'item' in each && each.item === 'shingles');
  expect(of.map((each) => 'hours' in each && each.hours)).toEqual(['0.019', '0.023', '0.027', '0.036']);
  expect(of[1]).toMatchObject({ steepness: 'walkable', stories: 1, code: 'shingle' });
  expect(new Set(facts.map(({ id }) => id)).size).toBe(facts.length);
});

it('asks for the code of a part where the firm has no code of the usual word', () => {
  const own = { ...CODES, codes: CODES.codes.filter((row) => row.code !== 'haul') };
  const spec = reviewOf('parts', { ...context, lists: own });
  const form = new Form(spec, { context: () => ({ ...context, lists: own }) });
  const [load, sheet] = form.values.lists.parts!;
  const code = spec.lists![0]!.fields.find((each) => each.name === 'code')!;
  expect(form.shows(code, load)).toBe(true);
  expect(form.shows(code, sheet)).toBe(false);
});

it('makes crew, people and pay of one table', () => {
  const facts = factsOf('people', context, (form) => {
    const [ada, tomas] = form.values.lists.people!;
    Object.assign(ada!, { name: 'Ada Rill', hourly: '31.50' });
    Object.assign(tomas!, { name: 'Tomas Weir', hourly: '0' });
  });
  expect(facts.map(({ kind }) => kind)).toEqual(['crew', 'person', 'person', 'pay-rate']);
  expect(facts[0]).toMatchObject({ name: 'Crew 1', size: 2, hours_a_day: '8' });
  expect(facts[1]).toMatchObject({ name: 'Ada Rill', role: 'crew', crew: facts[0]!.id, class: 'roofing' });
  expect(facts[3]).toMatchObject({ person: facts[1]!.id, hourly: '31.50', date: context.lists.firm.date });
});

it.each([
  ['Code and company standard', 'standards', /^Keep \d+ points/],
  ['Workmanship checklist', 'checklist', /^Keep \d+ points/],
  ['Account names', 'accounts', /^Keep \d+ accounts/],
  ['How we build', 'recipe', 'Keep it'],
  ['Letterhead', 'letterhead', 'Keep the letterhead'],
] as const)('does “%s” by one review', async (title, step, keeps) => {
  const { last, count } = await page();
  await userEvent.click(screen.getByRole('button', { name: `${title}: review` }));
  await userEvent.click(await screen.findByRole('button', { name: keeps }));
  await waitFor(() => expect(count('record')).toBe(1));
  const { facts } = last('record');
  const many = step === 'recipe' || step === 'letterhead' ? 1 : usual[step].length;
  expect(facts).toHaveLength(many);
  if (step === 'standards') {
    const offered = usual.standards.map(({ fact }) => fact.value);
    expect(facts.map((fact: { value: string }) => fact.value)).toEqual(offered);
  }
  if (step === 'recipe') expect(facts[0]).toMatchObject({ name: 'Our usual roof', usual: true });
});
