/** What a job costs: bills, hours, orders, and a direct cost without a bill. */

import { fact, filled } from '../../facts';
import { jobNumber, type Context, type FormSpec } from '../context';
import { field, needed } from '../../forms/fields';
import { isBlank, pathOf, type Line, type Values } from '../../forms/spec';
import {
  boughtIn,
  boughtKind,
  code,
  dateField,
  description,
  condition,
  conditionChoices,
  note,
  unitOfCode,
  vendor,
  vendorFacts,
} from '../fields';
import { amountsOf, isCredit, linesOf, recordedLines, sumsOf, ticked } from '../bill-lines';
import { sumQty, total } from '../calculate';

function billLine(_values: Values, context: Context): Line {
  return { job: jobNumber(context), cost_kind: 'material' };
}

export const BILL: FormSpec = {
  kind: 'bill',
  title: 'Bill',
  record: 'Record the bill',
  fields: [
    dateField('date', 'Date on it'),
    vendor,
    needed(field.text('reference', 'Number on it')),
    field.choice(
      'purchase_order',
      'Fills the order',
      ({ job }) =>
        (job?.orders ?? []).map((order) => ({
          value: order.source.id,
          label: `${order.number} · ${order.vendor}`,
        })),
      { none: 'None', when: (_values, { job }) => (job?.orders.length ?? 0) > 0 },
    ),
    field.check('completes_order', 'Nothing more comes on that order', {
      when: (values) => Boolean(values.fields.purchase_order),
    }),
    field.check('credit', 'It is a vendor credit', {
      hint: (values) => (isCredit(values) ? 'Its lines are recorded below zero.' : undefined),
    }),
    note,
  ],
  lists: [
    {
      name: 'lines',
      line: 'Line',
      title: 'What was bought',
      blank: billLine,
      least: 1,
      fields: [
        ticked(),
        needed(field.text('job', 'Job', { known: ({ jobs }) => jobs })),
        code,
        boughtKind,
        description,
        field.qty('quantity', 'How many', {
          negative: true,
          unit: (line, context) => boughtIn(line, context) || undefined,
        }),
        field.rate('unit_price', 'Price of one'),
        needed(field.money('amount', 'Amount before tax', { negative: true })),
        field.money('tax', 'Tax', { negative: true }),
        condition,
      ],
    },
  ],
  start: (context) => ({
    fields: { date: context.today },
    lists: { lines: [billLine({ fields: {}, lists: {} }, context)] },
  }),
  changed: (values, path, context) => {
    const at = pathOf(path);
    const line = at && values.lists[at.list]?.[at.index];
    if (at && line && (at.name === 'code' || at.name === 'cost_kind')) {
      unitOfCode(values, at.list, at.index, context);
    }
    if (path === 'purchase_order') {
      const order = context.job?.orders.find((row) => row.source.id === values.fields.purchase_order);
      if (order && !values.fields.vendor) values.fields.vendor = order.vendor;
      const own = (values.lists.lines ?? []).filter(
        (each) => each.ordered !== 'yes' && !isBlank(each, billLine(values, context)),
      );
      const ordered = order ? linesOf(jobNumber(context), order.lines) : [];
      const lines = [...ordered, ...own];
      values.lists.lines = lines.length > 0 ? lines : [billLine(values, context)];
      if (!order) values.fields.completes_order = '';
    }
  },
  asks: amountsOf,
  sums: ({ lists }) => sumsOf(lists.lines ?? []),
  facts: (values, context, id) => {
    const bought = vendorFacts(values.fields.vendor ?? '', context, id(1));
    const lines = recordedLines(values, 'lines').map((line) => ({
      ...line,
      condition: line.job === jobNumber(context) ? line.condition : undefined,
    }));
    const bill = fact('bill', id(0), {
      ...values.fields,
      vendor: bought.vendor,
      completes_order: values.fields.completes_order === 'yes' || undefined,
      credit: isCredit(values) || undefined,
      lines,
    });
    return [...bought.facts, bill];
  },
  says: (values) => `Bill ${values.fields.reference ?? ''} recorded.`,
};

/** Everybody who can be given hours, the chosen crew first and with the hours that were typed for all. */
function crewLines(values: Values, { lists }: Context): Line[] {
  const { crew = '', hours = '' } = values.fields;
  const people = lists.people.filter((person) => person.role === 'crew' && !person.left_on);
  const own = people.filter((person) => person.crew === crew);
  const others = people.filter((person) => person.crew !== crew);
  return [
    ...own.map((person) => ({ person: person.id, name: person.name, crew, hours })),
    ...others.map((person) => ({ person: person.id, name: person.name, crew: person.crew ?? '' })),
  ];
}

