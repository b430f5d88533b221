import { render, screen, waitFor, within } from '@testing-library/svelte';
import userEvent from '@testing-library/user-event';
import { beforeEach, expect, it } from 'vitest';

import { AT_BOOKS, AT_DESK } from '../../../tests/desk';
import billDesk from '../../../tests/fixtures/bill-desk.json';
import payables from '../../../tests/fixtures/payables.json';
import { A_LOOK, faults, hearKeys } from '../../../tests/page';
import { program } from '../../../tests/program';
import { desk } from '../start/desk.svelte';
import BooksPage from './BooksPage.svelte';

hearKeys();

beforeEach(() => desk.set({ ...AT_DESK, person: AT_BOOKS }));

async function at(part: string, answers: Parameters<typeof program>[0] = {}, about?: string) {
  const stands = program(answers);
  render(BooksPage, { part, about, locale: 'en-US' });
  await waitFor(() => expect(stands.count('payables')).toBe(1));
  return stands;
}

const account = { id: 'acc-1', number: '6000', name: 'Rent' };
const withRent = async () => ({
  ...(await import('../../../tests/fixtures/lists.json')).default,
  overhead: [account],
});

it(
  'offers what a vendor’s last bill was for, and records a pile without leaving the form',
  async () => {
    const vendor = billDesk.vendors.find((each) => each.last.some((habit) => habit.code))!;
    const { last, count } = await at('bills');
    const user = userEvent.setup();
    for (const number of ['A 1', 'A 2']) {
      await user.type(await screen.findByLabelText(/^From whom/), vendor.name);
      await user.tab();
      await user.type(screen.getByLabelText(/^Number on it/), number);
      const line = screen.getByRole('group', { name: 'Line 1' });
      await user.type(within(line).getByLabelText(/^Job/), billDesk.jobs[0]!.number);
      await user.type(within(line).getByLabelText(/^Amount before tax/), '12.50');
      await user.tab();
      const before = count('record');
      await user.click(screen.getByRole('button', { name: /Record, then the next/ }));
      await waitFor(() => expect(count('record')).toBe(before + 1));
      expect(last('record').facts).toMatchObject([
        {
          kind: 'bill',
          vendor: vendor.id,
          reference: number,
          lines: [{ job: billDesk.jobs[0]!.number, code: vendor.last[0]!.code, amount: '12.50' }],
        },
      ]);
    }
    expect(screen.getByRole('heading', { name: /Recorded in this sitting 2/ }).textContent).toContain(
      '25.00',
    );
  },
  A_LOOK,
);

it(
  'enters a bill that is no job’s',
  async () => {
    const { last, count } = await at('bills', { lists: await withRent() });
    const user = userEvent.setup();
    await user.type(await screen.findByLabelText(/^From whom/), 'Millbrook Yards');
    await user.type(screen.getByLabelText(/^Number on it/), 'R 9');
    await user.click(screen.getByRole('button', { name: 'Take out line 1' }));
    await user.click(screen.getByRole('button', { name: 'Add a line that is no job’s' }));
    const line = screen.getByRole('group', { name: 'Own line 1' });
    await user.selectOptions(within(line).getByLabelText(/^Account/), 'acc-1');
    await user.type(within(line).getByLabelText(/^Amount before tax/), '800');
    await user.tab();
    await user.click(screen.getByRole('button', { name: /Record, then the next/ }));
    await waitFor(() => expect(count('record')).toBe(1));
    const [vendor, bill] = last('record').facts;
    expect(vendor).toMatchObject({ kind: 'vendor', name: 'Millbrook Yards' });
    expect(bill).toMatchObject({
      kind: 'bill',
      vendor: vendor.id,
      overhead: [{ account: 'acc-1', amount: '800.00' }],
    });
  },
  A_LOOK,
);

