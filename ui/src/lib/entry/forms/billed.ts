/** Money in: invoices, retainage that falls due, and payments put to invoices. */

import type { JobPage } from '../../bindings/JobPage';
import { fromMinor, isNegative, isZero, toMinor } from '../../kit/money';
import { dateField, day, description, dueAfter, money, note } from '../fields';
import {
  fact,
  filled,
  isBlank,
  jobNumber,
  nextNumber,
  pathOf,
  type Context,
  type FormSpec,
  type Line,
} from '../form';
import { below, salesTax, spread, total } from '../reckon';
import { PAID_BY, PURPOSES } from '../words';

function invoiceLine(): Line {
  return { description: '', amount: '', taxable: '', change_order: '' };
}

function less(left: string, right: string): string {
  return fromMinor(toMinor(left) - toMinor(right));
}

/** What of the approved changes is not billed yet, change order by change order. */
function unbilledChanges(job: JobPage): Line[] {
  return job.changes
    .filter((change) => toMinor(change.approved) > toMinor(change.billed))
    .map((change) => ({
      description: `Change order ${change.number}: ${change.title}`,
      amount: less(change.approved, change.billed),
      taxable: '',
      change_order: change.id,
    }));
}

/** What an invoice for this purpose would hold. */
function offered(purpose: string, job: JobPage): Line[] {
  const changes = unbilledChanges(job);
  if (purpose === 'change-order') return changes;
  if (purpose === 'final') {
    const rest = less(
      less(job.figures.contract, job.figures.billed),
      total(changes.map((line) => line.amount)),
    );
    const base = toMinor(rest) > 0n ? [{ ...invoiceLine(), description: 'On completion', amount: rest }] : [];
    return [...base, ...changes];
  }
  if (purpose === 'deposit' || purpose === 'progress') {
    const billed = job.invoices.filter((bill) => bill.purpose === 'deposit' || bill.purpose === 'progress');
    const next = job.promise?.payments[billed.length];
    return next ? [{ ...invoiceLine(), description: next.title, amount: next.amount }] : [];
  }
  return [];
}

function isCredit(line: Line): boolean {
  return line.purpose === 'credit';
}

function finalCautions(job: JobPage): string[] {
  const said: string[] = [];
  for (const find of job.finds) {
    const open = isZero(find.approved) && !isZero(find.beyond);
    if (!open) continue;
    said.push(
      find.work === 'at-risk'
        ? `Find ${find.number} is mended or begun without an answer: what it cost may never be billed.`
        : `Find ${find.number} has no answer yet.`,
    );
  }
  for (const change of job.changes.filter((each) => each.state === 'waiting')) {
    said.push(`Change order ${change.number} of ${money(change.price)} waits for its answer.`);
  }
  return said;
}

