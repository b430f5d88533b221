import { describe, expect, it } from 'vitest';

import type { JobPage } from '../../bindings/JobPage';
import type { Lists } from '../../bindings/Lists';
import type { OpenInvoice } from '../../bindings/OpenInvoice';
import page from '../../../../tests/fixtures/job-page.json';
import lists from '../../../../tests/fixtures/lists.json';
import { program } from '../../../../tests/program';
import toBill from '../../../../tests/fixtures/to-bill.json';
import type { ToBill } from '../../bindings/ToBill';
import type { Context, FormSpec } from '../context';
import type { Line, Values } from '../../forms/spec';
import {
  DECISION,
  CHANGE,
  CHANGE_COST,
  CONDITION,
  REPAIR,
  HOURS,
  INVOICE,
  NEW_JOB,
  PAYMENT,
  CONTRACT,
  BILL,
  JOB_STATUS,
} from '.';

const job = page as unknown as JobPage;

const unpaid: OpenInvoice[] = [
  {
    id: 'i-1',
    number: '1033',
    job: '26-011',
    customer: 'x',
    due: '2026-07-28',
    age: 'current' as const,
    days_past_due: 95,
    open: '300.00',
  },
  {
    id: 'i-2',
    number: '1036',
    job: '26-021',
    customer: 'x',
    due: '2026-08-31',
    age: 'current' as const,
    days_past_due: 61,
    open: '450.00',
  },
].map((bill) => ({ ...bill, customer_id: 'c-1', retainage: '0.00' }));

const context: Context = {
  job,
  lists: lists as unknown as Lists,
  today: '2026-10-31',
  jobs: ['26-024', '26-009'],
  next: { ...(toBill as ToBill), unpaid },
};

/** Asks the program what the form wants to know, as the page does once typing rests. */
async function asked(spec: FormSpec, values: Values, answers: Parameters<typeof program>[0]) {
  const stands = program(answers);
  const fill = await spec.asks?.(values, context)?.ask();
  fill?.(values);
  return stands;
}

/** Fills in a form as a person does, field by field. */
function filledIn(
  spec: FormSpec,
  typed: Record<string, string>,
  over: Context = context,
  about = {},
): Values {
  const values = spec.start(over, about);
  for (const [path, value] of Object.entries(typed)) {
    const at = /^(\w+)\[(\d+)\]\.(\w+)$/.exec(path);
    const line = at ? values.lists[at[1] ?? '']?.[Number(at[2])] : values.fields;
    if (!line) throw new Error(`No line for ${path}`);
    line[at?.[3] ?? path] = value;
    spec.changed?.(values, path, over);
  }
  return values;
}

function facts(spec: FormSpec, values: Values, over: Context = context) {
  return spec.facts(values, over, (index) => `id-${index}`) as Record<string, unknown>[];
}

describe('hours of a crew', () => {
  it('are given to all of the crew in one go, and one by one where they differ', () => {
    const values = filledIn(HOURS, { code: 'shingle', hours: '8' });
    const people = values.lists.people ?? [];
    expect(people.filter((line) => line.hours === '8').map((line) => line.crew)).toEqual(
      Array(4).fill('River'),
    );
    people[0]!.hours = '6.5';
    const recorded = facts(HOURS, values);
    expect(recorded.map((fact) => fact.hours)).toEqual(['6.5', '8', '8', '8']);
    expect(new Set(recorded.map((fact) => fact.id)).size).toBe(4);
    expect(recorded[0]).toMatchObject({ kind: 'time-entry', job: '26-021', code: 'shingle', crew: 'River' });
    expect(HOURS.sums?.(values, context)).toEqual([{ name: 'hours of 4 people', value: '30.5', unit: 'h' }]);
  });

  it('go to the code of the condition that they repair, and say what they are without a crew', () => {
    const [asked] = job.conditions.filter((each) => each.code !== null);
    expect(filledIn(HOURS, { condition: asked!.source.id }).fields.code).toBe(asked!.code);
    const values = filledIn(HOURS, { hours: '8' });
    expect(HOURS.cautions?.(values, context)).toEqual([]);
    values.fields.crew = '';
    expect(HOURS.cautions?.(values, context)).toEqual([]);
    const crewless = { ...context, job: { ...job, figures: { ...job.figures, crew: null } } };
    expect(HOURS.cautions?.(values, crewless).join()).toMatch(/eight of these hours/);
  });

  it('leave out who has left, and ask for somebody', () => {
    const values = filledIn(HOURS, {});
    expect(values.lists.people?.map((line) => line.name)).not.toContain('Wen Hallowell');
    expect(HOURS.problems?.(values, context)).toHaveProperty('hours');
  });
});

