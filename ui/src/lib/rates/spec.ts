/** The firm's lists: what each shows, what its form asks, and which facts come of it. */

import type { Lists } from '../bindings/Lists';
import { fact, type FactForm } from '../facts';
import type { Around, FieldSpec, FormSpec, Line } from '../forms/spec';
import { percentOf, shareOf } from '../firm/settings';
import { showDate } from '../kit/dates';
import { showDecimal } from '../kit/decimal';
import { showMoney } from '../kit/money';

type Facts = FactForm[];

export interface Column {
  label: string;
  figure?: boolean;
}

export interface Row {
  id: string;
  cells: readonly string[];
  /** What its form begins with. */
  values: Line;
  /** Said to those who hear it, and shown in the form's title. */
  name: string;
}

/** What the form of a list may look at. */
export interface Listed extends Around {
  lists: Lists;
  /** The one that is changed; undefined for a new one. */
  row?: Row;
}

export interface FirmList {
  id: string;
  title: string;
  /** What one of them is called: "person". */
  one: string;
  purpose: string;
  empty: string;
  columns: readonly Column[];
  rows: (lists: Lists, locale: string) => Row[];
  blank: (lists: Lists, today: string) => Line;
  fields: readonly FieldSpec<Listed>[];
  /** The facts of a new one, or of a change of `row`. Empty when nothing was changed. */
  facts: (values: Line, row: Row | undefined, id: () => string) => Facts;
}

const ROLES = [
  { value: 'crew', label: 'Crew' },
  { value: 'books', label: 'Books' },
  { value: 'owner', label: 'Owner' },
];

function rate(value: string | null, locale: string): string {
  return value === null ? '' : showDecimal(value, { locale, least: 2 });
}

function differs(values: Line, row: Row | undefined, names: readonly string[]): boolean {
  return row === undefined || names.some((name) => (values[name] ?? '') !== (row.values[name] ?? ''));
}

const people: FirmList = {
  id: 'people',
  title: 'People and pay',
  one: 'person',
  purpose:
    'Who works here, what they do, and what an hour of theirs is paid. A change of pay counts from its day on.',
  empty: 'Begin with the people on the crew and what they are paid an hour.',
  columns: [
    { label: 'Name' },
    { label: 'Role' },
    { label: 'Crew' },
    { label: 'Class' },
    { label: 'An hour', figure: true },
    { label: 'Left on' },
  ],
  rows: (lists, locale) =>
    lists.people.map((person) => ({
      id: person.id,
      name: person.name,
      cells: [
        person.name,
        ROLES.find((role) => role.value === person.role)?.label ?? person.role,
        person.crew ?? '',
        person.class ?? '',
        rate(person.hourly, locale),
        person.left_on ? showDate(person.left_on, locale) : '',
      ],
      values: {
        name: person.name,
        role: person.role,
        crew: person.crew ?? '',
        class: person.class ?? '',
        hourly: person.hourly ?? '',
        left_on: person.left_on ?? '',
      },
    })),
  blank: (_, today) => ({
    name: '',
    role: 'crew',
    crew: '',
    class: '',
    hourly: '',
    from: today,
    left_on: '',
  }),
  fields: [
    { name: 'name', label: 'Name', kind: 'text', required: true },
    { name: 'role', label: 'Role', kind: 'choice', required: true, choices: () => ROLES },
    {
      name: 'crew',
      label: 'Crew',
      kind: 'choice',
      none: 'None',
      choices: ({ lists }) => lists.crews.map(({ name }) => ({ value: name, label: name })),
    },
    {
      name: 'class',
      label: 'Workers’ compensation class',
      kind: 'text',
      hint: () => 'As in the burden that is by class',
    },
    { name: 'hourly', label: 'Pay an hour', kind: 'qty', unit: () => '$', places: 4 },
    {
      name: 'from',
      label: 'Pay from this day on',
      kind: 'date',
      required: true,
      when: ({ fields }) => fields.hourly !== '',
    },
    { name: 'left_on', label: 'Left on', kind: 'date', when: (_values, { row }) => row !== undefined },
  ],
  facts: (values, row, id) => {
    const facts: Facts = [];
    const person = row?.id ?? id();
    if (differs(values, row, ['name', 'role', 'crew', 'class', 'left_on'])) {
      facts.push(
        fact('person', row ? id() : person, {
          revises: row?.id,
          name: values.name,
          role: values.role,
          crew: values.crew,
          class: values.class,
          left_on: values.left_on,
        }),
      );
    }
    if (values.hourly && differs(values, row, ['hourly'])) {
      facts.push(fact('pay-rate', id(), { date: values.from, person, hourly: values.hourly }));
    }
    return facts;
  },
};