export const INVOICE: FormSpec = {
  kind: 'invoice',
  title: 'Invoice',
  record: 'Record the invoice',
  fields: [
    { name: 'purpose', label: 'What for', kind: 'choice', required: true, choices: () => PURPOSES },
    { name: 'number', label: 'Number', kind: 'text', required: true },
    dateField('date', 'Date on it'),
    { name: 'due', label: 'Due on', kind: 'date', required: true },
    {
      name: 'credits',
      label: 'Lowers the invoice',
      kind: 'choice',
      none: 'None named',
      choices: ({ job }) =>
        (job?.invoices ?? [])
          .filter((bill) => bill.purpose !== 'credit')
          .map((bill) => ({ value: bill.source.id, label: `${bill.number} · ${money(bill.net)}` })),
      when: (values) => isCredit(values.fields),
    },
    {
      name: 'tax',
      label: 'Sales tax',
      kind: 'money',
      negative: true,
      hint: (values, { lists }) =>
        isZero(lists.firm.sales_tax)
          ? 'The firm charges none.'
          : values.fields.tax_typed
            ? 'As typed.'
            : 'By the firm’s rate on the lines that are taxed.',
    },
    {
      name: 'retainage',
      label: 'Held until the end',
      kind: 'money',
      when: (values) => !isCredit(values.fields),
    },
    note,
  ],
  lists: [
    {
      name: 'lines',
      line: 'Line',
      title: 'What is billed',
      blank: () => invoiceLine(),
      least: 1,
      fields: [
        { ...description, required: true },
        { name: 'amount', label: 'Amount before tax', kind: 'money', required: true, negative: true },
        {
          name: 'change_order',
          label: 'Bills a change order',
          kind: 'choice',
          none: 'None',
          wide: true,
          choices: ({ job }) =>
            (job?.changes ?? []).map((change) => ({
              value: change.id,
              label: `${change.number} · ${change.title}`,
            })),
          when: (_values, { job }) => (job?.changes.length ?? 0) > 0,
        },
        {
          name: 'taxable',
          label: 'Taxed',
          kind: 'check',
          when: (_values, { lists }) => !isZero(lists.firm.sales_tax),
        },
      ],
    },
  ],
  start: ({ job, today, lists }) => {
    const billed = job?.invoices.length ?? 0;
    const last = billed > 0 && billed >= (job?.promise?.payments.length ?? 0) - 1;
    const done = last && job?.figures.stage === 'finished';
    const purpose = billed === 0 ? 'deposit' : done ? 'final' : 'progress';
    const lines = job ? offered(purpose, job) : [];
    const values = {
      fields: {
        purpose,
        number: billed === 0 ? '' : nextNumber((job?.invoices ?? []).map((bill) => bill.number)),
        date: today,
        due: dueAfter(today),
        credits: '',
        tax: '',
        tax_typed: '',
        retainage: '',
        note: '',
      },
      lists: { lines: lines.length > 0 ? lines : [invoiceLine()] },
    };
    offerTax(values, lists);
    return values;
  },
  changed: (values, path, { job, lists }) => {
    if (path === 'purpose' && job) {
      const lines = offered(values.fields.purpose ?? '', job);
      values.lists.lines = lines.length > 0 ? lines : [invoiceLine()];
    }
    if (path === 'date' && values.fields.date) values.fields.due = dueAfter(values.fields.date);
    if (path === 'tax') values.fields.tax_typed = values.fields.tax ? 'yes' : '';
    const at = pathOf(path);
    const line = at && values.lists[at.list]?.[at.index];
    if (line && at.name === 'change_order' && job) {
      const offer = unbilledChanges(job).find((each) => each.change_order === line.change_order);
      if (offer && !line.amount) Object.assign(line, { ...offer, taxable: line.taxable });
    }
    offerTax(values, lists);
  },
  sums: (values) => {
    const net = total((values.lists.lines ?? []).map((line) => line.amount));
    const sign = (amount: string) => (isCredit(values.fields) && !isZero(amount) ? below(amount) : amount);
    const gross = total([sign(net), values.fields.tax && sign(values.fields.tax)]);
    return [
      { name: 'before tax', value: sign(net) },
      { name: 'with tax', value: gross },
      { name: 'due', value: less(gross, total([values.fields.retainage])) },
    ];
  },
  cautions: (values, { job }) => {
    if (!job) return [];
    const said = values.fields.purpose === 'final' ? finalCautions(job) : [];
    const net = total((values.lists.lines ?? []).map((line) => line.amount));
    const over = toMinor(job.figures.billed) + toMinor(net) - toMinor(job.figures.contract);
    if (!isCredit(values.fields) && over > 0n) {
      said.push(`With this, ${money(fromMinor(over))} more than the contract is billed.`);
    }
    return said;
  },
  facts: (values, context, id) => {
    const { tax_typed: _typed, ...fields } = values.fields;
    const credit = isCredit(values.fields);
    const signed = (amount: string | undefined) => (amount && credit ? below(amount) : amount);
    const lines = (values.lists.lines ?? [])
      .filter((line) => !isBlank(line, invoiceLine()))
      .map((line) =>
        filled({ ...line, amount: signed(line.amount), taxable: line.taxable === 'yes' || undefined }),
      );
    const head = fact('invoice', id(0), {
      ...fields,
      job: jobNumber(context),
      tax: signed(fields.tax),
      credits: credit ? fields.credits : '',
      retainage: credit ? '' : fields.retainage,
    });
    return [{ ...head, lines }];
  },
  says: (values) =>
    `${isCredit(values.fields) ? 'Credit note' : 'Invoice'} ${values.fields.number ?? ''} recorded.`,
};

/** Fills in the tax, unless a person has typed another. */
function offerTax(values: { fields: Line; lists: Record<string, Line[]> }, lists: Context['lists']) {
  if (values.fields.tax_typed) return;
  const taxed = (values.lists.lines ?? []).filter((line) => line.taxable === 'yes' && line.amount);
  const tax = salesTax(
    taxed.map((line) => line.amount ?? '0'),
    lists.firm.sales_tax,
    lists.firm.sales_tax_rounding,
  );
  values.fields.tax = isZero(tax) ? '' : tax;
}

