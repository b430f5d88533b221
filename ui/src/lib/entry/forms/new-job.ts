/** A new job: its customer, the job, and the contract if there is a contract already. */

import { COUNTED_IN, DAMAGED } from '../../bindings/Labels';
import { fact, filled, type FactForm } from '../../facts';
import { choices } from '../../forms/choices';
import {
  anyKind,
  boughtIn,
  code,
  codeChoices,
  dateField,
  description,
  measuredIn,
  unitOfCode,
} from '../fields';
import { jobNumber, type Context, type FieldSpec, type FormSpec, type ListSpec } from '../context';
import { field, needed } from '../../forms/fields';
import { isBlank, pathOf, type Line, type Sum, type Values } from '../../forms/spec';
import { total } from '../calculate';
import { shareOf } from '../../kit/decimal';

function costLine(): Line {
  return { cost_kind: 'material' };
}

function workLine(): Line {
  return {};
}

function priceLine(): Line {
  return { damaged: 'deck-sheet', counted_in: 'sheet' };
}

function dueLine(): Line {
  return {};
}

function known(context: Context, name: string) {
  return context.lists.customers.find((customer) => customer.name === name.trim());
}

function lines(values: { lists: Record<string, Line[]> }, name: string, blank: Line): Line[] {
  return (values.lists[name] ?? []).filter((line) => !isBlank(line, blank));
}

/** Whether a contract is being typed too, or only the job. */
function isContracted(values: { fields: Line }): boolean {
  return values.fields.contracted === 'yes';
}

function contractLines(): Record<string, Line[]> {
  return { lines: [costLine()], units: [], unit_prices: [priceLine()], payments: [] };
}

/** A cost's kind says whether it is counted in hours or in pieces, and its code in which. */
function costChanged(values: Values, path: string, context: Context) {
  const at = pathOf(path);
  if (at?.list !== 'lines' || (at.name !== 'code' && at.name !== 'cost_kind')) return;
  unitOfCode(values, 'lines', at.index, context);
  const line = values.lists.lines?.[at.index];
  if (line?.cost_kind === 'labor') line.quantity = '';
  else if (line) line.hours = '';
}

function contractSums(values: Values): Sum[] {
  return [
    { name: 'cost', value: total((values.lists.lines ?? []).map((line) => line.amount)) },
    { name: 'scheduled', value: total((values.lists.payments ?? []).map((line) => line.amount)) },
  ];
}

function contractFact(values: Values, id: string, job: string): FactForm {
  const { date, price, included_sheets, included_feet, retainage, sold_at_home: home } = values.fields;
  const share = retainage ? shareOf(retainage) : undefined;
  const costs = lines(values, 'lines', costLine());
  return fact('contract', id, {
    date,
    job,
    price,
    included_sheets,
    included_feet,
    retainage: share,
    sold_at_home: home ? home === 'yes' : undefined,
    lines: costs.map((line) => filled({ ...line, unit: line.quantity ? line.unit : '' })),
    units: lines(values, 'units', workLine()),
    unit_prices: lines(values, 'unit_prices', priceLine()),
    payments: lines(values, 'payments', dueLine()),
  });
}

const AT_HOME = choices({ yes: 'At the customer’s home', no: 'At our place of business' });

/** What a contract fixes, apart from its lists. */
const CONTRACT_FIELDS: readonly FieldSpec[] = [
  needed(field.money('price', 'Price before sales tax')),
  field.qty('included_sheets', 'Included deck sheets'),
  field.qty('included_feet', 'Included feet of board'),
  field.percent('retainage', 'Retainage of each invoice'),
  field.choice('sold_at_home', 'Signed where', AT_HOME, {
    none: 'Not said',
    hint: () => 'At home the customer may cancel for three business days (16 CFR 429.1)',
  }),
];

