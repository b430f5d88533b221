/** Money in: invoices, retainage that falls due, and payments applied to invoices. */

import { fact, filled } from '../../facts';
import type { InvoiceFor } from '../../bindings/InvoiceFor';
import type { InvoiceCalculation } from '../../bindings/InvoiceCalculation';
import { PAID_BY, PURPOSES } from '../../bindings/Labels';
import { choices } from '../../forms/choices';
import { call } from '../../ipc';
import { fromMinor, isNegative, isZero, toMinor } from '../../kit/money';
import { dateField, day, description, dueAfter, money, note } from '../fields';
import { jobNumber, type BillingContext, type BillingSpec } from '../context';
import { field, needed } from '../../forms/fields';
import { isBlank, pathOf, type Line } from '../../forms/spec';
import { below, total } from '../calculate';

/** A firm that taxes taxes what it bills, unless a person says that a line is not taxed. */
function invoiceLine({ lists }: BillingContext): Line {
  return isZero(lists.firm.sales_tax) ? {} : { taxable: 'yes' };
}

function less(left: string, right: string): string {
  return fromMinor(toMinor(left) - toMinor(right));
}

/** What an invoice for this purpose would hold, as the program offers it. */
function offered(purpose: string, context: BillingContext): Line[] {
  const offer = context.next?.offers.find((each) => each.purpose === purpose);
  return (offer?.lines ?? []).map(({ description, amount, change_order }) => ({
    description,
    amount,
    change_order: change_order ?? '',
    ...invoiceLine(context),
  }));
}

function isCredit(line: Line): boolean {
  return line.purpose === 'credit';
}

