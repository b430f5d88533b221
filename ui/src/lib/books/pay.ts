/** Paying several bills at once: of each vendor one payment, with its own check. */

import type { OpenBill } from '../bindings/OpenBill';
import { total } from '../entry/calculate';
import { money } from '../entry/fields';
import { PAID_BY } from '../bindings/Labels';
import { fact, filled } from '../facts';
import { choices } from '../forms/choices';
import { field, needed } from '../forms/fields';
import type { Line, Values } from '../forms/spec';
import { showDate } from '../kit/dates';
import { toMinor } from '../kit/money';
import type { FormSpec } from './context';

interface Paid {
  vendor: Line;
  bills: Line[];
}

function byVendor({ lists }: Values): Paid[] {
  return (lists.vendors ?? []).map((vendor) => ({
    vendor,
    bills: (lists.bills ?? []).filter((bill) => bill.vendor === vendor.id && bill.amount),
  }));
}

export function pay(bills: readonly OpenBill[], locale: string): FormSpec {
  const vendors = [...new Map(bills.map((bill) => [bill.vendor_id, bill.vendor]))];
  return {
    kind: 'vendor-payment',
    title: bills.length === 1 ? 'Pay one bill' : `Pay ${bills.length} bills`,
    record: (values) => {
      const made = byVendor(values).filter((each) => each.bills.length > 0).length;
      return made === 1 ? 'Record the payment' : `Record ${made} payments`;
    },
    fields: [needed(field.date('date', 'Paid on')), needed(field.choice('method', 'How', choices(PAID_BY)))],
    lists: [
      {
        name: 'bills',
        line: (line) => line.what ?? '',
        named: true,
        title: 'Bills',
        keepsBlank: true,
        fields: [
          field.money('amount', 'Paid', {
            negative: true,
            unmarked: true,
            hint: (_values, _context, line) => `${money(line.open ?? '0')} open`,
          }),
          field.money('discount', 'Let off', { when: (_values, _context, line) => line.credit !== 'yes' }),
        ],
      },
      {
        name: 'vendors',
        line: (line) => line.name ?? '',
        title: 'Numbers',
        keepsBlank: true,
        fields: [
          field.text('reference', (line) => `Number for ${line.name ?? ''}`, {
            hint: (values, _context, line) => {
              const own = byVendor(values).find((each) => each.vendor.id === line.id);
              return `${money(total(own?.bills.map((bill) => bill.amount) ?? []))} in all`;
            },
          }),
        ],
      },
    ],
    start: ({ today }) => ({
      fields: { date: today, method: 'check' },
      lists: {
        bills: bills.map((bill) => ({
          id: bill.source.id,
          vendor: bill.vendor_id,
          open: bill.open,
          amount: bill.open,
          credit: bill.credit ? 'yes' : '',
          what: `${bill.vendor}, ${bill.credit ? 'credit' : 'bill'} ${bill.number}, due ${showDate(bill.due, locale)}`,
        })),
        vendors: vendors.map(([id, name]) => ({ id, name })),
      },
    }),
    problems: (values): Record<string, string> => {
      const found: Record<string, string> = {};
      (values.lists.bills ?? []).forEach((line, index) => {
        const paid = toMinor(line.amount || '0') + toMinor(line.discount || '0');
        const open = toMinor(line.open || '0');
        if (open >= 0n ? paid > open : paid < open) {
          found[`bills[${index}].amount`] = `Only ${money(line.open ?? '0')} is open on it.`;
        }
      });
      if (byVendor(values).every((each) => each.bills.length === 0)) found[''] = 'Type what is paid.';
      return found;
    },
    facts: (values, _context, id) =>
      byVendor(values)
        .filter((each) => each.bills.length > 0)
        .map(({ vendor, bills: own }, index) =>
          fact('vendor-payment', id(index), {
            date: values.fields.date,
            method: values.fields.method,
            vendor: vendor.id,
            reference: vendor.reference,
            bills: own.map(({ id: bill, amount, discount }) => filled({ bill, amount, discount })),
          }),
        ),
    says: (values) => {
      const amount = total((values.lists.bills ?? []).map((line) => line.amount));
      const whom = vendors.length === 1 ? (vendors[0]?.[1] ?? '') : `${vendors.length} vendors`;
      return `${money(amount)} paid to ${whom}.`;
    },
    undo: 'Not paid',
  };
}
