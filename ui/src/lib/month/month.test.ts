import { render, screen, waitFor, within } from '@testing-library/svelte';
import userEvent from '@testing-library/user-event';
import { expect, it } from 'vitest';

import { AT_DESK, AT_BOOKS } from '../../../tests/desk';
import firmBudget from '../../../tests/fixtures/firm-budget.json';
import firmYear from '../../../tests/fixtures/firm-year.json';
import ends from '../../../tests/fixtures/loose-ends.json';
import monthEnd from '../../../tests/fixtures/month-end.json';
import statement from '../../../tests/fixtures/customer-statement.json';
import { faults } from '../../../tests/page';
import { program, refuse } from '../../../tests/program';
import { TO_DATE } from '../bindings/Figures';
import type { Question } from '../bindings/Question';
import { keyboard } from '../kit';
import { sumMoney, toMinor } from '../kit/money';
import { desk } from '../start/desk.svelte';
import { wayTo } from './ends';
import MonthPage from './MonthPage.svelte';
import { isMonth, monthPlus, monthsBetween, showMonth } from './months';
import { LINES } from './made';
import { billingRows, rankingRows, toDate } from './report';

async function at(answers: Parameters<typeof program>[0] = {}, month?: string) {
  const stands = program(answers);
  render(MonthPage, { month, locale: 'en-US' });
  await screen.findByRole('heading', { name: 'What customers owe' });
  return stands;
}

it('begins with the last month in which anything is booked', async () => {
  const { last } = await at();
  expect(last('month_end')).toEqual({ month: '2026-10' });
  expect(screen.getByRole('heading', { name: 'In October 2026' })).toBeTruthy();
});

it('goes to other months by key, but not past what is booked', async () => {
  await at();
  const press = (key: string) => keyboard.handle(new KeyboardEvent('keydown', { key }));
  press('[');
  expect(location.hash).toBe('#/month-end/2026-09');
  location.hash = '';
  press(']');
  expect(location.hash).toBe('');
});

it('opens a figure of the firm by its word', async () => {
  const { last } = await at();
  await userEvent.click(screen.getByLabelText(/^Forecast cost:/));
  await waitFor(() => expect(last('explain')).toEqual({ of: 'firm', month: '2026-10', figure: 'forecast' }));
  expect(screen.getByRole('dialog')).toBeTruthy();
});

it('answers first what the firm made, and opens each figure of it', async () => {
  const { last } = await at();
  await userEvent.click(screen.getByLabelText(/^Net profit in October 2026:/));
  await waitFor(() =>
    expect(last('explain')).toEqual({ of: 'firm', month: '2026-10', figure: 'month-net-profit' }),
  );
  await userEvent.click(screen.getByLabelText(/^Net profit, the year so far:/));
  await waitFor(() => expect(last('explain')).toMatchObject({ of: 'firm', figure: 'year-net-profit' }));
});

it('has the year equal to the sum of its months, and each month’s profit to gross profit less overhead', () => {
  for (const { of } of LINES) expect(sumMoney(firmYear.months.map(of))).toBe(of(firmYear.so_far));
  for (const made of firmYear.months) {
    const less = made.overhead_cost.startsWith('-') ? made.overhead_cost.slice(1) : `-${made.overhead_cost}`;
    expect(sumMoney([made.gross_profit, less])).toBe(made.net_profit);
  }
  expect(firmYear.months.at(-1)?.net_profit).toBe(monthEnd.firm.net_profit);
});

it('holds the month and the year so far against their budget, and opens each figure', async () => {
  const { last } = await at();
  const opens = async (name: RegExp, figure: string) => {
    await userEvent.click(screen.getByLabelText(name));
    await waitFor(() => expect(last('explain')).toMatchObject({ of: 'firm', figure }));
  };
  await opens(/^Net profit, the month, budget:/, 'budget-net-profit');
  await opens(/^Net profit, so far, difference:/, 'so-far-net-profit-less-budget');
  await opens(/^Crew-days, budget of the year:/, 'year-budget-crew-days');
  await opens(/^Overhead, the month, actual:/, 'month-overhead-cost');
  await opens(/^Sales to break even in 2026:/, 'break-even-sales');
  for (const { line, month, so_far } of firmBudget.rows.filter((row) => row.line !== 'crew-days')) {
    for (const of of [month, so_far])
      expect(sumMoney([of.budget, of.difference]), line).toBe(sumMoney([of.actual]));
  }
});