export const RELEASE: FormSpec = {
  kind: 'retainage-release',
  title: 'Retainage falls due',
  record: 'Record the release',
  fields: [
    {
      name: 'invoice',
      label: 'Invoice that held it',
      kind: 'choice',
      none: 'Choose',
      required: true,
      wide: true,
      choices: ({ job }) =>
        (job?.invoices ?? [])
          .filter((bill) => toMinor(bill.retainage) > toMinor(bill.released))
          .map((bill) => ({
            value: bill.source.id,
            label: `${bill.number} · ${money(less(bill.retainage, bill.released))} held`,
          })),
    },
    dateField(),
    { name: 'amount', label: 'How much', kind: 'money', required: true },
    { name: 'due', label: 'Due on', kind: 'date', required: true },
  ],
  lists: [],
  start: ({ today }) => ({
    fields: { invoice: '', date: today, amount: '', due: dueAfter(today) },
    lists: {},
  }),
  changed: (values, path, { job }) => {
    if (path !== 'invoice') return;
    const bill = job?.invoices.find((each) => each.source.id === values.fields.invoice);
    if (bill) values.fields.amount = less(bill.retainage, bill.released);
  },
  facts: (values, _context, id) => [fact('retainage-release', id(0), { ...values.fields })],
  says: () => 'The release is recorded.',
};

function openLines({ open }: Context): Line[] {
  return open.map((bill) => ({
    invoice: bill.id,
    number: bill.number,
    job: bill.job,
    due: bill.due,
    open: bill.open,
    amount: '',
  }));
}

export const PAYMENT: FormSpec = {
  kind: 'payment',
  title: 'Payment',
  record: 'Record the payment',
  fields: [
    dateField('date', 'Came on'),
    { name: 'amount', label: 'Amount', kind: 'money', required: true },
    { name: 'means', label: 'How', kind: 'choice', required: true, choices: () => PAID_BY },
    { name: 'reference', label: 'Reference', kind: 'text' },
  ],
  lists: [
    {
      name: 'applications',
      line: (line) => `Invoice ${line.number ?? ''}`,
      title: 'Put to the invoices, oldest first',
      empty: 'This customer owes nothing now: the payment stays unapplied until there is an invoice.',
      fields: [
        {
          name: 'amount',
          label: (line) => `Invoice ${line.number ?? ''}, job ${line.job ?? ''}`,
          kind: 'money',
          unmarked: true,
          hint: (_values, _context, line) => `${money(line.open ?? '0')} open, due ${day(line.due ?? '')}`,
        },
      ],
    },
  ],
  start: (context) => ({
    fields: { date: context.today, amount: '', means: 'check', reference: '' },
    lists: { applications: openLines(context) },
  }),
  changed: (values, path) => {
    if (path !== 'amount') return;
    const lines = values.lists.applications ?? [];
    const parts = spread(
      values.fields.amount || '0',
      lines.map((line) => line.open ?? '0'),
    );
    lines.forEach((line, index) => {
      const part = parts[index] ?? '0';
      line.amount = isZero(part) ? '' : part;
    });
  },
  sums: (values) => {
    const applied = total((values.lists.applications ?? []).map((line) => line.amount));
    return [
      { name: 'put to invoices', value: applied },
      { name: 'not applied', value: less(total([values.fields.amount]), applied) },
    ];
  },
  problems: (values): Record<string, string> => {
    const lines = values.lists.applications ?? [];
    const found: Record<string, string> = {};
    lines.forEach((line, index) => {
      if (line.amount && toMinor(line.amount) > toMinor(line.open ?? '0')) {
        found[`applications[${index}].amount`] = `Only ${money(line.open ?? '0')} is open on it.`;
      }
    });
    const left = less(total([values.fields.amount]), total(lines.map((line) => line.amount)));
    if (values.fields.amount && isNegative(left)) {
      found.amount = 'More is put to invoices than came. Lower one of them.';
    }
    return found;
  },
  facts: (values, context, id) => {
    const name = context.job?.figures.customer ?? '';
    const known = context.lists.customers.filter((customer) => customer.name === name);
    const applied = (values.lists.applications ?? []).filter((line) => line.amount);
    return [
      fact('payment', id(0), { ...values.fields, customer: known[0]?.id ?? name }),
      ...applied.map((line, index) => ({
        kind: 'application',
        id: id(index + 1),
        date: values.fields.date,
        payment: id(0),
        invoice: line.invoice,
        amount: line.amount,
      })),
    ];
  },
  says: (values) => `Payment of ${money(values.fields.amount || '0')} recorded.`,
};