describe('a payment', () => {
  it('is applied to invoices as the program spreads it, and each part rests on it', async () => {
    const values = filledIn(PAYMENT, { amount: '500.00', reference: 'Check 9' });
    const { last } = await asked(PAYMENT, values, { spread_payment: ['300.00', '200.00'] });
    expect(last('spread_payment')).toEqual({
      amount: '500.00',
      open: [
        { due: '2026-07-28', open: '300.00' },
        { due: '2026-08-31', open: '450.00' },
      ],
    });
    expect(values.lists.allocations?.map((line) => line.amount)).toEqual(['300.00', '200.00']);
    expect(facts(PAYMENT, values)).toMatchObject([
      { kind: 'payment', id: 'id-0', amount: '500.00', method: 'check' },
      { kind: 'allocation', id: 'id-1', payment: 'id-0', invoice: 'i-1', amount: '300.00' },
      { kind: 'allocation', id: 'id-2', payment: 'id-0', invoice: 'i-2', amount: '200.00' },
    ]);
  });

  it('may be put elsewhere, but not beyond what came or what is open', () => {
    const values = filledIn(PAYMENT, { amount: '100.00', 'allocations[1].amount': '450.01' });
    const problems = PAYMENT.problems?.(values, context) ?? {};
    expect(problems['allocations[1].amount']).toBe('Only 450.00 is open on it.');
    expect(problems.amount).toMatch(/More is applied to invoices than came/);
  });
});

describe('an invoice', () => {
  it('is offered what the payment schedule says comes next', () => {
    const values = filledIn(INVOICE, {});
    expect(values.fields).toMatchObject({
      purpose: 'progress',
      number: toBill.next.invoice,
      due: '2026-11-30',
    });
    expect(values.lists.lines).toMatchObject([{ description: 'On completion', amount: '8418.00' }]);
  });

  it('warns before the final one of what the program says is open, and before no other', () => {
    const values = filledIn(INVOICE, { purpose: 'final' });
    expect(values.lists.lines).toMatchObject([{ amount: '8418.00' }]);
    const said = INVOICE.cautions?.(values, context).join(' ');
    expect(said).toMatch(/Condition 2 \(.*\) is repaired or begun without a decision/);
    expect(said).toMatch(/Change order 1 of 683.00 waits/);
    expect(INVOICE.cautions?.(filledIn(INVOICE, { purpose: 'progress' }), context)).toEqual([]);
  });

  const COMES = {
    net: '8418.01',
    tax: '0.83',
    rate: '0.0825',
    tax_words: '8.25 % of 10.00, rounded once for the invoice.',
    retainage: '841.80',
    retainage_words: 'The contract holds 10 %.',
    total: '8418.84',
    due: '7577.04',
    beyond: '0.01',
    warnings: ['With this, 0.01 more than the contract is billed.'],
  };

  it('comes to what the program calculates, with its words, and warns beyond the contract', async () => {
    const values = filledIn(INVOICE, { 'lines[0].amount': '8418.01', 'lines[0].taxable': 'yes' });
    const { last } = await asked(INVOICE, values, { calculate_invoice: COMES });
    expect(last('calculate_invoice')).toEqual({
      job: '26-021',
      draft: {
        date: values.fields.date,
        purpose: 'progress',
        lines: [{ amount: '8418.01', taxable: true }],
        tax: null,
        retainage: null,
      },
    });
    expect(values.fields).toMatchObject({ tax: '0.83', retainage: '841.80' });
    const tax = INVOICE.fields.find((field) => field.name === 'tax');
    expect(tax?.hint?.(values, context, values.fields)).toBe(COMES.tax_words);
    expect(INVOICE.sums?.(values, context).at(-1)).toEqual({ name: 'due', value: '7577.04' });
    expect(INVOICE.cautions?.(values, context).join(' ')).toMatch(/0.01 more than the contract/);
  });

  it('taxes each line where the firm taxes, and none where it does not', () => {
    const firm = { ...context.lists.firm, sales_tax: '0.055' };
    const taxing = { ...context, lists: { ...context.lists, firm } };
    const begun = INVOICE.start?.(taxing, {});
    expect(begun?.lists.lines?.map((line) => line.taxable)).toEqual(['yes']);
    expect(INVOICE.lists?.[0]?.blank?.(begun ?? { fields: {}, lists: {} }, taxing)).toEqual({
      taxable: 'yes',
    });
    expect(INVOICE.start?.(context, {}).lists.lines?.[0]?.taxable).toBeUndefined();
  });

  it('keeps the tax that a person typed, and tells the program so', async () => {
    const values = filledIn(INVOICE, { tax: '0.80', 'lines[0].taxable': 'yes' });
    const { last } = await asked(INVOICE, values, { calculate_invoice: { ...COMES, tax: '0.80' } });
    expect(last('calculate_invoice').draft.tax).toBe('0.80');
    const [fact] = facts(INVOICE, values);
    expect(fact).toMatchObject({ tax: '0.80', retainage: '841.80', lines: [{ taxable: true }] });
    for (const own of ['tax_typed', 'tax_words', 'net', 'warnings']) expect(fact).not.toHaveProperty(own);
  });

  it('takes a credit below zero, with what it takes off the retainage of its invoice', () => {
    const typed = {
      purpose: 'credit',
      retainage: '5.00',
      'lines[0].description': 'Less',
      'lines[0].amount': '50.00',
    };
    const [lowers] = facts(INVOICE, filledIn(INVOICE, { ...typed, credits: 'i-9' }));
    expect(lowers).toMatchObject({ credits: 'i-9', retainage: '-5.00', lines: [{ amount: '-50.00' }] });
    const [stands] = facts(INVOICE, filledIn(INVOICE, typed));
    expect(stands).not.toHaveProperty('credits');
    expect(stands).not.toHaveProperty('retainage');
  });

  it('bills what is approved of change orders and not billed yet', () => {
    const change = job.changes[0]!;
    const line = { description: 'Change order 1', amount: '600.00', change_order: change.id };
    const next = { ...context.next!, offers: [{ purpose: 'change-order' as const, lines: [line] }] };
    const values = filledIn(INVOICE, { purpose: 'change-order' }, { ...context, next });
    expect(values.lists.lines).toMatchObject([{ amount: '600.00', change_order: change.id }]);
  });
});