const crews: FirmList = {
  id: 'crews',
  title: 'Crews',
  one: 'crew',
  purpose: 'A crew’s size and day are what a crew-day is.',
  empty: 'A firm with one crew has one, too: it is what margin per crew-day is calculated by.',
  columns: [{ label: 'Name' }, { label: 'People', figure: true }, { label: 'Hours a day', figure: true }],
  rows: (lists, locale) =>
    lists.crews.map((crew) => ({
      id: crew.id,
      name: crew.name,
      cells: [crew.name, String(crew.size), showDecimal(crew.hours_a_day, { locale })],
      values: { name: crew.name, size: String(crew.size), hours_a_day: crew.hours_a_day },
    })),
  blank: () => ({ name: '', size: '4', hours_a_day: '8' }),
  fields: [
    { name: 'name', label: 'Name', kind: 'text', required: true },
    { name: 'size', label: 'People', kind: 'qty', places: 0, required: true },
    { name: 'hours_a_day', label: 'Hours in its usual day', kind: 'qty', unit: () => 'h', required: true },
  ],
  facts: (values, row, id) =>
    differs(values, row, ['name', 'size', 'hours_a_day'])
      ? [
          fact('crew', id(), {
            revises: row?.id,
            name: values.name,
            size: wholeNumber(values.size),
            hours_a_day: values.hours_a_day,
          }),
        ]
      : [],
};

const burden: FirmList = {
  id: 'burden',
  title: 'Labor burden',
  one: 'rate',
  purpose:
    'Employer’s taxes, insurance and benefits. A later rate of the same name and class takes over from its day.',
  empty:
    'Begin with the employer’s share of Social Security and Medicare, then workers’ compensation by class.',
  columns: [
    { label: 'Name' },
    { label: 'Class' },
    { label: 'From' },
    { label: 'Calculated on' },
    { label: 'Rate', figure: true },
    { label: 'Up to pay of', figure: true },
  ],
  rows: (lists, locale) =>
    lists.burden.map((line) => ({
      id: line.id,
      name: line.name,
      cells: [
        line.name,
        line.class ?? 'all',
        showDate(line.date, locale),
        BASES.find((base) => base.value === line.calculated_on)?.label ?? line.calculated_on,
        line.calculated_on === 'pay'
          ? `${showDecimal(percentOf(line.rate), { locale, least: 2 })} %`
          : rate(line.rate, locale),
        line.wage_base === null ? '' : showMoney(line.wage_base, { locale }),
      ],
      values: {
        name: line.name,
        class: line.class ?? '',
        calculated_on: line.calculated_on,
        percent: line.calculated_on === 'pay' ? percentOf(line.rate) : '',
        rate: line.calculated_on === 'pay' ? '' : line.rate,
        wage_base: line.wage_base ?? '',
      },
    })),
  blank: (_, today) => ({
    name: '',
    class: '',
    date: today,
    calculated_on: 'pay',
    percent: '',
    rate: '',
    wage_base: '',
    on_premium: 'yes',
  }),
  fields: [
    { name: 'name', label: 'Name', kind: 'text', required: true },
    { name: 'date', label: 'From this day on', kind: 'date', required: true },
    { name: 'calculated_on', label: 'Calculated on', kind: 'choice', required: true, choices: () => BASES },
    {
      name: 'percent',
      label: 'Percent of pay',
      kind: 'percent',
      required: true,
      when: ({ fields }) => fields.calculated_on === 'pay',
    },
    {
      name: 'rate',
      label: 'Rate',
      kind: 'qty',
      required: true,
      unit: () => '$',
      places: 4,
      when: ({ fields }) => fields.calculated_on !== 'pay',
    },
    {
      name: 'wage_base',
      label: 'Stops at pay of, a person and year',
      kind: 'money',
      when: ({ fields }) => fields.calculated_on === 'pay',
    },
    { name: 'class', label: 'Only for class', kind: 'text', hint: () => 'Empty: for everybody' },
    { name: 'on_premium', label: 'The overtime premium counts too', kind: 'check' },
  ],
  facts: (values, _row, id) => [
    fact('burden-rate', id(), {
      date: values.date,
      name: values.name,
      calculated_on: values.calculated_on,
      rate: values.calculated_on === 'pay' ? shareOf(values.percent ?? '') : values.rate,
      wage_base: values.calculated_on === 'pay' ? values.wage_base : '',
      class: values.class,
      on_premium: values.on_premium === 'yes',
    }),
  ],
};

const BASES = [
  { value: 'pay', label: 'A percent of pay' },
  { value: 'hundred-of-pay', label: 'Each $100 of pay' },
  { value: 'hour', label: 'Each hour' },
];

