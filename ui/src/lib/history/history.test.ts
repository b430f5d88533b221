import { render, screen, waitFor, within } from '@testing-library/svelte';
import userEvent from '@testing-library/user-event';
import { expect, it } from 'vitest';

import history from '../../../tests/fixtures/condition-history.json';
import { faults } from '../../../tests/page';
import { program, refuse } from '../../../tests/program';
import recordUnrecovered from '../../../tests/fixtures/record-unrecovered.json';
import recordPieces from '../../../tests/fixtures/record-pieces.json';
import { showMoney, sumMoney, toMinor } from '../kit/money';
import HistoryPage from './HistoryPage.svelte';

const NO_GROUP = {
  ...history.all,
  conditions: 0,
  jobs: 0,
  sheets: '0',
  spent: '0.00',
  billed: '0.00',
  unrecovered: '0.00',
};
const EMPTY = {
  ...history,
  years: [],
  all: NO_GROUP,
  by_place: [],
  by_cause: [],
  by_age: [],
  by_crew: [],
  by_month: [],
  unrecovered: [],
  kick_outs: { ...history.kick_outs, found: NO_GROUP },
};

async function at(record: object = history, year?: number) {
  const stands = program({
    condition_history: record,
    open_history: ({ which }) =>
      which.figure === 'pieces-cost' ? recordPieces : { ...recordUnrecovered, figure: which.figure },
  });
  const target = document.body.appendChild(document.createElement('main'));
  const { container } = render(HistoryPage, { target, props: { year, locale: 'en-US' } });
  await screen.findByRole('combobox', { name: /Year/ });
  return { ...stands, container };
}

const money = (amount = '') => showMoney(amount, { locale: 'en-US' });

/** The cells of the dialog's table. */
async function rowsOf(name: string): Promise<string[][]> {
  const table = await within(screen.getByRole('dialog')).findByRole('table', { name });
  return within(table)
    .getAllByRole('row')
    .map((row) => [...row.children].map((cell) => (cell.textContent ?? '').replaceAll(/\s+/g, ' ').trim()));
}

it('opens what was given away to the conditions that sum to it to the cent', async () => {
  const { last } = await at();
  await userEvent.click(screen.getByRole('button', { name: /^Unrecovered cost: / }));
  expect(last('open_history')).toEqual({
    year: null,
    which: { by: 'all', key: '', figure: 'unrecovered' },
  });
  const rows = await rowsOf('Conditions');
  const figures = rows.slice(1, -1).map((cells) => (cells[3] ?? '').replaceAll(',', ''));
  expect(figures.length).toBe(history.all.conditions);
  expect(sumMoney(figures)).toBe(history.all.unrecovered);
  expect(rows.at(-1)?.[3]).toBe('411.98');
  const dialog = within(screen.getByRole('dialog'));
  expect(dialog.getByText(/Spent less billed, condition by condition/)).toBeTruthy();
  expect(dialog.getByText('The homeowner was never asked')).toBeTruthy();
  const [first] = dialog.getAllByRole('link');
  expect(first?.getAttribute('href')).toBe('#/job/26-008/changes');
});

it('opens every figure on the page', async () => {
  const { container } = await at();
  for (const button of screen.getAllByRole('button', { name: /^As a table: By/ }))
    await userEvent.click(button);
  const figures = [...container.querySelectorAll('.figure')].filter((each) =>
    /\d/.test(each.textContent ?? ''),
  );
  expect(figures.length).toBeGreaterThan(100);
  const shut = figures.filter((each) => !each.closest('button') && !each.querySelector('button'));
  expect(shut.map((each) => each.outerHTML)).toEqual([]);
});

it('draws spent against billed for each group, and opens a group by its row', async () => {
  const { last } = await at();
  for (const title of ['By place', 'By cause', 'By age of the old roof', 'By crew', 'By month'])
    expect(screen.getByRole('img', { name: title })).toBeTruthy();
  const image = screen.getByRole('img', { name: 'By crew' });
  const said = document.getElementById(image.getAttribute('aria-describedby') ?? '')?.textContent;
  const { all, by_crew: crews } = history;
  expect(said).toContain(
    `${money(all.spent)} spent, ${money(all.billed)} billed and ${money(all.unrecovered)} unrecovered in all`,
  );
  const losing = crews.filter((crew) => toMinor(crew.unrecovered) > 0n);
  expect(image.querySelectorAll('rect.unrecovered').length).toBe(losing.length);
  const [, crew] = crews;
  const named = `${crew?.key}: ${money(crew?.spent)} spent, ${money(crew?.billed)} billed`;
  await userEvent.click(
    screen.getByRole('button', { name: (name) => name.replace(' :', ':').startsWith(named) }),
  );
  await waitFor(() =>
    expect(last('open_history')?.which).toEqual({ by: 'crew', key: crew?.key, figure: 'spent' }),
  );
});

