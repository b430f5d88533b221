import { render, screen, waitFor, within } from '@testing-library/svelte';
import userEvent from '@testing-library/user-event';
import { expect, it } from 'vitest';

import { AT_BOOKS, AT_DESK } from '../../../tests/desk';
import cashAhead from '../../../tests/fixtures/cash-ahead.json';
import { A_LOOK, faults, main } from '../../../tests/page';
import { program } from '../../../tests/program';
import { keyboard } from '../kit';
import { showMoney, sumMoney } from '../kit/money';
import { desk } from '../start/desk.svelte';
import CashPage from './CashPage.svelte';

const NOTHING = { cash: null, keep: null, slips: [], late: [] };

async function at(answers: Parameters<typeof program>[0] = {}, state = AT_DESK) {
  const stands = program(answers, state);
  await desk.refresh();
  render(CashPage, { target: main(), props: { locale: 'en-US' } });
  await screen.findByRole('heading', { name: 'How low it gets' });
  return stands;
}

it('answers first how low cash gets and when, and its weeks follow on each other', async () => {
  const { last } = await at();
  expect(last('cash_ahead')).toEqual({ asked: NOTHING });
  const low = cashAhead.weeks.find(({ week }) => week === cashAhead.lowest.week);
  expect(screen.getByText(/Cash is lowest in the week that ends/).textContent).toContain(
    showMoney(low?.closing ?? '', { locale: 'en-US' }),
  );
  expect(cashAhead.weeks).toHaveLength(13);
  cashAhead.weeks.forEach(({ week, opening, cash_in, cash_out, closing }, place) => {
    expect(opening).toBe(place === 0 ? cashAhead.opening : cashAhead.weeks[place - 1]?.closing);
    expect(sumMoney([opening, cash_in, cash_out === '0.00' ? cash_out : `-${cash_out}`])).toBe(closing);
    const held = cashAhead.expected.filter((one) => one.week === week).map(({ amount }) => amount);
    expect(sumMoney(['0.00', ...held])).toBe(
      sumMoney([closing, opening === '0.00' ? opening : `-${opening}`]),
    );
  });
});

it('opens each week by its word, with what was asked', async () => {
  const { last } = await at();
  await userEvent.click(screen.getByLabelText(/^Cash out, week 1:/));
  await waitFor(() => expect(last('explain_cash')).toEqual({ asked: NOTHING, figure: 'cash-out/1' }));
  expect(screen.getByRole('dialog')).toBeTruthy();
});

it('tries a job that slips and a customer who pays late, and records nothing', async () => {
  const stands = await at();
  const [job = ''] = cashAhead.jobs;
  const [habit] = cashAhead.habits;
  await userEvent.selectOptions(screen.getByLabelText('A job slips'), job);
  await waitFor(() =>
    expect(stands.last('cash_ahead')).toEqual({ asked: { ...NOTHING, slips: [{ job, weeks: 2 }] } }),
  );
  await userEvent.selectOptions(screen.getByLabelText('By'), '4');
  await userEvent.selectOptions(screen.getByLabelText('A customer pays late'), habit?.customer ?? '');
  await waitFor(() =>
    expect(stands.last('cash_ahead')).toEqual({
      asked: { ...NOTHING, slips: [{ job, weeks: 4 }], late: [{ customer: habit?.customer, weeks: 3 }] },
    }),
  );
  await userEvent.type(screen.getByLabelText(/^Keep at least/), '5000');
  await userEvent.tab();
  await waitFor(() => expect(stands.last('cash_ahead').asked.keep).toBe('5000.00'));
  await userEvent.click(screen.getByRole('button', { name: 'As it is planned' }));
  await waitFor(() => expect(stands.last('cash_ahead')).toEqual({ asked: { ...NOTHING, keep: '5000.00' } }));
  expect(stands.count('record')).toBe(0);
});

it('is reached and walked by keys', async () => {
  const { last } = await at();
  const press = (key: string) => keyboard.handle(new KeyboardEvent('keydown', { key }));
  press('s');
  expect(document.activeElement?.tagName).toBe('SELECT');
  (document.activeElement as HTMLElement).blur();
  press('o');
  await waitFor(() => expect(last('explain_cash')).toMatchObject({ figure: 'cash-lowest' }));
});

it('says what is in no week, and opens nothing for whoever keeps the books', async () => {
  const undated = [{ job: '26-024', customer: 'Octavia Penhallow', amount: '9000.00' }];
  await at({ cash_ahead: { ...cashAhead, undated } }, { ...AT_DESK, person: AT_BOOKS, sees_margin: true });
  expect(screen.getByText(/Nobody has planned the work on/).textContent).toContain('9,000.00');
  const weeks = screen.getByRole('group', { name: 'Week by week' });
  expect(within(weeks).queryByRole('button')).toBeNull();
});

it(
  'has no faults of accessibility',
  async () => {
    await at();
    expect(await faults()).toEqual([]);
  },
  A_LOOK,
);