export const INVOICE: BillingSpec = {
  kind: 'invoice',
  title: 'Invoice',
  record: 'Record the invoice',
  fields: [
    needed(field.choice('purpose', 'What for', choices(PURPOSES))),
    needed(field.text('number', 'Number')),
    dateField('date', 'Date on it'),
    needed(field.date('due', 'Due on')),
    field.choice(
      'credits',
      'Lowers the invoice',
      ({ job }) =>
        (job?.invoices ?? [])
          .filter((bill) => bill.purpose !== 'credit')
          .map((bill) => ({ value: bill.source.id, label: `${bill.number} · ${money(bill.net)}` })),
      {
        none: 'None: it stands as the customer’s credit',
        when: (values) => isCredit(values.fields),
      },
    ),
    field.money('tax', 'Sales tax', {
      negative: true,
      hint: (values) => values.fields.tax_words || undefined,
    }),
    field.money('retainage', 'Retainage', {
      negative: true,
      hint: (values) => values.fields.held_words || undefined,
      // A credit memo takes it off what is held of the invoice that it names.
      when: (values) => !isCredit(values.fields) || Boolean(values.fields.credits),
    }),
    note,
  ],
  lists: [
    {
      name: 'lines',
      line: 'Line',
      title: 'What is billed',
      blank: (_values, context) => invoiceLine(context),
      least: 1,
      fields: [
        { ...description, required: true },
        needed(field.money('amount', 'Amount before tax', { negative: true })),
        field.choice(
          'change_order',
          'Bills a change order',
          ({ job }) =>
            (job?.changes ?? []).map((change) => ({
              value: change.id,
              label: `${change.number} · ${change.title}`,
            })),
          { none: 'None', wide: true, when: (_values, { job }) => (job?.changes.length ?? 0) > 0 },
        ),
        field.check('taxable', 'Taxed', { when: (_values, { lists }) => !isZero(lists.firm.sales_tax) }),
      ],
    },
  ],
  start: (context) => {
    const purpose = context.next?.usual ?? 'progress';
    const lines = offered(purpose, context);
    return {
      fields: {
        purpose,
        number: context.next?.next.invoice ?? '',
        date: context.today,
        due: dueAfter(context.today),
      },
      lists: { lines: lines.length > 0 ? lines : [invoiceLine(context)] },
    };
  },
  changed: (values, path, context) => {
    if (path === 'purpose') {
      const lines = offered(values.fields.purpose ?? '', context);
      values.lists.lines = lines.length > 0 ? lines : [invoiceLine(context)];
    }
    if (path === 'date' && values.fields.date) values.fields.due = dueAfter(values.fields.date);
    if (path === 'tax') values.fields.tax_typed = values.fields.tax ? 'yes' : '';
    if (path === 'retainage') values.fields.held_typed = values.fields.retainage ? 'yes' : '';
    const at = pathOf(path);
    const line = at && values.lists[at.list]?.[at.index];
    if (line && at.name === 'change_order' && line.change_order && !line.amount) {
      const offer = offered('change-order', context).find((each) => each.change_order === line.change_order);
      if (offer) Object.assign(line, { ...offer, taxable: line.taxable });
    }
  },
  asks: ({ fields, lists }, context) => {
    const takes = {
      job: jobNumber(context),
      draft: {
        date: fields.date || null,
        purpose: (fields.purpose ?? 'progress') as InvoiceFor,
        lines: (lists.lines ?? [])
          .filter((line) => line.amount)
          .map((line) => ({ amount: line.amount ?? '0', taxable: line.taxable === 'yes' })),
        tax: (fields.tax_typed && fields.tax) || null,
        retainage: (fields.held_typed && (!isCredit(fields) || fields.credits) && fields.retainage) || null,
      },
    };
    return {
      key: JSON.stringify(takes),
      ask: async () => {
        const comes = await call('calculate_invoice', takes);
        return (values) => take(values.fields, comes);
      },
    };
  },
  sums: ({ fields }) =>
    !fields.net
      ? []
      : [
          { name: 'before tax', value: fields.net ?? '0' },
          { name: 'with tax', value: fields.gross ?? '0' },
          { name: 'due', value: fields.due_now ?? '0' },
        ],
  cautions: (values, { next }) => {
    // What a final invoice would pass over is the program's to say.
    const said = values.fields.purpose === 'final' ? [...(next?.open ?? [])] : [];
    return said.concat(values.fields.warnings ? values.fields.warnings.split('\n') : []);
  },
  facts: (values, context, id) => {
    const { purpose, number, date, due, credits, tax, retainage, note: noted } = values.fields;
    const credit = isCredit(values.fields);
    const signed = (amount: string | undefined) => (amount && credit ? below(amount) : amount);
    const lines = (values.lists.lines ?? [])
      .filter((line) => !isBlank(line, invoiceLine(context)))
      .map((line) =>
        filled({ ...line, amount: signed(line.amount), taxable: line.taxable === 'yes' || undefined }),
      );
    const invoice = fact('invoice', id(0), {
      purpose,
      number,
      date,
      due,
      note: noted,
      job: jobNumber(context),
      tax: signed(tax),
      credits: credit ? credits : '',
      // Without an invoice there is nothing that it could take off what is held.
      retainage: credit && !credits ? '' : signed(retainage),
      lines,
    });
    return [invoice];
  },
  says: (values) =>
    `${isCredit(values.fields) ? 'Credit memo' : 'Invoice'} ${values.fields.number ?? ''} recorded.`,
};

/** Takes over what the program calculated. What a person typed comes back as typed. */
function take(fields: Line, comes: InvoiceCalculation) {
  const shown = (amount: string) => (isZero(amount) ? '' : amount);
  if (!fields.tax_typed) fields.tax = shown(comes.tax);
  if (!fields.held_typed) fields.retainage = shown(comes.retainage);
  fields.tax_words = comes.tax_words;
  fields.held_words = comes.retainage_words;
  fields.net = comes.net;
  fields.gross = comes.total;
  fields.due_now = comes.due;
  fields.warnings = comes.warnings.join('\n');
}