describe('changes', () => {
  it('take the next number of their own', () => {
    expect(CONDITION.start(context, {}).fields.number).toBe('3');
    expect(CHANGE.start(context, {}).fields.number).toBe('2');
  });

  it('count damage in the unit that fits it', () => {
    expect(filledIn(CONDITION, { damaged: 'deck-board' }).fields.counted_in).toBe('foot');
    expect(CONDITION.cautions?.(CONDITION.start(context, {}), context)).toEqual([
      '3 of the 3 included sheets are used.',
    ]);
  });

  it('answer the one change order that waits', () => {
    const values = filledIn(DECISION, {});
    expect(values.fields.change_order).toBe(job.changes[0]?.id);
    expect(facts(DECISION, values)[0]).not.toHaveProperty('caution_given');
    const declined = filledIn(DECISION, { verdict: 'declined' });
    expect(DECISION.cautions?.(declined, context)).toHaveLength(1);
    declined.fields.caution_given = 'yes';
    expect(DECISION.cautions?.(declined, context)).toEqual([]);
    expect(facts(DECISION, declined)[0]).toMatchObject({ caution_given: true });
  });

  it('record how far a repair is, and say when nobody was asked', () => {
    const open = job.conditions.find((each) => each.work !== 'done')!;
    const values = filledIn(REPAIR, {}, context, { condition: open.source.id, stage: 'done' });
    expect(facts(REPAIR, values)[0]).toEqual({
      kind: 'repair',
      id: 'id-0',
      condition: open.source.id,
      date: '2026-10-31',
      stage: 'done',
    });
    const unasked = { ...context, job: { ...job, conditions: [{ ...open, to_ask: true }] } };
    expect(REPAIR.cautions?.(values, unasked)).toHaveLength(1);
    expect(
      REPAIR.cautions?.(values, { ...context, job: { ...job, conditions: [{ ...open, to_ask: false }] } }),
    ).toEqual([]);
  });

  it('fills in what a change order should cost, line by line, from the margin that was sold', () => {
    const open = job.changes.find((change) => change.lacks_cost);
    const begun = CHANGE_COST.start(context, {});
    expect(begun.fields.change_order).toBe(open?.id);
    expect(begun.lists.lines?.map((line) => line.cost)).toEqual(open?.lines.map((line) => line.usual_cost));
    expect(begun.lists.lines?.[0]?.what).toContain(open?.lines[0]?.description);
    begun.lists.lines![0]!.cost = '100.00';
    expect(facts(CHANGE_COST, begun)).toMatchObject([
      {
        kind: 'change-cost',
        change_order: open?.id,
        lines: open?.lines.map((_, index) => ({ change_line: index + 1 })),
      },
    ]);
    expect(facts(CHANGE_COST, begun)[0]).toHaveProperty('lines.0.cost', '100.00');
    CHANGE_COST.changed?.(begun, 'change_order', context);
    begun.fields.change_order = '';
    CHANGE_COST.changed?.(begun, 'change_order', context);
    expect(begun.lists.lines).toEqual([]);
  });

  it('mark up time and material by a fraction', () => {
    const values = filledIn(CHANGE, { pricing: 'time-and-material', markup: '15', days: '2' });
    expect(facts(CHANGE, values)[0]).toMatchObject({ markup: '0.15', days: 2, lines: [] });
  });
});