it('has the same figures as a table, and each opens', async () => {
  const { last } = await at();
  await userEvent.click(screen.getByRole('button', { name: 'As a table: By place' }));
  const table = screen.getByRole('table', { name: 'By place' });
  const row = within(table).getByRole('row', { name: /^Roof to wall/ });
  const wall = history.by_place.find((place) => place.key === 'roof-to-wall')!;
  expect([...row.children].map((cell) => cell.textContent)).toEqual([
    'Roof to wall',
    String(wall.conditions),
    String(wall.jobs),
    wall.sheets,
    money(wall.spent),
    money(wall.billed),
    `${(Number(wall.recovery) * 100).toFixed(1)} %`,
    money(wall.unrecovered),
  ]);
  await userEvent.click(within(row).getByRole('button', { name: /^Roof to wall: recovery/ }));
  expect(last('open_history')?.which).toEqual({ by: 'place', key: 'roof-to-wall', figure: 'recovery' });
  expect(screen.getByRole('dialog', { name: 'Roof to wall: recovery' })).toBeTruthy();
});

it('is opened, walked and closed by the keyboard alone', async () => {
  await at();
  const figure = screen.getByRole('button', { name: /^Recovery: / });
  figure.focus();
  await userEvent.keyboard('{Enter}');
  const dialog = within(screen.getByRole('dialog', { name: 'Recovery' }));
  await dialog.findByRole('table', { name: 'Conditions' });
  dialog.getByRole('button', { name: 'Go back' }).focus();
  // The table is scrolled by the keys; what follows is within it.
  await userEvent.tab();
  await userEvent.tab();
  expect(document.activeElement?.textContent).toBe('Job 26-008, condition 1');
  dialog.getByRole('button', { name: 'Go back' }).focus();
  await userEvent.keyboard('{Enter}');
  await waitFor(() => expect(screen.queryByRole('dialog')).toBeNull());
});

it('holds kick-outs beside what their pieces cost, and says what that is', async () => {
  await at();
  const words = document.body.textContent?.replaceAll(/\s+/g, ' ') ?? '';
  expect(words).toContain('All of them were measured.');
  expect(words).toContain('without setting them');
  expect(words).toContain('and no forecast');
  await userEvent.click(screen.getByRole('button', { name: /^what they cost: 125.30/ }));
  const rows = await rowsOf('Roofs');
  expect(rows.length).toBe(2 + history.kick_outs.found.jobs);
  expect(rows[1]?.[0]).toContain('measured: 2 wall ends');
  expect(rows.at(-1)).toEqual(['Total', '7']);
  // Pieces and their price are shown as what they are.
  const terms = within(screen.getByRole('dialog')).getAllByRole('listitem');
  expect(terms.map((term) => term.textContent?.replaceAll(/\s+/g, ' ').trim())).toContain('kick-outs 7');
});

it('says of roofs that were not measured that there may be more', async () => {
  await at({ ...history, kick_outs: { ...history.kick_outs, measured: 0 } });
  expect(screen.getByText(/None of them was measured: one wall end is counted for each/)).toBeTruthy();
  expect(screen.queryByText(/All of them were measured/)).toBeNull();
});

it('says so when no price of a kick-out is known', async () => {
  await at({ ...history, kick_outs: { ...history.kick_outs, price_each: null, pieces_cost: null } });
  expect(screen.getByText(/Rates has no price of one/)).toBeTruthy();
  expect(screen.queryByText(/without setting them/)).toBeNull();
});

it('says what to do while nothing was found', async () => {
  await at({ ...EMPTY, year: 2025 }, 2025);
  expect(screen.getByText(/Nothing hidden was found in 2025/)).toBeTruthy();
  expect(screen.queryByRole('img')).toBeNull();
});

it('says how thin the record is', async () => {
  const one = { ...history.kick_outs.found, jobs: 1, conditions: 1 };
  const record = { ...history, thin: true, all: { ...history.all, jobs: 3 } };
  await at({
    ...record,
    kick_outs: { ...history.kick_outs, found: one, thin: true },
  });
  expect(screen.getByText(/^3 roofs with conditions: too few to say much/)).toBeTruthy();
  expect(screen.getByText(/^One roof where one was missing: too few to say much/)).toBeTruthy();
});

it('says in words why a figure does not open', async () => {
  program({ condition_history: history, open_history: () => refuse('The file is busy.') });
  render(HistoryPage, { locale: 'en-US' });
  await userEvent.click(await screen.findByRole('button', { name: /^Roofs opened: / }));
  expect((await within(screen.getByRole('dialog')).findByRole('alert')).textContent).toContain(
    'The file is busy. Try it another way.',
  );
});

it('has nothing that axe-core objects to, as pictures, as tables and opened', async () => {
  await at();
  const objections = () => faults('region');
  expect(await objections()).toEqual([]);
  for (const button of screen.getAllByRole('button', { name: /^As a table: By/ }))
    await userEvent.click(button);
  expect(await objections()).toEqual([]);
  await userEvent.click(screen.getByRole('button', { name: /^what they cost: / }));
  await rowsOf('Roofs');
  expect(await objections()).toEqual([]);
});