it(
  'refuses a bill that is recorded already and leads to it',
  async () => {
    const { count } = await at('bills', {
      check_bill: { same: { id: 'b1', date: '2026-10-05', total: '840.00' }, due: null, differences: [] },
    });
    const user = userEvent.setup();
    await user.type(await screen.findByLabelText(/^From whom/), billDesk.vendors[0]!.name);
    await user.type(screen.getByLabelText(/^Number on it/), 'R 3');
    await user.click(screen.getByRole('button', { name: /Record, then the next/ }));
    expect(await screen.findByText(/recorded already, dated 10\/05\/2026 and for \$?840\.00/)).toBeTruthy();
    expect(screen.getByRole('link', { name: 'Go to it' }).getAttribute('href')).toBe('#/books/bills/b1');
    expect(count('record')).toBe(0);
  },
  A_LOOK,
);

it(
  'says where a bill is not what was ordered',
  async () => {
    const text =
      'deck: 30 for 3,300.00 ordered and not billed before, 30 for 3,360.00 billed. Ask about 60.00.';
    await at('bills', {
      check_bill: {
        same: null,
        due: '2026-12-02',
        differences: [{ code: 'deck', to_pay: '0', asked: '60.00', text }],
      },
    });
    await userEvent.type(await screen.findByLabelText(/^From whom/), billDesk.vendors[0]!.name);
    expect(await screen.findByText(text, {}, { timeout: 5000 })).toBeTruthy();
    await waitFor(() => expect(screen.getByLabelText<HTMLInputElement>(/^To be paid by/).value).not.toBe(''));
  },
  A_LOOK,
);

it(
  'pays several bills at once, of each vendor by its own check',
  async () => {
    const bills = payables.bills.filter((bill) => !bill.credit);
    const one = bills[0]!;
    const other = bills.find((bill) => bill.vendor_id !== one.vendor_id)!;
    const { last, count } = await at('vendors');
    const user = userEvent.setup();
    for (const bill of [one, other]) {
      await user.click(await screen.findByLabelText(`Pay ${bill.vendor} ${bill.number}`));
    }
    await user.click(screen.getByRole('button', { name: 'Pay 2' }));
    const dialog = screen.getByRole('dialog', { name: 'Pay 2 bills' });
    await user.type(within(dialog).getByLabelText(`Number for ${one.vendor}`, { exact: false }), '501');
    await user.click(within(dialog).getByRole('button', { name: 'Record 2 payments' }));
    await waitFor(() => expect(count('record')).toBe(1));
    const { facts } = last('record');
    expect(facts).toHaveLength(2);
    expect(facts[0]).toMatchObject({
      kind: 'vendor-payment',
      vendor: one.vendor_id,
      method: 'check',
      reference: '501',
      bills: [{ bill: one.source.id, amount: one.open }],
    });
  },
  A_LOOK,
);

it('has names and roles in order, part by part', async () => {
  for (const part of ['bills', 'vendors', 'overhead', 'customers', 'bank', 'loose-ends']) {
    program();
    const { container, unmount } = render(BooksPage, { part, locale: 'en-US' });
    await waitFor(() => expect(container.querySelector('section')?.textContent?.length).toBeGreaterThan(40));
    expect(await faults('region')).toEqual([]);
    unmount();
  }
});

it('holds a vendor’s statement against the books, says where they differ, and records nothing', async () => {
  const { last, count } = await at('vendors');
  const user = userEvent.setup();
  await user.click(await screen.findByRole('button', { name: 'Compare a vendor’s statement' }));
  const form = await screen.findByRole('dialog', { name: 'Compare a vendor’s statement' });
  await user.click(within(form).getByRole('button', { name: /^Compare/ }));
  expect(within(form).getByText('Choose the vendor.')).toBeTruthy();
  const vendor = payables.vendors[0]!;
  await user.selectOptions(within(form).getByLabelText(/^Whose statement/), vendor.id);
  await user.type(within(form).getByLabelText(/^Its lines/), 'TF-7983 3,998.40');
  await user.click(within(form).getByRole('button', { name: /^Compare/ }));
  await waitFor(() =>
    expect(last('vendor_statement')).toEqual({ vendor: vendor.id, lines: 'TF-7983 3,998.40' }),
  );
  const shown = await screen.findByRole('dialog', { name: /^The statement of/ });
  expect(within(shown).getByText(/they differ by/)).toBeTruthy();
  expect(within(shown).getByText(/no bill of that number is in the books/)).toBeTruthy();
  expect(await faults()).toEqual([]);
  expect(count('record')).toBe(0);
});
