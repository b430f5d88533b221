/** The firm's lists: what each shows, what its form asks, and which facts come of it. */

import { BURDEN_ON, LANGUAGES, ROLES } from '../bindings/Labels';
import type { Lists } from '../bindings/Lists';
import { fact, type FactForm } from '../facts';
import { choices } from '../forms/choices';
import { field, needed } from '../forms/fields';
import type { Around, FieldSpec, FormSpec, Line } from '../forms/spec';
import { showDate } from '../kit/dates';
import { percentOf, shareOf, showDecimal } from '../kit/decimal';
import { showMoney } from '../kit/money';

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
  blank?: (lists: Lists, today: string) => Line;
  fields: readonly FieldSpec<Listed>[];
  /** The facts of a new one, or of a change of `row`. Empty when nothing was changed. */
  facts: (values: Line, row: Row | undefined, id: () => string, today: string) => FactForm[];
}

function rate(value: string | null, locale: string): string {
  return value === null ? '' : showDecimal(value, { locale, least: 2 });
}

/** What stands in a row, as a form holds it: text. */
function texts<Name extends string>(row: { readonly [N in Name]?: unknown }, names: readonly Name[]): Line {
  return Object.fromEntries(names.map((name) => [name, String(row[name] ?? '')]));
}

/** The fields of these names, for a fact. */
function only<Name extends string>(values: Line, names: readonly Name[]) {
  return Object.fromEntries(names.map((name) => [name, values[name]?.trim()])) as Record<
    Name,
    string | undefined
  >;
}

function differs(values: Line, row: Row | undefined, names: readonly string[]): boolean {
  return row === undefined || names.some((name) => (values[name] ?? '') !== (row.values[name] ?? ''));
}

const isNew = { when: (_values: unknown, { row }: Listed) => row === undefined };
const isOld = { when: (_values: unknown, { row }: Listed) => row !== undefined };

/** Said to whoever chooses it: nobody on a roof has corrected the Spanish yet. */
const UNREAD =
  'The Spanish is the program’s own, and no crew has corrected it yet. Words of the trade and what can hurt stand ' +
  'in both languages: have a crew say what is wrong.';

const OF_PERSON = ['name', 'role', 'crew', 'class', 'left_on', 'language'] as const;

const people: FirmList = {
  id: 'people',
  title: 'People and pay',
  one: 'person',
  purpose:
    'Who works here, what they do, and what an hour of theirs is paid. A change counts from its day on.',
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
        ROLES[person.role].label,
        person.crew ?? '',
        person.class ?? '',
        rate(person.hourly, locale),
        person.left_on ? showDate(person.left_on, locale) : '',
      ],
      values: texts(person, [...OF_PERSON, 'hourly']),
    })),
  blank: (_, today) => ({ role: 'crew', language: 'en', date: today }),
  fields: [
    needed(field.text('name', 'Name')),
    needed(field.choice('role', 'Role', choices(ROLES))),
    field.choice(
      'crew',
      'Crew',
      ({ lists }) => lists.crews.map(({ name }) => ({ value: name, label: name })),
      { none: 'None' },
    ),
    field.choice('language', 'Reads the site view in', choices(LANGUAGES), {
      hint: ({ fields }) => (fields.language === 'es' ? UNREAD : undefined),
    }),
    field.text('class', 'Workers’ compensation class', { hint: () => 'As in the burden that is by class' }),
    field.qty('hourly', 'Pay an hour', { unit: () => '$' }),
    needed(
      field.date('date', 'From this day on', {
        hint: () => 'Days before it keep what held then',
        when: ({ fields }, { row }) => row !== undefined || Boolean(fields.hourly),
      }),
    ),
    field.date('left_on', 'Left on', isOld),
  ],
  facts: (values, row, id, today) => {
    const facts: FactForm[] = [];
    const person = row?.id ?? id();
    // The same pay from another day on is a change, too: it was recorded for too late a day.
    const dayOnly = row !== undefined && !differs(values, row, OF_PERSON) && values.date !== today;
    if (differs(values, row, OF_PERSON)) {
      const since = row && { revises: row.id, date: values.date };
      facts.push(fact('person', row ? id() : person, { ...since, ...only(values, OF_PERSON) }));
    }
    if (values.hourly && (dayOnly || differs(values, row, ['hourly']))) {
      facts.push(fact('pay-rate', id(), { date: values.date, person, hourly: values.hourly }));
    }
    return facts;
  },
};