it('sets the budget of the open months that were changed, and asks for all four figures of one', async () => {
  const { last, count } = await at({ record: [] });
  await userEvent.click(screen.getByRole('button', { name: 'Set the budget' }));
  const dialog = within(screen.getByRole('dialog'));
  const december = within(dialog.getByRole('group', { name: /December 2026/ }));
  expect(dialog.queryByRole('group', { name: /October 2026/ }) === null).toBe(
    firmBudget.months.find(({ month }) => month === '2026-10')?.closed,
  );
  await userEvent.clear(december.getByLabelText('Overhead'));
  await userEvent.tab();
  await userEvent.click(dialog.getByRole('button', { name: 'Keep one month' }));
  expect(await dialog.findByText('Type it too; zero is an answer.')).toBeTruthy();
  await userEvent.type(december.getByLabelText('Overhead'), '7000');
  await userEvent.tab();
  await userEvent.click(dialog.getByRole('button', { name: 'Keep one month' }));
  await waitFor(() => expect(count('record')).toBe(1));
  expect(last('record')).toMatchObject({
    facts: [{ kind: 'budget', month: '2026-12', sales: '20000.00', overhead: '7000.00', crew_days: '6' }],
  });
});

it('shows a customer’s statement, prints it, and has a reminder of what is late to copy', async () => {
  const { last } = await at({ print_paper: { path: '/papers/statement.pdf' } });
  const owes = monthEnd.owed.customers[0]!;
  await userEvent.click(screen.getByRole('button', { name: `Statement of ${owes.customer}` }));
  await waitFor(() => expect(last('customer_statement')).toEqual({ customer: owes.id }));
  const dialog = within(await screen.findByRole('dialog'));
  const words = (await dialog.findByLabelText<HTMLTextAreaElement>(/^Reminder/)).value;
  expect(words).toBe(statement.reminder);
  for (const late of statement.invoices.filter(({ days_past_due }) => (days_past_due ?? 0) > 0))
    expect(words).toContain(`Invoice ${late.number}, job ${late.job}`);
  await userEvent.click(dialog.getByRole('button', { name: 'Statement (PDF)' }));
  await waitFor(() =>
    expect(last('print_paper')).toEqual({
      wanted: { paper: 'statement', customer: owes.id, on: statement.on },
    }),
  );
  // Two ways to the balance: what moved it, and what is open and held less credits.
  expect(sumMoney(statement.lines.map(({ amount }) => amount))).toBe(statement.balance);
});

it('names the jobs that need a word, the worst first', async () => {
  await at();
  const worst = monthEnd.to_talk_about[0]!;
  expect(screen.getByRole('link', { name: `${worst.number} ${worst.customer}` })).toBeTruthy();
  const changes = monthEnd.to_talk_about.map((job) => toMinor(job.change));
  expect(changes).toEqual([...changes].sort((a, b) => (a < b ? -1 : 1)));
});

it('opens a job’s ranking and a step of the walk', async () => {
  const { last } = await at();
  await userEvent.click(screen.getByText(/Lost a crew-day .*Open/));
  await waitFor(() => expect(last('explain')).toMatchObject({ of: '26-020', figure: 'margin-per-crew-day' }));
  await userEvent.click(screen.getByText('Hours of work'));
  await waitFor(() => expect(last('explain')).toMatchObject({ of: 'firm', figure: 'labor-hours' }));
});

it('ranks jobs by what a crew-day made, and nets nobody', () => {
  const made = rankingRows(monthEnd.jobs as never).map((row) => toMinor(row.right) - toMinor(row.left));
  expect(made).toEqual([...made].sort((a, b) => (a > b ? -1 : 1)));
  const rows = billingRows(monthEnd.jobs as never);
  expect(sumMoney(rows.map((row) => row.left))).toBe(monthEnd.firm.over_billed);
  expect(sumMoney(rows.map((row) => row.right))).toBe(monthEnd.firm.under_billed);
});

