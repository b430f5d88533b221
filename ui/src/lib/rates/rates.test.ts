import { render, screen, waitFor } from '@testing-library/svelte';
import userEvent from '@testing-library/user-event';
import { expect, it } from 'vitest';

import type { Lists } from '../bindings/Lists';
import { AT_DESK, AT_BOOKS } from '../../../tests/desk';
import fixture from '../../../tests/fixtures/lists.json';
import { faults } from '../../../tests/page';
import { program, refuse } from '../../../tests/program';
import { desk } from '../start/desk.svelte';
import RatesPage from './RatesPage.svelte';
import { LISTS } from './spec';

const TODAY = '2026-11-03';
const lists = fixture as unknown as Lists;

async function at(part: string, answers: Parameters<typeof program>[0] = {}) {
  const stands = program(answers);
  render(RatesPage, { part, locale: 'en-US' });
  await screen.findByRole('heading', { level: 2 });
  return stands;
}

function spec(id: string) {
  const found = LISTS.find((list) => list.id === id);
  if (!found) throw new Error(`There is no list ${id}.`);
  return found;
}

it('adds a person with their pay, as two facts that name each other', async () => {
  const { last, count } = await at('people');
  await userEvent.click(screen.getByRole('button', { name: 'Add a person' }));
  await userEvent.type(screen.getByLabelText('Name'), 'Rosa Field');
  await userEvent.selectOptions(screen.getByLabelText(/^Crew/), 'North');
  await userEvent.type(screen.getByLabelText(/^Pay an hour/), '24.50');
  await userEvent.tab();
  expect(await screen.findByLabelText('From this day on')).toBeTruthy();
  await userEvent.click(screen.getByRole('button', { name: 'Add' }));
  await waitFor(() => expect(count('record')).toBe(1));
  const [person, pay] = last('record').facts;
  expect(person).toEqual({
    kind: 'person',
    id: expect.any(String),
    name: 'Rosa Field',
    role: 'crew',
    crew: 'North',
    language: 'en',
  });
  expect(pay).toEqual({
    kind: 'pay-rate',
    id: expect.any(String),
    date: '2026-11-02',
    person: person.id,
    hourly: '24.50',
  });
});

it('says what is missing before the program is asked', async () => {
  const { count } = await at('crews');
  await userEvent.click(screen.getByRole('button', { name: 'Add a crew' }));
  await userEvent.click(screen.getByRole('button', { name: 'Add' }));
  expect(screen.getByText('Name: type it.')).toBeTruthy();
  expect(count('record')).toBe(0);
});

it('puts a refusal at the field that it is about', async () => {
  await at('codes', { record: () => refuse('“tear” is already a code.', 'code') });
  await userEvent.click(screen.getByRole('button', { name: 'Add a cost code' }));
  await userEvent.type(screen.getByLabelText('Word'), 'tear');
  await userEvent.type(screen.getByLabelText('Covers'), 'Tear-off');
  await userEvent.click(screen.getByRole('button', { name: 'Add' }));
  await screen.findByText(/already a code/);
  expect(screen.getByLabelText('Word').getAttribute('aria-invalid')).toBe('true');
});

it('revises in place, and records nothing where nothing was changed', () => {
  let made = 0;
  const id = () => `id${(made += 1)}`;
  const vendors = spec('vendors');
  const row = vendors.rows(lists, 'en-US')[0];
  if (!row) throw new Error('The fixture has no vendor.');
  expect(vendors.facts({ ...row.values }, row, id, TODAY)).toEqual([]);
  expect(vendors.facts({ ...row.values, subcontractor: 'yes' }, row, id, TODAY)).toEqual([
    { kind: 'vendor', id: 'id1', revises: row.id, name: row.name, subcontractor: true },
  ]);
  // A vendor that gives time keeps it, whatever else is revised of it.
  const terms = { ...lists, vendors: lists.vendors.map((vendor) => ({ ...vendor, due_days: 30 })) };
  const inThirty = vendors.rows(terms, 'en-US')[0]!;
  expect(vendors.facts({ ...inThirty.values, name: 'Weir & Son' }, inThirty, id, TODAY)).toEqual([
    { kind: 'vendor', id: 'id2', revises: row.id, name: 'Weir & Son', subcontractor: false, due_days: 30 },
  ]);
  const crews = spec('crews');
  const crew = crews.rows(lists, 'en-US')[0];
  const since = '2026-12-01';
  expect(crews.facts({ ...crew?.values, size: '5', date: since }, crew, id, TODAY)).toEqual([
    { kind: 'crew', id: 'id3', revises: crew?.id, date: since, name: 'North', size: 5, hours_a_day: '8' },
  ]);
  const people = spec('people');
  const person = people.rows(lists, 'en-US').find((each) => each.name === 'Ada Quill');
  expect(
    people.facts({ ...person?.values, class: 'clerical', date: since }, person, id, TODAY),
  ).toMatchObject([{ kind: 'person', id: 'id4', revises: person?.id, date: since, class: 'clerical' }]);
  expect(
    crews.facts({ name: 'East', size: '2', hours_a_day: '8', date: since }, undefined, id, TODAY),
  ).toEqual([{ kind: 'crew', id: 'id5', name: 'East', size: 2, hours_a_day: '8' }]);
});

