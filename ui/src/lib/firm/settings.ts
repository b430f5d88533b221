/** The firm's settings as a form holds them: text, in the words and percentages that a person types. */

import type { Firm } from '../bindings/Firm';
import type { FirmForm } from '../bindings/FirmForm';
import type { OverheadBy } from '../bindings/OverheadBy';
import { OVERHEAD_BY, PREMIUM_TO, TAX_ROUNDINGS, WEEK_DAYS } from '../bindings/Labels';
import { fact, filled } from '../facts';
import { choices } from '../forms/choices';
import { field, needed } from '../forms/fields';
import { showDate } from '../kit/dates';
import { percentOf, shareOf } from '../kit/decimal';
import { type Choice, type FieldSpec, type FormSpec, type Line } from '../forms/spec';

/** A new firm as most are: books in dollars, a week from Monday, overtime over 40 hours. */
export function emptyFirm(date = `${new Date().getFullYear()}-01-01`): Line {
  return {
    date,
    currency: 'USD',
    week_begins: 'monday',
    overtime_over_week: '40',
    premium_to: 'hours',
    sales_tax: '0',
    sales_tax_rounding: 'invoice',
    material_tax: 'cost',
    overhead_by: 'labor-hours',
    overhead_rate: '0',
  };
}

function choice(name: string, label: string, among: readonly Choice[], hint?: string): FieldSpec {
  return { name, label, kind: 'choice', required: true, choices: () => among, hint: () => hint };
}

export const FIRM_FIELDS: readonly FieldSpec[] = [
  needed(field.text('name', 'Name'), 'Type the firm’s name, as it stands on its paper.'),
  needed(field.text('town', 'Town'), 'Type the town.'),
  needed(field.text('state', 'State', { hint: () => 'Two letters, as in WI' })),
  field.text('street', 'Street address', {
    hint: () => 'Of the place of business: the notice of cancellation names it (16 CFR 429.1)',
  }),
  field.text('zip', 'ZIP code'),
  field.text('phone', 'Telephone'),
  field.text('license', 'License', { hint: () => 'In the words that your state asks for' }),
  field.photo('logo', 'Mark for the head of papers', { of: () => 'of the firm’s mark' }),
  field.text('lead_certificate', 'Lead-safe certificate', {
    hint: () => 'The firm’s number for renovation where there is lead-based paint (40 CFR 745.89)',
  }),
  needed(
    field.date('date', 'From this day on', {
      hint: () => 'Days before it, and months that are closed, keep what held then',
    }),
    'Type the day from which this counts.',
  ),
  {
    ...choice(
      'week_begins',
      'The week begins on',
      choices(WEEK_DAYS),
      'A change begins with the first such day',
    ),
    heading: 'Work week and overtime',
  },
  needed(
    field.qty('overtime_over_week', 'Overtime beyond, a week', {
      places: 2,
      unit: () => 'h',
      hint: () => '40 h by federal law (29 CFR 778)',
    }),
    'Type the hours; 40 by federal law.',
  ),
  field.qty('overtime_over_day', 'Overtime beyond, a day', {
    places: 2,
    unit: () => 'h',
    hint: () => 'Where your state asks for it',
  }),
  choice('premium_to', 'The overtime premium goes', choices(PREMIUM_TO)),
  needed(
    field.percent('sales_tax', 'On what is billed', {
      hint: () => '0 where the firm is the consumer of its materials',
      heading: 'Sales tax',
    }),
    'Type the percentage, or 0.',
  ),
  choice('sales_tax_rounding', 'Rounded', choices(TAX_ROUNDINGS)),
  choice(
    'material_tax',
    'Tax paid on materials',
    [
      { value: 'cost', label: 'Is part of the job’s cost' },
      { value: 'apart', label: 'Is kept apart' },
    ],
    'Ask your accountant; it differs by state',
  ),
  {
    ...choice('overhead_by', 'Spread by', choices(OVERHEAD_BY)),
    heading: 'Overhead',
  },
  needed(
    field.qty('overhead_rate', (firm) => `Rate, ${OVERHEAD_BY[firm.overhead_by as OverheadBy].rate_of}`, {
      unit: (firm) => (firm.overhead_by === 'labor-cost' ? '%' : '$'),
    }),
    'Type the rate, or 0.',
  ),
  {
    ...field.check('books_see_margin', 'Whoever keeps the books sees margin', {
      hint: () => 'What the jobs and the firm make, on the month end; never what anybody earns',
    }),
    heading: 'The bookkeeper',
  },
];

/** What every form of the firm's settings has in common. */
export const FIRM: Pick<FormSpec, 'kind' | 'changed' | 'problems'> = {
  kind: 'firm',
  changed: ({ fields }, path) => {
    if (path === 'state') fields.state = (fields.state ?? '').trim().toUpperCase();
  },
  problems: ({ fields }): Record<string, string> =>
    /^[A-Z]{2}$/.test(fields.state ?? '') ? {} : { state: 'Type the two capital letters, as in WI.' },
};

/** The settings as they stand, to be changed from a day on. */
export function draftOf(firm: Firm, from: string): Line {
  const {
    material_tax_is_cost,
    books_see_margin,
    overtime_over_day,
    street,
    zip,
    phone,
    license,
    logo,
    lead_certificate,
    ...others
  } = firm;
  return {
    ...others,
    street: street ?? '',
    zip: zip ?? '',
    phone: phone ?? '',
    license: license ?? '',
    logo: logo ?? '',
    lead_certificate: lead_certificate ?? '',
    date: from,
    overtime_over_day: overtime_over_day ?? '',
    sales_tax: percentOf(firm.sales_tax),
    material_tax: material_tax_is_cost ? 'cost' : 'apart',
    books_see_margin: books_see_margin ? 'yes' : '',
    overhead_rate: rateTyped(firm.overhead_by, firm.overhead_rate),
  };
}

/** The fields of the fact: what is left open is left out. */
export function factOf({
  material_tax,
  books_see_margin,
  sales_tax = '',
  overhead_rate = '',
  ...firm
}: Line) {
  return filled<Record<string, string | boolean>>({
    ...firm,
    sales_tax: shareOf(sales_tax),
    material_tax_is_cost: material_tax === 'cost',
    books_see_margin: books_see_margin === 'yes',
    overhead_rate: firm.overhead_by === 'labor-cost' ? shareOf(overhead_rate) : overhead_rate,
  });
}

/** The settings as they are, to be changed from a day on; with what is offered to be changed already in the fields. */
export function settingsForm(firm: Firm | undefined, locale: string, offered: Line = {}): FormSpec {
  return {
    ...FIRM,
    title: 'Change the settings',
    record: 'Keep the settings',
    fields: FIRM_FIELDS,
    start: ({ today }) => ({ fields: firm ? { ...draftOf(firm, today), ...offered } : {}, lists: {} }),
    facts: ({ fields }, _around, id) => [fact('firm', id(0), factOf(fields))],
    says: ({ fields }) => `The settings count from ${showDate(fields.date ?? '', locale)} on.`,
    undo: false,
  };
}

/** An overhead rate as the settings' form holds it. */
export const rateTyped = (by: OverheadBy, rate: string) => (by === 'labor-cost' ? percentOf(rate) : rate);

/** What a new firm is made of. */
export function formOf({ owner = '', ...firm }: Line): FirmForm {
  const { name, town, state, ...settings } = factOf(firm);
  return {
    name: String(name ?? '').trim(),
    town: String(town ?? '').trim(),
    state: String(state ?? ''),
    owner: owner.trim(),
    settings,
  };
}