const OF_CREW = ['name', 'size', 'hours_a_day'] as const;

const crews: FirmList = {
  id: 'crews',
  title: 'Crews',
  one: 'crew',
  purpose: 'A crew’s size and day are what a crew-day is. A change counts from its day on.',
  empty: 'A firm with one crew has one, too: it is what margin per crew-day is calculated by.',
  columns: [
    { label: 'Name' },
    { label: 'People', figure: true },
    { label: 'Hours a day', figure: true },
    { label: 'From' },
  ],
  rows: (lists, locale) =>
    lists.crews.map((crew) => ({
      id: crew.id,
      name: crew.name,
      cells: [
        crew.name,
        String(crew.size),
        showDecimal(crew.hours_a_day, { locale }),
        crew.date ? showDate(crew.date, locale) : '',
      ],
      values: texts(crew, OF_CREW),
    })),
  blank: (_, today) => ({ size: '4', hours_a_day: '8', date: today }),
  fields: [
    needed(field.text('name', 'Name')),
    needed(field.qty('size', 'People', { places: 0 })),
    needed(field.qty('hours_a_day', 'Hours in its usual day', { unit: () => 'h', places: 2 })),
    needed(
      field.date('date', 'From this day on', { hint: () => 'Days before it keep what held then', ...isOld }),
    ),
  ],
  facts: (values, row, id) =>
    differs(values, row, OF_CREW)
      ? [
          fact('crew', id(), {
            ...(row && { revises: row.id, date: values.date }),
            ...only(values, OF_CREW),
            size: wholeNumber(values.size),
          }),
        ]
      : [],
};

const ofPay = { when: ({ fields }: { fields: Line }) => fields.calculated_on === 'pay' };
/** So much an hour has no pay that could reach a wage base or hold a premium. */
const byPay = { when: ({ fields }: { fields: Line }) => fields.calculated_on !== 'hour' };

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
    { label: 'Source' },
  ],
  rows: (lists, locale) =>
    lists.burden.map((line) => {
      const isPercent = line.calculated_on === 'pay';
      return {
        id: line.id,
        name: line.name,
        cells: [
          line.name,
          line.class ?? 'all',
          showDate(line.date, locale),
          BURDEN_ON[line.calculated_on],
          isPercent
            ? `${showDecimal(percentOf(line.rate), { locale, least: 2 })} %`
            : rate(line.rate, locale),
          line.wage_base === null ? '' : showMoney(line.wage_base, { locale }),
          line.source ?? '',
        ],
        values: {
          ...texts(line, ['name', 'class', 'calculated_on', 'wage_base', 'source']),
          on_premium: line.on_premium ? 'yes' : '',
          ...(isPercent ? { percent: percentOf(line.rate) } : { rate: line.rate }),
        },
      };
    }),
  blank: (_, today) => ({ date: today, calculated_on: 'pay', on_premium: 'yes' }),
  fields: [
    needed(field.text('name', 'Name')),
    needed(field.date('date', 'From this day on')),
    needed(field.choice('calculated_on', 'Calculated on', choices(BURDEN_ON))),
    needed(field.percent('percent', 'Percent of pay', ofPay)),
    needed(
      field.qty('rate', 'Rate', { unit: () => '$', when: ({ fields }) => fields.calculated_on !== 'pay' }),
    ),
    field.money('wage_base', 'Stops at pay of, a person and year', byPay),
    field.text('class', 'Only for class', { hint: () => 'Empty: for everybody' }),
    field.check('on_premium', 'The overtime premium counts too', byPay),
    field.text('source', 'Where it is written', {
      wide: true,
      hint: () => 'The law, the state’s notice for the year, or the policy',
    }),
  ],
  facts: (values, _row, id) => [
    fact('burden-rate', id(), {
      ...only(values, ['date', 'name', 'calculated_on', 'class', 'source']),
      rate: values.calculated_on === 'pay' ? shareOf(values.percent ?? '') : values.rate,
      wage_base: values.calculated_on === 'hour' ? '' : values.wage_base,
      on_premium: values.calculated_on !== 'hour' && values.on_premium === 'yes',
    }),
  ],
};