export const HOURS: FormSpec = {
  kind: 'time-entry',
  title: 'Hours of a crew',
  record: 'Record the hours',
  fields: [
    dateField(),
    code,
    field.choice(
      'crew',
      'Crew',
      ({ lists }) => lists.crews.map((crew) => ({ value: crew.name, label: crew.name })),
      { none: 'No crew' },
    ),
    field.qty('hours', 'Hours each', { unit: () => 'h' }),
    { ...condition, wide: true },
    field.check('caused_overtime', 'These hours made the overtime', {
      when: (_values, { lists }) => lists.firm.premium_to === 'cause',
    }),
  ],
  lists: [
    {
      name: 'people',
      line: (line) => line.name ?? '',
      title: 'Who worked',
      empty: 'There is nobody on the crews yet. Add people under Rates.',
      fields: [
        field.qty('hours', (line) => line.name ?? '', {
          unmarked: true,
          unit: () => 'h',
          hint: (_values, _context, line) => line.crew || 'no crew',
        }),
      ],
    },
  ],
  start: (context) => {
    const values: Values = {
      fields: { date: context.today, crew: context.job?.figures.crew ?? '' },
      lists: {},
    };
    values.lists.people = crewLines(values, context);
    return values;
  },
  changed: (values, path, context) => {
    if (path === 'crew' || path === 'hours') values.lists.people = crewLines(values, context);
    // Hours of a repair go to its code.
    const found = context.job?.conditions.find((each) => each.source.id === values.fields.condition);
    if (path === 'condition' && found?.code) values.fields.code = found.code;
  },
  // Where neither the hours nor the job name a crew, a crew-day is one person's eight hours.
  cautions: ({ fields, lists: { people = [] } }, { job }) =>
    fields.crew || job?.figures.crew || people.every((line) => !line.hours)
      ? []
      : [
          'Without a crew, each eight of these hours count as a crew-day. Choose the crew that they worked with.',
        ],
  sums: (values) => {
    const hours = (values.lists.people ?? []).map((line) => line.hours).filter(Boolean);
    return [
      {
        name: `hours of ${hours.length} ${hours.length === 1 ? 'person' : 'people'}`,
        value: sumQty(hours),
        unit: 'h',
      },
    ];
  },
  problems: (values): Record<string, string> => {
    const nobody = (values.lists.people ?? []).every((line) => !line.hours);
    return nobody ? { hours: 'Type the hours for all, or for each person who worked.' } : {};
  },
  facts: (values, context, id) =>
    (values.lists.people ?? [])
      .filter((line) => line.hours)
      .map((line, index) =>
        fact('time-entry', id(index), {
          date: values.fields.date,
          person: line.person,
          job: jobNumber(context),
          code: values.fields.code,
          hours: line.hours,
          crew: values.fields.crew,
          condition: values.fields.condition,
          caused_overtime: values.fields.caused_overtime === 'yes' || undefined,
        }),
      ),
  says: (values) => {
    const people = (values.lists.people ?? []).filter((line) => line.hours).length;
    return `Hours of ${people} ${people === 1 ? 'person' : 'people'} recorded.`;
  },
};

function orderLine(): Line {
  return { cost_kind: 'material' };
}

export const ORDER: FormSpec = {
  kind: 'purchase-order',
  title: 'Purchase order',
  record: 'Record the order',
  fields: [
    needed(field.text('number', 'Number')),
    dateField('date', 'Ordered on'),
    vendor,
    field.date('expected_on', 'Wanted on site by'),
  ],
  lists: [
    {
      name: 'lines',
      line: 'Line',
      title: 'What is ordered',
      blank: orderLine,
      least: 1,
      fields: [
        code,
        boughtKind,
        description,
        field.qty('quantity', 'How many', { unit: (line, context) => boughtIn(line, context) || undefined }),
        needed(field.money('amount', 'Amount before tax')),
      ],
    },
  ],
  start: (context) => ({
    fields: { number: context.next?.next.order ?? '', date: context.today },
    lists: { lines: [orderLine()] },
  }),
  changed: (values, path, context) => {
    const at = pathOf(path);
    if (at?.name === 'code' || at?.name === 'cost_kind') unitOfCode(values, at.list, at.index, context);
  },
  sums: (values) => [
    { name: 'ordered', value: total((values.lists.lines ?? []).map((line) => line.amount)) },
  ],
  facts: (values, context, id) => {
    const from = vendorFacts(values.fields.vendor ?? '', context, id(1));
    const lines = (values.lists.lines ?? [])
      .filter((line) => !isBlank(line, orderLine()))
      .map((line) => filled({ ...line, unit: line.quantity ? line.unit : '' }));
    const order = fact('purchase-order', id(0), {
      ...values.fields,
      vendor: from.vendor,
      job: jobNumber(context),
      lines,
    });
    return [...from.facts, order];
  },
  says: (values) => `Order ${values.fields.number ?? ''} recorded.`,
};

export const DIRECT_COST: FormSpec = {
  kind: 'direct-cost',
  title: 'Direct cost without a bill',
  record: 'Record the direct cost',
  fields: [
    dateField(),
    code,
    boughtKind,
    { ...description, label: 'What for', required: true },
    needed(field.money('amount', 'Amount')),
    { ...condition, choices: (context) => conditionChoices(context) },
  ],
  lists: [],
  start: (context) => ({
    fields: { date: context.today, cost_kind: 'equipment' },
    lists: {},
  }),
  facts: (values, context, id) => [fact('direct-cost', id(0), { ...values.fields, job: jobNumber(context) })],
  says: (values) => `Direct cost for ${values.fields.description ?? ''} recorded.`,
};