it('draws both ends of a long ranking, and all of it when asked', async () => {
  const job = monthEnd.jobs[0];
  const jobs = Array.from({ length: 300 }, (_, index) => ({
    ...job,
    number: `27-${String(index).padStart(3, '0')}`,
    margin_per_crew_day: `${1000 - index}.00`,
  }));
  await at({ month_end: { ...monthEnd, jobs } });
  expect(screen.getAllByText(/Made a crew-day .*Open/)).toHaveLength(24);
  expect(screen.getByText(/^27-299/)).toBeTruthy();
  await userEvent.click(screen.getByText('Show the 276 between'));
  expect(screen.getAllByText(/Made a crew-day .*Open/)).toHaveLength(300);
});

it('leads from every loose end to where it is settled', async () => {
  await at();
  for (const each of ends) {
    const way = wayTo(each as never);
    const name = `${way.word}: ${each.text}`;
    if (way.href) expect(screen.getByRole('link', { name }).getAttribute('href')).toBe(way.href);
    else expect(screen.getByRole('button', { name })).toBeTruthy();
  }
});

const TWICE: Question = {
  kind: 'hours',
  job: null,
  text: 'Bo Finch has 9 hours on Mar 9, 2026 from 2 devices.',
  remedy: 'Reverse the hours that were written down twice, or answer that all stand.',
  may_stand: true,
  sides: [
    ['morning', '4 hours on job 26-001, tear', 'A', 'The office'],
    ['day', '5 hours on job 26-001, tear', 'B', 'North crew’s tablet'],
  ].map(([of = '', says = '', device = '', device_name = '']) => ({
    fact: of,
    says,
    may_go: true,
    device,
    device_name,
    recorded_by: 'Ruth Quill',
    recorded_at: '2026-03-09T15:00:00Z',
  })),
};

/** The month with one question among its loose ends, and the form in which it is answered. */
async function asked(question: Question) {
  const { kind: _, sides, ...rest } = question;
  const end = { ...rest, kind: 'question', fact: sides[0]!.fact, amount: null };
  const stands = await at({ loose_ends: [end as never], questions: [question] });
  await userEvent.click(screen.getByRole('button', { name: `Answer it: ${question.text}` }));
  return { ...stands, dialog: within(await screen.findByRole('dialog', { name: 'What holds?' })) };
}

it('shows every side of a question, and answers that all of it stands', async () => {
  const { dialog, last } = await asked(TWICE);
  expect(last('questions')).toEqual({ month: '2026-10' });
  expect(dialog.getByText(/by Ruth Quill on North crew’s tablet/)).toBeTruthy();
  expect(dialog.getByText('5 hours on job 26-001, tear')).toBeTruthy();
  await userEvent.click(dialog.getByRole('button', { name: 'Record the answer' }));
  expect(dialog.getByText('Say what holds.')).toBeTruthy();
  await userEvent.selectOptions(dialog.getByLabelText('What holds'), 'All of it stands');
  await userEvent.type(dialog.getByLabelText('Why'), 'Two roofs in one day');
  await userEvent.click(dialog.getByRole('button', { name: 'Record the answer' }));
  await waitFor(() =>
    expect(last('record')).toMatchObject({
      facts: [
        {
          kind: 'answer',
          question: 'hours',
          note: 'Two roofs in one day',
          about: [{ about: 'morning' }, { about: 'day' }],
        },
      ],
    }),
  );
});

it('takes back the side that does not hold, and offers nothing that cannot be', async () => {
  const [first, second] = TWICE.sides;
  const { dialog, last, count } = await asked({
    ...TWICE,
    may_stand: false,
    sides: [{ ...first!, may_go: false }, second!],
  });
  const holds = dialog.getByLabelText<HTMLSelectElement>('What holds');
  const offered = [...holds.options].map(({ text }) => text);
  expect(offered.filter((text) => text.startsWith('Take back'))).toEqual([
    'Take back “5 hours on job 26-001, tear” of North crew’s tablet',
  ]);
  expect(offered).not.toContain('All of it stands');
  await userEvent.selectOptions(dialog.getByLabelText('What holds'), offered.at(-1)!);
  await userEvent.type(dialog.getByLabelText('Why'), 'written down twice');
  await userEvent.click(dialog.getByRole('button', { name: 'Take it back' }));
  await waitFor(() => expect(last('reverse')).toEqual({ id: 'day', reason: 'written down twice' }));
  expect(count('record')).toBe(0);
});