const codes: FirmList = {
  id: 'codes',
  title: 'Cost codes',
  one: 'cost code',
  purpose:
    'The firm’s own short words for the work. A code’s units stay as they are; another unit is another code.',
  empty: 'Begin with the words you use on the roof: tear, deck, shingle, flash.',
  columns: [
    { label: 'Word' },
    { label: 'Covers' },
    { label: 'Measured in' },
    { label: 'Bought in' },
    { label: 'Place', figure: true },
  ],
  rows: (lists) =>
    lists.codes.map((code) => ({
      id: code.id,
      name: code.code,
      cells: [code.code, code.title, code.unit ?? '', code.bought_in ?? '', String(code.position)],
      values: {
        code: code.code,
        title: code.title,
        unit: code.unit ?? '',
        bought_in: code.bought_in ?? '',
        position: String(code.position),
      },
    })),
  blank: (lists) => ({
    code: '',
    title: '',
    unit: '',
    bought_in: '',
    position: String(Math.max(0, ...lists.codes.map((code) => Number(code.position))) + 10),
  }),
  fields: [
    { name: 'code', label: 'Word', kind: 'text', required: true },
    { name: 'title', label: 'Covers', kind: 'text', required: true },
    {
      name: 'unit',
      label: 'Measured in',
      kind: 'text',
      hint: () => 'square, foot',
      when: (_values, { row }) => row === undefined,
    },
    {
      name: 'bought_in',
      label: 'Bought in',
      kind: 'text',
      hint: () => 'sheet, roll, bundle',
      when: (_values, { row }) => row === undefined,
    },
    { name: 'position', label: 'Place in the list', kind: 'qty', places: 0, required: true },
  ],
  facts: (values, row, id) =>
    differs(values, row, ['code', 'title', 'position', 'unit', 'bought_in'])
      ? [
          fact('cost-code', id(), {
            revises: row?.id,
            code: values.code,
            title: values.title,
            unit: values.unit,
            bought_in: values.bought_in,
            position: wholeNumber(values.position),
          }),
        ]
      : [],
};

const vendors: FirmList = {
  id: 'vendors',
  title: 'Vendors',
  one: 'vendor',
  purpose: 'Suppliers, subcontractors, haulers and offices that send bills.',
  empty: 'The first one comes with the first bill, or here.',
  columns: [{ label: 'Name' }, { label: 'Year’s total for the return' }],
  rows: (lists) =>
    lists.vendors.map((vendor) => ({
      id: vendor.id,
      name: vendor.name,
      cells: [vendor.name, vendor.subcontractor ? 'yes, a subcontractor' : ''],
      values: { name: vendor.name, subcontractor: vendor.subcontractor ? 'yes' : '' },
    })),
  blank: () => ({ name: '', subcontractor: '' }),
  fields: [
    { name: 'name', label: 'Name', kind: 'text', required: true },
    {
      name: 'subcontractor',
      label: 'A subcontractor whose total is wanted for the year’s return',
      kind: 'check',
    },
  ],
  facts: (values, row, id) =>
    differs(values, row, ['name', 'subcontractor'])
      ? [
          fact('vendor', id(), {
            revises: row?.id,
            name: values.name,
            subcontractor: values.subcontractor === 'yes',
          }),
        ]
      : [],
};

const OF_CUSTOMER = ['name', 'address', 'phone', 'email'] as const;

const customers: FirmList = {
  id: 'customers',
  title: 'Customers',
  one: 'customer',
  purpose: 'Homeowners and others the firm works for. A change counts wherever they are named from now on.',
  empty: 'The first one comes with the first job, or here.',
  columns: [{ label: 'Name' }, { label: 'Address for post' }, { label: 'Telephone' }, { label: 'E-mail' }],
  rows: (lists) =>
    lists.customers.map(({ id, name, address, phone, email }) => ({
      id,
      name,
      cells: [name, address ?? '', phone ?? '', email ?? ''],
      values: { name, address: address ?? '', phone: phone ?? '', email: email ?? '' },
    })),
  blank: () => ({ name: '', address: '', phone: '', email: '' }),
  fields: [
    { name: 'name', label: 'Name', kind: 'text', required: true },
    { name: 'address', label: 'Address for post', kind: 'text' },
    { name: 'phone', label: 'Telephone', kind: 'text' },
    { name: 'email', label: 'E-mail', kind: 'text' },
  ],
  facts: (values, row, id) =>
    differs(values, row, OF_CUSTOMER)
      ? [
          fact('customer', id(), {
            revises: row?.id,
            ...Object.fromEntries(OF_CUSTOMER.map((name) => [name, values[name]?.trim()])),
          }),
        ]
      : [],
};

/** A count, which is no amount: it crosses as a number. Empty stays empty, for the program to refuse. */
function wholeNumber(text: string | undefined): number | undefined {
  return text ? Number.parseInt(text, 10) : undefined;
}

export const LISTS: readonly FirmList[] = [people, crews, burden, codes, vendors, customers];

/** What to say of a field that is needed and empty. */
export function typeIt(label: string): string {
  return `${label}: type it.`;
}

/** The form of one of a list, new or changed. */
export function formOf(list: FirmList, row: Row | undefined): FormSpec<Listed> {
  return {
    kind: list.id,
    title: row ? `Change ${row.name}` : `A new ${list.one}`,
    record: row ? 'Keep the change' : 'Add',
    fields: list.fields.map((field) => ({ missing: typeIt(String(field.label)), ...field })),
    start: ({ lists, today }) => ({ fields: { ...list.blank(lists, today), ...row?.values }, lists: {} }),
    facts: ({ fields }, _listed, id) => {
      let made = -1;
      return list.facts(fields, row, () => id((made += 1)));
    },
    says: ({ fields }) =>
      row ? `${row.name} is changed.` : `${fields.name ?? fields.code ?? list.one} is on the list.`,
    undo: false,
  };
}
