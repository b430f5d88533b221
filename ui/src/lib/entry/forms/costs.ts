/** What a job costs: bills, hours, orders, and a direct cost without a bill. */

import { fact, filled } from '../../facts';
import { jobNumber, type Context, type FormSpec } from '../context';
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
import { below, sumQty, total } from '../calculate';
import { call } from '../../ipc';

function billLine(_values: Values, context: Context): Line {
  return {
    job: jobNumber(context),
    code: '',
    cost_kind: 'material',
    description: '',
    quantity: '',
    unit: '',
    unit_price: '',
    amount: '',
    tax: '',
    condition: '',
    priced_as: '',
  };
}

/** What a line's amount was last worked out from: a person may type another over it. */
function pricedAs(line: Line): string {
  return line.quantity && line.unit_price ? `${line.quantity} × ${line.unit_price}` : '';
}

function isCredit(values: Values): boolean {
  return values.fields.credit === 'yes';
}

export const BILL: FormSpec = {
  kind: 'bill',
  title: 'Bill',
  record: 'Record the bill',
  fields: [
    dateField('date', 'Date on it'),
    vendor,
    { name: 'reference', label: 'Number on it', kind: 'text', required: true },
    {
      name: 'purchase_order',
      label: 'Fills the order',
      kind: 'choice',
      none: 'None',
      choices: ({ job }) =>
        (job?.orders ?? []).map((order) => ({
          value: order.source.id,
          label: `${order.number} · ${order.vendor}`,
        })),
      when: (_values, { job }) => (job?.orders.length ?? 0) > 0,
    },
    {
      name: 'completes_order',
      label: 'Nothing more comes on that order',
      kind: 'check',
      when: (values) => Boolean(values.fields.purchase_order),
    },
    {
      name: 'credit',
      label: 'It is a vendor credit',
      kind: 'check',
      hint: (values) => (isCredit(values) ? 'Its lines are recorded below zero.' : undefined),
    },
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
        { name: 'job', label: 'Job', kind: 'text', required: true, known: ({ jobs }) => jobs },
        code,
        boughtKind,
        description,
        {
          name: 'quantity',
          label: 'How many',
          kind: 'qty',
          negative: true,
          unit: (line, context) => boughtIn(line, context) || undefined,
        },
        { name: 'unit_price', label: 'Price of one', kind: 'rate' },
        { name: 'amount', label: 'Amount before tax', kind: 'money', required: true, negative: true },
        { name: 'tax', label: 'Tax', kind: 'money', negative: true },
        condition,
      ],
    },
  ],
  start: (context) => ({
    fields: {
      date: context.today,
      vendor: '',
      reference: '',
      purchase_order: '',
      completes_order: '',
      credit: '',
      note: '',
    },
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
      if (!order) values.fields.completes_order = '';
    }
  },
  asks: ({ lists }) => {
    // A quantity and a printed price give the amount, as long as nobody types another.
    const lines = (lists.lines ?? []).filter((line) => pricedAs(line) !== (line.priced_as ?? ''));
    const asked = lines.filter((line) => pricedAs(line) !== '');
    if (asked.length === 0) return undefined;
    const takes = asked.map((line) => ({ quantity: line.quantity ?? '', unit_price: line.unit_price ?? '' }));
    return {
      key: JSON.stringify(takes),
      ask: async () => {
        const amounts = await call('line_amounts', { lines: takes });
        const amountOf = new Map(asked.map((line, index) => [pricedAs(line), amounts[index]]));
        return (values) => {
          for (const line of values.lists.lines ?? []) {
            const amount = amountOf.get(pricedAs(line));
            if (amount === undefined || line.priced_as === pricedAs(line)) continue;
            line.amount = amount;
            line.priced_as = pricedAs(line);
          }
        };
      },
    };
  },
  sums: (values) => {
    const lines = values.lists.lines ?? [];
    const net = total(lines.map((line) => line.amount));
    const tax = total(lines.map((line) => line.tax));
    return [
      { name: 'before tax', value: net },
      { name: 'tax', value: tax },
      { name: 'in all', value: total([net, tax]) },
    ];
  },
  facts: (values, context, id) => {
    const bought = vendorFacts(values.fields.vendor ?? '', context, id(1));
    const signed = (amount: string | undefined) =>
      amount && isCredit(values) ? below(amount) : (amount ?? '');
    const lines = (values.lists.lines ?? []).map(({ priced_as: _from, ...line }) =>
      filled({
        ...line,
        job: line.job?.trim(),
        unit: line.quantity ? line.unit : '',
        quantity: line.quantity,
        amount: signed(line.amount),
        tax: signed(line.tax),
        condition: line.job === jobNumber(context) ? line.condition : '',
      }),
    );
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
    ...others.map((person) => ({ person: person.id, name: person.name, crew: person.crew ?? '', hours: '' })),
  ];
}