/** A month in which the customer of the first credit owes an invoice. */
function owingToo() {
  const credit = monthEnd.owed.on_account[0]!;
  const open = {
    ...monthEnd.owed.invoices[0],
    id: 'i1',
    number: '1099',
    customer: credit.customer,
    customer_id: credit.customer_id,
    open: '5000.00',
  };
  return { ...monthEnd, owed: { ...monthEnd.owed, invoices: [...monthEnd.owed.invoices, open] } };
}

it('puts a payment to the customer’s open invoice', async () => {
  const payment = ends.find((each) => each.kind === 'unapplied-payment');
  const { last, count } = await at({ month_end: owingToo(), spread_payment: ['4984.00'] });
  await userEvent.click(screen.getByLabelText(/^Apply it to an invoice/));
  await waitFor(() => expect(count('spread_payment')).toBe(1), { timeout: 10_000 });
  await screen.findByDisplayValue(/^4,?984\.00$/);
  await userEvent.click(screen.getByText('Put it there'));
  await waitFor(() => expect(count('record')).toBe(1));
  expect(last('record').facts).toEqual([
    {
      kind: 'allocation',
      id: expect.any(String),
      date: '2026-11-02',
      payment: payment?.fact,
      invoice: 'i1',
      amount: '4984.00',
    },
  ]);
});

it('lets owner and books give a credit back, and no more than is left of it', async () => {
  desk.set({ ...AT_DESK, person: AT_BOOKS });
  const credit = monthEnd.owed.on_account[0]!;
  const { last, count } = await at();
  await userEvent.click(screen.getByLabelText(/^Give back: Payment/));
  const dialog = screen.getByRole('dialog', { name: 'Give it back' });
  const amount = within(dialog).getByLabelText(/^Amount/);
  await userEvent.clear(amount);
  await userEvent.type(amount, '5000');
  await userEvent.click(within(dialog).getByRole('button', { name: 'Record the refund' }));
  expect(within(dialog).getByText(/Only 4,984.00 of it is left/)).toBeTruthy();
  expect(count('record')).toBe(0);
  await userEvent.clear(amount);
  await userEvent.type(amount, '984');
  await userEvent.click(within(dialog).getByRole('button', { name: 'Record the refund' }));
  await waitFor(() => expect(count('record')).toBe(1));
  expect(last('record').facts).toMatchObject([
    {
      kind: 'refund',
      customer: credit.customer_id,
      payment: credit.id,
      amount: '984.00',
      method: 'check',
    },
  ]);
});

it('closes only when the loose ends are accepted, and says what closing does', async () => {
  const { last, count } = await at({
    close_month: { month: '2026-10', id: 'x', accepted: [], report: monthEnd },
  });
  await userEvent.click(screen.getByText('Close the month'));
  const dialog = screen.getByRole('dialog', { name: 'Close October 2026' });
  for (const each of ends) expect(within(dialog).getByText(each.text)).toBeTruthy();
  await userEvent.click(within(dialog).getByRole('button', { name: 'Close October 2026' }));
  expect(within(dialog).getByText(/Settle these \d+ loose ends first/)).toBeTruthy();
  expect(count('close_month')).toBe(0);
  await userEvent.click(within(dialog).getByRole('checkbox'));
  await userEvent.click(within(dialog).getByRole('button', { name: 'Close October 2026' }));
  await waitFor(() => expect(last('close_month')).toEqual({ month: '2026-10', accept: true }));
});

it('says why a month could not be closed', async () => {
  await at({ close_month: () => refuse('The month is not over.'), loose_ends: [] });
  await userEvent.click(screen.getByText('Close the month'));
  await userEvent.click(
    within(screen.getByRole('dialog')).getByRole('button', { name: 'Close October 2026' }),
  );
  await screen.findByText(/The month is not over/);
});