it('says with the Spanish of a person that no crew has corrected it', () => {
  const people = spec('people');
  const row = people.rows(lists, 'en-US').find((each) => each.name === 'Ada Quill');
  const typed = { ...row?.values, language: 'es', date: '2026-12-01' };
  expect(people.facts(typed, row, () => 'new', TODAY)).toMatchObject([
    { kind: 'person', revises: row?.id, language: 'es' },
  ]);
  const field = people.fields.find((each) => each.name === 'language');
  const hint = (language: string) =>
    field?.hint?.({ fields: { language }, lists: {} }, { today: TODAY, lists }, {});
  expect(hint('es')).toContain('no crew has corrected it');
  expect(hint('en')).toBeUndefined();
});

it('takes the same pay from an earlier day for a change', () => {
  const people = spec('people');
  const row = people.rows(lists, 'en-US').find((each) => each.name === 'Ada Quill');
  const typed = { ...row?.values, date: '2026-03-02' };
  expect(people.facts(typed, row, () => 'new', TODAY)).toEqual([
    { kind: 'pay-rate', id: 'new', date: '2026-03-02', person: row?.id, hourly: row?.values.hourly },
  ]);
  expect(people.facts({ ...typed, date: TODAY }, row, () => 'new', TODAY)).toEqual([]);
  // Another crew from an earlier day says nothing of the pay then.
  expect(people.facts({ ...typed, crew: '' }, row, () => 'new', TODAY)).toMatchObject([{ kind: 'person' }]);
});

it('raises pay without revising the person', () => {
  const people = spec('people');
  const row = people.rows(lists, 'en-US').find((each) => each.name === 'Ada Quill');
  expect(people.facts({ ...row?.values, hourly: '34', date: '2026-12-01' }, row, () => 'new', TODAY)).toEqual(
    [{ kind: 'pay-rate', id: 'new', date: '2026-12-01', person: row?.id, hourly: '34' }],
  );
});

it('keeps shares as shares and dollars as dollars', () => {
  const burden = spec('burden');
  const facts = burden.facts(
    {
      name: 'Employer’s Medicare',
      date: '2027-01-01',
      calculated_on: 'pay',
      percent: '1.45',
      rate: '',
      wage_base: '',
      class: '',
      on_premium: 'yes',
    },
    undefined,
    () => 'new',
    TODAY,
  );
  expect(facts).toEqual([
    {
      kind: 'burden-rate',
      id: 'new',
      date: '2027-01-01',
      name: 'Employer’s Medicare',
      calculated_on: 'pay',
      rate: '0.0145',
      on_premium: true,
    },
  ]);
  const shown = burden.rows(lists, 'en-US').map((row) => row.cells.join(' | '));
  expect(shown).toContain(
    "Workers' compensation | roofing | 07/01/2026 | Each $100 of pay | 14.85 |  | The insurer's letter of June 2026",
  );
});

it('shows the books no pay, and lets them change vendors only', async () => {
  desk.set({ ...AT_DESK, person: AT_BOOKS });
  await at('people');
  expect(screen.queryByRole('link', { name: 'People and pay' })).toBeNull();
  expect(screen.getByRole('heading', { level: 2, name: 'Cost codes' })).toBeTruthy();
  expect(screen.queryByRole('button', { name: /^Add/ })).toBeNull();
});

it.each(LISTS.map((list) => list.id))(
  'has names and roles in order: %s',
  async (part) => {
    await at(part);
    expect(await faults('region')).toEqual([]);
  },
  30_000,
);