export const HOURS: FormSpec = {
  kind: 'time-entry',
  title: 'Hours of a crew',
  record: 'Record the hours',
  fields: [
    dateField(),
    code,
    {
      name: 'crew',
      label: 'Crew',
      kind: 'choice',
      none: 'No crew',
      choices: ({ lists }) => lists.crews.map((crew) => ({ value: crew.name, label: crew.name })),
    },
    { name: 'hours', label: 'Hours each', kind: 'qty', unit: () => 'h' },
    { ...condition, wide: true },
    {
      name: 'caused_overtime',
      label: 'These hours made the overtime',
      kind: 'check',
      when: (_values, { lists }) => lists.firm.premium_to === 'cause',
    },
  ],
  lists: [
    {
      name: 'people',
      line: (line) => line.name ?? '',
      title: 'Who worked',
      empty: 'There is nobody on the crews yet. Add people under Rates.',
      fields: [
        {
          name: 'hours',
          label: (line) => line.name ?? '',
          kind: 'qty',
          unmarked: true,
          unit: () => 'h',
          hint: (_values, _context, line) => line.crew || 'no crew',
        },
      ],
    },
  ],
  start: (context) => {
    const values: Values = {
      fields: {
        date: context.today,
        code: '',
        crew: context.job?.figures.crew ?? '',
        hours: '',
        condition: '',
        caused_overtime: '',
      },
      lists: {},
    };
    values.lists.people = crewLines(values, context);
    return values;
  },
  changed: (values, path, context) => {
    if (path === 'crew' || path === 'hours') values.lists.people = crewLines(values, context);
  },
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
  return { code: '', cost_kind: 'material', description: '', quantity: '', unit: '', amount: '' };
}

export const ORDER: FormSpec = {
  kind: 'purchase-order',
  title: 'Purchase order',
  record: 'Record the order',
  fields: [
    { name: 'number', label: 'Number', kind: 'text', required: true },
    dateField('date', 'Ordered on'),
    vendor,
    { name: 'expected_on', label: 'Wanted on site by', kind: 'date' },
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
        {
          name: 'quantity',
          label: 'How many',
          kind: 'qty',
          unit: (line, context) => boughtIn(line, context) || undefined,
        },
        { name: 'amount', label: 'Amount before tax', kind: 'money', required: true },
      ],
    },
  ],
  start: (context) => ({
    fields: { number: context.next?.next.order ?? '', date: context.today, vendor: '', expected_on: '' },
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

export const CHARGE: FormSpec = {
  kind: 'direct-cost',
  title: 'Direct cost without a bill',
  record: 'Record the direct cost',
  fields: [
    dateField(),
    code,
    boughtKind,
    { ...description, label: 'What for', required: true },
    { name: 'amount', label: 'Amount', kind: 'money', required: true },
    { ...condition, choices: conditionChoices },
  ],
  lists: [],
  start: (context) => ({
    fields: {
      date: context.today,
      code: '',
      cost_kind: 'equipment',
      description: '',
      amount: '',
      condition: '',
    },
    lists: {},
  }),
  facts: (values, context, id) => [fact('direct-cost', id(0), { ...values.fields, job: jobNumber(context) })],
  says: (values) => `Direct cost for ${values.fields.description ?? ''} recorded.`,
};