export const RELEASE: BillingSpec = {
  kind: 'retainage-release',
  title: 'Retainage falls due',
  record: 'Record the release',
  fields: [
    needed(
      field.choice(
        'invoice',
        'Invoice that held it',
        ({ job }) =>
          (job?.invoices ?? [])
            .filter((bill) => toMinor(bill.held) > 0n)
            .map((bill) => ({
              value: bill.source.id,
              label: `${bill.number} · ${money(bill.held)} held`,
            })),
        { none: 'Choose', wide: true },
      ),
    ),
    dateField(),
    needed(field.money('amount', 'How much')),
    needed(field.date('due', 'Due on')),
  ],
  lists: [],
  start: ({ today }) => ({
    fields: { date: today, due: dueAfter(today) },
    lists: {},
  }),
  changed: (values, path, { job }) => {
    if (path !== 'invoice') return;
    const bill = job?.invoices.find((each) => each.source.id === values.fields.invoice);
    if (bill) values.fields.amount = bill.held;
  },
  facts: (values, _context, id) => [fact('retainage-release', id(0), { ...values.fields })],
  says: () => 'The release is recorded.',
};

function openLines({ next }: BillingContext): Line[] {
  return (next?.unpaid ?? []).map((bill) => ({
    invoice: bill.id,
    number: bill.number,
    job: bill.job,
    due: bill.due ?? '',
    open: bill.open,
  }));
}

export const PAYMENT: BillingSpec = {
  kind: 'payment',
  title: 'Payment',
  record: 'Record the payment',
  fields: [
    dateField('date', 'Received on'),
    needed(field.money('amount', 'Amount')),
    needed(field.choice('method', 'How', choices(PAID_BY))),
    field.text('reference', 'Reference'),
  ],
  lists: [
    {
      name: 'allocations',
      line: (line) => `Invoice ${line.number ?? ''}`,
      title: 'Apply to the invoices, oldest first',
      empty: 'This customer owes nothing now: the payment stays unapplied until there is an invoice.',
      fields: [
        field.money('amount', (line) => `Invoice ${line.number ?? ''}, job ${line.job ?? ''}`, {
          unmarked: true,
          hint: (_values, _context, line) => `${money(line.open ?? '0')} open, due ${day(line.due ?? '')}`,
        }),
      ],
    },
  ],
  start: (context) => ({
    fields: { date: context.today, method: 'check' },
    lists: { allocations: openLines(context) },
  }),
  asks: ({ fields, lists }) => {
    const lines = lists.allocations ?? [];
    if (lines.length === 0) return undefined;
    const takes = {
      amount: fields.amount || '0',
      open: lines.map((line) => ({ due: line.due ?? '', open: line.open ?? '0' })),
    };
    return {
      // What is put elsewhere by hand stays so: only another amount is spread anew.
      key: takes.amount,
      byHand: true,
      ask: async () => {
        const parts = await call('spread_payment', takes);
        return (values) =>
          values.lists.allocations?.forEach((line, index) => {
            const part = parts[index] ?? '0';
            line.amount = isZero(part) ? '' : part;
          });
      },
    };
  },
  sums: (values) => {
    const applied = total((values.lists.allocations ?? []).map((line) => line.amount));
    return [
      { name: 'applied to invoices', value: applied },
      { name: 'not applied', value: less(total([values.fields.amount]), applied) },
    ];
  },
  problems: (values): Record<string, string> => {
    const lines = values.lists.allocations ?? [];
    const found: Record<string, string> = {};
    lines.forEach((line, index) => {
      if (line.amount && toMinor(line.amount) > toMinor(line.open ?? '0')) {
        found[`allocations[${index}].amount`] = `Only ${money(line.open ?? '0')} is open on it.`;
      }
    });
    const left = less(total([values.fields.amount]), total(lines.map((line) => line.amount)));
    if (values.fields.amount && isNegative(left)) {
      found.amount = 'More is applied to invoices than came. Lower one of them.';
    }
    return found;
  },
  facts: (values, context, id) => {
    const name = context.job?.figures.customer ?? '';
    const known = context.lists.customers.filter((customer) => customer.name === name);
    const applied = (values.lists.allocations ?? []).filter((line) => line.amount);
    return [
      fact('payment', id(0), { ...values.fields, customer: known[0]?.id ?? name }),
      ...applied.map((line, index) =>
        fact('allocation', id(index + 1), {
          date: values.fields.date,
          payment: id(0),
          invoice: line.invoice,
          amount: line.amount,
        }),
      ),
    ];
  },
  says: (values) => `Payment of ${money(values.fields.amount || '0')} recorded.`,
};