const CONTRACT_LISTS: readonly ListSpec[] = [
  {
    name: 'lines',
    line: 'Cost',
    title: 'Cost in the contract, by code',
    blank: costLine,
    least: 1,
    fields: [
      code,
      anyKind,
      description,
      field.qty('quantity', 'How many', {
        unit: (line, context) => boughtIn(line, context) || undefined,
        when: (_values, _context, line) => line.cost_kind !== 'labor',
      }),
      field.qty('hours', 'Hours', {
        unit: () => 'h',
        when: (_values, _context, line) => line.cost_kind === 'labor',
      }),
      needed(field.money('amount', 'Cost')),
    ],
  },
  {
    name: 'units',
    line: 'Piece of work',
    title: 'Work on measured codes',
    blank: workLine,
    fields: [
      {
        ...code,
        choices: (context) =>
          codeChoices(context).filter(({ value }) => measuredIn({ code: value }, context) !== undefined),
      },
      needed(field.qty('quantity', 'How much', { unit: measuredIn })),
    ],
  },
  {
    name: 'unit_prices',
    line: 'Unit price',
    title: 'Unit prices for hidden conditions',
    blank: priceLine,
    fields: [
      needed(field.choice('damaged', 'Of what', choices(DAMAGED))),
      needed(field.choice('counted_in', 'By', choices(COUNTED_IN))),
      needed(field.money('price', 'Price of one')),
    ],
  },
  {
    name: 'payments',
    line: 'Payment',
    title: 'When the customer pays',
    blank: dueLine,
    fields: [
      needed(field.text('title', 'On what', { wide: true })),
      needed(field.money('amount', 'How much')),
    ],
  },
];

export const NEW_JOB: FormSpec = {
  kind: 'new-job',
  title: 'New job',
  record: 'Record the job',
  fields: [
    needed(field.text('number', 'Number')),
    needed(field.text('title', 'What is done', { wide: true })),
    needed(
      field.text('customer', 'Customer', {
        wide: true,
        known: ({ lists }) => lists.customers.map((row) => row.name),
        hint: (values, context) => {
          const name = values.fields.customer?.trim();
          return !name || known(context, name) ? undefined : 'A new customer: added to the list with this.';
        },
      }),
    ),
    field.text('phone', 'Telephone', {
      when: (values, context) => !known(context, values.fields.customer ?? ''),
    }),
    needed(field.text('site', 'Where', { wide: true })),
    field.text('state', 'State', { hint: () => 'Two letters; empty: the company’s own' }),
    dateField('date', 'Taken on'),
    field.choice(
      'crew',
      'Crew',
      ({ lists }) => lists.crews.map((crew) => ({ value: crew.name, label: crew.name })),
      { none: 'Not yet known' },
    ),
    field.qty('roof_age_years', 'Age of the old roof', { unit: () => 'years' }),
    field.text('roof_state', 'State of the old roof'),
    field.check('contracted', 'The contract is signed'),
    ...CONTRACT_FIELDS.map((field) => ({ ...field, when: isContracted })),
  ],
  lists: CONTRACT_LISTS.map((list) => ({ ...list, when: isContracted })),
  start: (context) => ({
    fields: { number: context.lists.next_job, date: context.today },
    lists: {},
  }),
  changed: (values, path, context) => {
    costChanged(values, path, context);
    if (path !== 'contracted') return;
    values.lists = isContracted(values) ? contractLines() : {};
  },
  sums: (values) => (isContracted(values) ? contractSums(values) : []),
  facts: (values, context, id) => {
    const { customer = '', phone, contracted: _contracted, ...rest } = values.fields;
    const {
      price: _p,
      included_sheets: _s,
      included_feet: _f,
      retainage: _r,
      sold_at_home: _h,
      ...job
    } = rest;
    const found = known(context, customer);
    const facts: FactForm[] = [];
    if (!found) facts.push(fact('customer', id(0), { name: customer.trim(), phone }));
    facts.push(
      fact('job', id(1), {
        ...job,
        number: job.number?.trim(),
        customer: found?.id ?? id(0),
        roof_age_years: job.roof_age_years ? Number(job.roof_age_years) : undefined,
      }),
    );
    if (!isContracted(values)) return facts;
    facts.push(contractFact(values, id(2), id(1)));
    return facts;
  },
  says: (values) => `Job ${values.fields.number ?? ''} recorded.`,
};

/** The contract of a job that was taken down before its contract was signed. */
export const CONTRACT: FormSpec = {
  kind: 'contract',
  title: 'Contract',
  record: 'Record the contract',
  fields: [dateField('date', 'Signed on'), ...CONTRACT_FIELDS],
  lists: CONTRACT_LISTS,
  start: ({ today }) => ({
    fields: { date: today },
    lists: contractLines(),
  }),
  changed: costChanged,
  sums: contractSums,
  facts: (values, context, id) => [contractFact(values, id(0), jobNumber(context))],
  says: () => 'The contract is recorded.',
};