it('offers no closing of a closed month', async () => {
  await at({}, '2026-08');
  expect(screen.queryByRole('button', { name: 'Close the month' })).toBeNull();
  expect(screen.queryByRole('heading', { name: /Loose ends/ })).toBeNull();
});

it('lists the invoices of one age', async () => {
  await at();
  await userEvent.click(screen.getByText('Over 90 days'));
  expect(screen.getByText(/Over 90 days: 1/)).toBeTruthy();
  const list = within(screen.getByRole('group', { name: 'Open invoices' }));
  expect(list.queryByText('Delphine Marrow')).toBeNull();
  expect(list.getByText('Peregrine Lusk')).toBeTruthy();
});

it('shows the books what is owed and nothing of cost', async () => {
  desk.set({ ...AT_DESK, person: AT_BOOKS, sees_margin: false });
  const { count } = await at();
  expect(screen.queryByRole('heading', { name: 'In October 2026' })).toBeNull();
  expect(screen.queryByRole('heading', { name: 'Where the margin went' })).toBeNull();
  expect(count('loose_ends')).toBe(0);
  expect(count('firm_year')).toBe(0);
});

it('shows the books what was made where the owner says so, and lets them open nothing', async () => {
  desk.set({ ...AT_DESK, person: AT_BOOKS });
  const { count } = await at();
  await screen.findByRole('heading', { name: 'In October 2026' });
  const jobs = within(screen.getByRole('group', { name: 'The jobs of the month, to date' }));
  expect(jobs.getAllByRole('row')).toHaveLength(monthEnd.jobs.length + 1);
  const made = within(screen.getByRole('region', { name: 'In October 2026' }));
  expect(made.queryByRole('button')).toBeNull();
  expect(screen.queryByRole('button', { name: 'Close the month' })).toBeNull();
  expect([count('firm_budget'), count('loose_ends')]).toEqual([0, 0]);
});

it('says of overhead whether jobs bore too little or too much, and neither as a loss', async () => {
  const year = { ...firmYear, so_far: { ...firmYear.so_far, under_absorbed: '-50.00' } };
  await at({ firm_year: { ...year, month: '2026-10' } });
  const row = (await screen.findByRole('rowheader', { name: 'Overhead under- or over-absorbed' })).closest(
    'tr',
  )!;
  const over = within(row).getByRole('button', { name: /over, the year so far: 50\.00/ });
  expect(over.className).not.toContain('loss');
  expect(row.textContent).not.toContain('−');
});

it('calculates months', () => {
  expect(monthPlus('2026-12', 1)).toBe('2027-01');
  expect(monthPlus('2026-01', -1)).toBe('2025-12');
  expect(monthsBetween('2025-11', '2026-02')).toEqual(['2025-11', '2025-12', '2026-01', '2026-02']);
  expect(showMonth('2026-03', 'en-US')).toBe('March 2026');
  expect([isMonth('2026-13'), isMonth('2026-1'), isMonth(undefined), isMonth('2026-10')]).toEqual([
    false,
    false,
    false,
    true,
  ]);
  expect(Object.keys(toDate(monthEnd.firm as never))).toEqual(TO_DATE.map(({ figure }) => figure));
});

it('has names and roles in order', async () => {
  await at();
  expect(await faults('region')).toEqual([]);
});

it('offers the rate that the year would have taken for the next one, and keeps all other settings', async () => {
  const { last, count } = await at();
  const user = userEvent.setup();
  await user.click(await screen.findByRole('button', { name: 'Take that rate from 01/01/2027 on' }));
  const form = await screen.findByRole('dialog', { name: 'Change the settings' });
  await user.click(within(form).getByRole('button', { name: 'Keep the settings' }));
  await waitFor(() => expect(count('record')).toBe(1));
  expect(last('record').facts).toMatchObject([
    { kind: 'firm', date: '2027-01-01', overhead_by: 'labor-hours', overhead_rate: '14.061283' },
  ]);
});
