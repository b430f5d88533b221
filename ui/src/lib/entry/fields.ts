/** Fields that many forms share. */

import type { ConditionView } from '../bindings/ConditionView';
import { COST_KINDS, DAMAGED, PLACES } from '../bindings/Labels';
import { addDays, isDate, showDate } from '../kit/dates';
import { systemLocale } from '../kit/locale';
import { showMoney } from '../kit/money';
import { monthOf } from '../explain/shown';
import type { FactForm } from '../facts';
import type { AnyField, BillingContext, Context, FieldSpec } from './context';
import { field, needed } from '../forms/fields';
import { choices } from '../forms/choices';
import type { Choice, Line, Values } from '../forms/spec';

/** An amount as the system writes it, for words in a form. */
export function money(amount: string): string {
  return showMoney(amount, { locale: systemLocale() });
}

/** A day as the system writes it. */
export function day(date: string): string {
  return isDate(date) ? showDate(date, systemLocale()) : date;
}

/** The day of a fact; where its month is closed, where it will be booked instead. */
export function dateField(name = 'date', label = 'Day'): AnyField {
  return {
    name,
    label,
    kind: 'date',
    required: true,
    hint: (values, context) => bookedLater(values.fields[name] ?? '', context),
  };
}

export function bookedLater(date: string, { lists }: BillingContext): string | undefined {
  const closed = lists.closed.reduce((last, month) => (month > last ? month : last), '');
  const month = date.slice(0, 7);
  if (!month || !closed || month > closed) return undefined;
  return `${monthOf(month)} is closed: this will be booked in the month after ${monthOf(closed)}.`;
}

export function codeChoices({ lists }: Context): Choice[] {
  return lists.codes.map((code) => ({ value: code.code, label: `${code.code} · ${code.title}` }));
}

export const code: FieldSpec = needed(
  field.choice('code', 'Code', codeChoices, { none: 'Choose', wide: true }),
);

/** Labor cost comes from hours and pay, never from a bill. */
export const BOUGHT_KINDS = choices(COST_KINDS).filter((kind) => kind.value !== 'labor');

export const boughtKind: FieldSpec = needed(field.choice('cost_kind', 'Kind', BOUGHT_KINDS));

export const anyKind: FieldSpec = { ...boughtKind, choices: () => choices(COST_KINDS) };

export const description: AnyField = field.text('description', 'What', { wide: true });

export const note: AnyField = field.note('note', 'Note', { wide: true });

/** The hidden condition that something was for: only this job's. */
export const condition: FieldSpec = field.choice(
  'condition',
  'For a condition',
  (context) => conditionChoices(context),
  {
    none: 'None',
    when: (_values, context, line) =>
      (context.job?.conditions.length ?? 0) > 0 &&
      (line.job === undefined || line.job === context.job?.figures.number),
  },
);

/** The job's conditions, or those of them that may be meant: by number, what is damaged, and where. */
export function conditionChoices(
  { job }: Context,
  fits: (condition: ConditionView) => boolean = () => true,
): Choice[] {
  return (job?.conditions ?? []).filter(fits).map((found) => ({
    value: found.source.id,
    label: [found.number, DAMAGED[found.damaged].label, PLACES[found.place], found.side]
      .filter(Boolean)
      .join(' · '),
  }));
}

/** The unit in which a code's material is bought. */
export function boughtIn(line: Line, { lists }: Context): string {
  return lists.codes.find((row) => row.code === line.code)?.bought_in ?? '';
}

/** The unit in which work on a code is measured. */
export function measuredIn(line: Line, { lists }: Context): string | undefined {
  return lists.codes.find((row) => row.code === line.code)?.unit ?? undefined;
}

/** A code was chosen for a line: its material comes in the code's own unit. */
export function unitOfCode(values: Values, list: string, index: number, context: Context) {
  const line = values.lists[list]?.[index];
  if (line) line.unit = line.cost_kind === 'material' ? boughtIn(line, context) : '';
}

export const vendor: FieldSpec = needed(
  field.text('vendor', 'From whom', {
    wide: true,
    known: ({ lists }) => lists.vendors.map((row) => row.name),
    hint: (values, { lists }) => {
      const name = values.fields.vendor?.trim();
      if (!name || lists.vendors.some((row) => row.name === name)) return undefined;
      return 'A new vendor: added to the list with this.';
    },
  }),
);

/** The vendor by id, and the fact that adds it where it is new. `id` is the new one's. */
export function vendorFacts(
  name: string,
  { lists }: Pick<Context, 'lists'>,
  id: string,
): { vendor: string; facts: FactForm[] } {
  const known = lists.vendors.filter((row) => row.name === name.trim());
  if (known.length > 0) return { vendor: known[0]?.id ?? '', facts: [] };
  return { vendor: id, facts: [{ kind: 'vendor', id, name: name.trim() }] };
}

/** When an invoice is due, where nobody says otherwise. */
export function dueAfter(date: string, days = 30): string {
  return date === '' ? '' : addDays(date, days);
}