const OF_CODE = ['code', 'title', 'unit', 'bought_in', 'position'] as const;

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
    lists.codes.map((code) => {
      const values = texts(code, OF_CODE);
      return { id: code.id, name: code.code, cells: Object.values(values), values };
    }),
  blank: (lists) => ({
    position: String(Math.max(0, ...lists.codes.map((code) => Number(code.position))) + 10),
  }),
  fields: [
    needed(field.text('code', 'Word')),
    needed(field.text('title', 'Covers')),
    field.text('unit', 'Measured in', { hint: () => 'square, foot', ...isNew }),
    field.text('bought_in', 'Bought in', { hint: () => 'sheet, roll, bundle', ...isNew }),
    needed(field.qty('position', 'Place in the list', { places: 0 })),
  ],
  facts: (values, row, id) =>
    differs(values, row, OF_CODE)
      ? [
          fact('cost-code', id(), {
            revises: row?.id,
            ...only(values, OF_CODE),
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
  columns: [
    { label: 'Name' },
    { label: 'Year’s total for the return' },
    { label: 'Bills due in days', figure: true },
  ],
  rows: (lists) =>
    lists.vendors.map(({ id, name, subcontractor, due_days }) => ({
      id,
      name,
      cells: [name, subcontractor ? 'yes, a subcontractor' : '', String(due_days ?? '')],
      values: { name, subcontractor: subcontractor ? 'yes' : '', due_days: String(due_days ?? '') },
    })),
  fields: [
    needed(field.text('name', 'Name')),
    field.qty('due_days', 'In how many days its bills are due', { places: 0 }),
    field.check('subcontractor', 'A subcontractor whose total is wanted for the year’s return'),
  ],
  facts: (values, row, id) =>
    differs(values, row, ['name', 'subcontractor', 'due_days'])
      ? [
          fact('vendor', id(), {
            revises: row?.id,
            name: values.name,
            subcontractor: values.subcontractor === 'yes',
            due_days: wholeNumber(values.due_days),
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
    lists.customers.map((customer) => {
      const values = texts(customer, OF_CUSTOMER);
      return { id: customer.id, name: customer.name, cells: Object.values(values), values };
    }),
  fields: [
    needed(field.text('name', 'Name')),
    field.text('address', 'Address for post'),
    field.text('phone', 'Telephone'),
    field.text('email', 'E-mail'),
  ],
  facts: (values, row, id) =>
    differs(values, row, OF_CUSTOMER)
      ? [fact('customer', id(), { revises: row?.id, ...only(values, OF_CUSTOMER) })]
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
    fields: list.fields.map((each) => ({ missing: typeIt(String(each.label)), ...each })),
    start: ({ lists, today }) => ({ fields: { ...list.blank?.(lists, today), ...row?.values }, lists: {} }),
    facts: ({ fields }, { today }, id) => {
      let made = -1;
      return list.facts(fields, row, () => id((made += 1)), today);
    },
    says: ({ fields }) =>
      row ? `${row.name} is changed.` : `${fields.name ?? fields.code ?? list.one} is on the list.`,
    undo: false,
  };
}