describe('a bill', () => {
  it('that is a credit is recorded below zero', () => {
    const values = filledIn(BILL, {
      vendor: 'Three Forks Roofing Wholesale',
      credit: 'yes',
      'lines[0].amount': '12.00',
      'lines[0].tax': '0.66',
    });
    const [fact] = facts(BILL, values);
    expect(fact).toMatchObject({ credit: true, lines: [{ amount: '-12.00', tax: '-0.66' }] });
  });

  it('takes a line’s amount from its quantity and printed price, as the program rounds it', async () => {
    const values = filledIn(BILL, {
      vendor: 'x',
      'lines[0].quantity': '81',
      'lines[0].unit_price': '34.5',
    });
    const { last } = await asked(BILL, values, { line_amounts: ['2794.50'] });
    expect(last('line_amounts')).toEqual({ lines: [{ quantity: '81', unit_price: '34.5' }] });
    expect(values.lists.lines?.[0]?.amount).toBe('2794.50');
    // What is typed over it stays, and nothing of this goes into the fact.
    values.lists.lines![0]!.amount = '2800.00';
    expect(BILL.asks?.(values, context)).toBeUndefined();
    expect(facts(BILL, values)[1]?.lines).toEqual([
      expect.not.objectContaining({ priced_as: expect.anything() as string }),
    ]);
    expect(BILL.asks?.(filledIn(BILL, {}), context)).toBeUndefined();
  });

  it('takes the vendor of the order that it fills, and its lines to be ticked', () => {
    const order = job.orders.find((each) => each.lines.length > 0)!;
    const values = filledIn(BILL, { purchase_order: order.source.id });
    expect(values.fields.vendor).toBe(order.vendor);
    expect(values.lists.lines).toMatchObject(
      order.lines.map(({ code, amount }) => ({ job: '26-021', code, amount, take: 'yes' })),
    );
    const all = BILL.sums?.(values, context)[0]?.value;
    values.lists.lines!.push({ job: '26-021', code: 'sundry', cost_kind: 'material', amount: '5.00' });
    values.lists.lines![0]!.take = '';
    const [bill] = facts(BILL, values).filter((each) => each.kind === 'bill');
    const lines = bill!.lines as Line[];
    expect(lines.map((line) => line.code)).toEqual([
      ...order.lines.slice(1).map((line) => line.code),
      'sundry',
    ]);
    for (const line of lines) for (const own of ['take', 'ordered']) expect(line).not.toHaveProperty(own);
    expect(BILL.sums?.(values, context)[0]?.value).not.toBe(all);
    // Another choice leaves what was typed by hand.
    values.fields.purchase_order = '';
    BILL.changed?.(values, 'purchase_order', context);
    expect(values.lists.lines?.map((line) => line.amount)).toEqual(['5.00']);
  });

  it('ties only this job’s lines to this job’s conditions', () => {
    const condition = job.conditions[1]!.source.id;
    const values = filledIn(BILL, { vendor: 'x', 'lines[0].condition': condition, 'lines[0].job': '26-022' });
    expect(facts(BILL, values)[1]?.lines).toEqual([
      expect.not.objectContaining({ condition }) as Record<string, unknown>,
    ]);
  });
});

describe('a job', () => {
  it('is given the number that comes next', () => {
    expect(filledIn(NEW_JOB, {}).fields.number).toBe(context.lists.next_job);
  });

  it('takes a customer that is known by id, and no contract unless it is signed', () => {
    const customer = context.lists.customers[0]!;
    const recorded = facts(NEW_JOB, filledIn(NEW_JOB, { customer: customer.name, roof_age_years: '20' }));
    expect(recorded).toMatchObject([{ kind: 'job', customer: customer.id, roof_age_years: 20 }]);
    expect(recorded[0]).not.toHaveProperty('price');
  });

  it('gets its contract later where it was not signed yet', () => {
    const values = filledIn(CONTRACT, { price: '100.00', retainage: '10', 'lines[0].code': 'sundry' });
    expect(facts(CONTRACT, values)).toMatchObject([
      { kind: 'contract', job: '26-021', price: '100.00', retainage: '0.1', lines: [{ code: 'sundry' }] },
    ]);
  });

  it('is warned of conditions at risk when it is called done', () => {
    expect(JOB_STATUS.cautions?.(filledIn(JOB_STATUS, {}), context)).toEqual([
      'Condition 2 is at risk: no decision yet.',
    ]);
  });

  it('says where a fact of a closed month will be booked', () => {
    const values = filledIn(JOB_STATUS, { date: '2026-09-30' });
    const date = JOB_STATUS.fields.find((field) => field.name === 'date');
    expect(date?.hint?.(values, context, values.fields)).toMatch(
      /is closed: this will be booked in the month after/,
    );
  });
});
