/** Hidden conditions, change orders and their decisions. */

import { fact, filled } from '../../facts';
import {
  anyKind,
  boughtIn,
  code,
  dateField,
  description,
  condition,
  money,
  note,
  unitOfCode,
} from '../fields';
import { jobNumber, type FormSpec } from '../context';
import { isBlank, pathOf, type Line } from '../../forms/spec';
import { fractionOf, total } from '../calculate';
import { DECIDED_BY, CAUSES, COUNTED_IN, DAMAGED, PLACES, PRICINGS, saying, VERDICTS } from '../words';

export const CONDITION: FormSpec = {
  kind: 'condition',
  title: 'Hidden condition',
  record: 'Record the condition',
  fields: [
    { name: 'number', label: 'Number', kind: 'text', required: true },
    dateField('date', 'Found on'),
    { name: 'place', label: 'Where', kind: 'choice', required: true, choices: () => PLACES },
    { name: 'side', label: 'Which side', kind: 'text' },
    { name: 'cause', label: 'Why', kind: 'choice', none: 'Choose', required: true, choices: () => CAUSES },
    { name: 'damaged', label: 'What', kind: 'choice', required: true, choices: () => DAMAGED },
    {
      name: 'counted_in',
      label: 'Counted in',
      kind: 'choice',
      required: true,
      choices: (_context, values) =>
        COUNTED_IN.filter((unit) => unit.value !== 'sheet' || values.fields.damaged === 'deck-sheet'),
    },
    { name: 'count', label: 'How many', kind: 'qty', required: true },
    note,
  ],
  lists: [],
  start: ({ next, today }) => ({
    fields: {
      number: next?.next.condition ?? '',
      date: today,
      place: 'field',
      side: '',
      cause: '',
      damaged: 'deck-sheet',
      counted_in: 'sheet',
      count: '',
      note: '',
    },
    lists: {},
  }),
  changed: (values, path) => {
    if (path !== 'damaged') return;
    const usual: Line = { 'deck-sheet': 'sheet', insulation: 'square-foot', 'wall-sheathing': 'square-foot' };
    values.fields.counted_in = usual[values.fields.damaged ?? ''] ?? 'foot';
  },
  cautions: (values, { job }) => {
    if (values.fields.damaged !== 'deck-sheet' || !job?.contract) return [];
    const { included_sheets: included, sheets_used: used } = job.contract;
    return [`${used} of the ${included} included sheets are used.`];
  },
  facts: (values, context, id) => [fact('condition', id(0), { ...values.fields, job: jobNumber(context) })],
  says: (values) => `Condition ${values.fields.number ?? ''} recorded.`,
};

function changeLine(): Line {
  return {
    code: '',
    cost_kind: 'material',
    condition: '',
    description: '',
    quantity: '',
    unit: '',
    price: '',
    cost: '',
    hours: '',
  };
}

function isTimeAndMaterial(pricing: string | undefined): boolean {
  return pricing === 'time-and-material';
}

export const CHANGE: FormSpec = {
  kind: 'change-order',
  title: 'Change order',
  record: 'Record the change order',
  fields: [
    { name: 'number', label: 'Number', kind: 'text', required: true },
    dateField(),
    { name: 'title', label: 'What it is about', kind: 'text', required: true, wide: true },
    { name: 'pricing', label: 'How it is priced', kind: 'choice', required: true, choices: () => PRICINGS },
    {
      name: 'markup',
      label: 'Markup',
      kind: 'percent',
      when: (values) => isTimeAndMaterial(values.fields.pricing),
    },
    {
      name: 'not_to_exceed',
      label: 'Not to exceed',
      kind: 'money',
      when: (values) => isTimeAndMaterial(values.fields.pricing),
    },
    { name: 'days', label: 'Days the end moves', kind: 'qty' },
  ],
  lists: [
    {
      name: 'lines',
      line: 'Line',
      title: 'What changes',
      blank: changeLine,
      least: 1,
      fields: [
        { ...description, required: true },
        code,
        anyKind,
        condition,
        {
          name: 'quantity',
          label: 'How many',
          kind: 'qty',
          unit: (line, context) => boughtIn(line, context) || undefined,
        },
        { name: 'price', label: 'Price to the customer', kind: 'money', required: true, negative: true },
        { name: 'cost', label: 'Cost to us', kind: 'money', required: true, negative: true },
        {
          name: 'hours',
          label: 'Hours in it',
          kind: 'qty',
          unit: () => 'h',
          when: (_values, _context, line) => line.cost_kind === 'labor',
        },
      ],
    },
  ],
  start: ({ next, today }, about) => ({
    fields: {
      number: next?.next.change ?? '',
      date: today,
      title: '',
      pricing: about.condition ? 'lump-sum' : 'unit-price',
      markup: '',
      not_to_exceed: '',
      days: '',
    },
    lists: { lines: [{ ...changeLine(), condition: about.condition ?? '' }] },
  }),
  changed: (values, path, context) => {
    const at = pathOf(path);
    if (at?.name === 'code' || at?.name === 'cost_kind') unitOfCode(values, at.list, at.index, context);
    const line = at && values.lists[at.list]?.[at.index];
    if (line && at.name === 'cost_kind' && line.cost_kind !== 'labor') line.hours = '';
  },
  sums: (values) => {
    const lines = values.lists.lines ?? [];
    return [
      { name: 'price', value: total(lines.map((line) => line.price)) },
      { name: 'cost', value: total(lines.map((line) => line.cost)) },
    ];
  },
  facts: (values, context, id) => {
    const { markup, not_to_exceed, days, ...fields } = values.fields;
    const priced = isTimeAndMaterial(fields.pricing);
    const lines = (values.lists.lines ?? [])
      .filter((line) => !isBlank(line, changeLine()))
      .map((line) => filled({ ...line, unit: line.quantity ? line.unit : '' }));
    const order = fact('change-order', id(0), {
      ...fields,
      job: jobNumber(context),
      markup: priced && markup ? fractionOf(markup) : undefined,
      not_to_exceed: priced ? not_to_exceed : undefined,
      days: days ? Number(days) : undefined,
      lines,
    });
    return [order];
  },
  problems: (values): Record<string, string> =>
    values.fields.days && !/^-?\d+$/.test(values.fields.days) ? { days: 'Write whole days.' } : {},
  says: (values) => `Change order ${values.fields.number ?? ''} recorded.`,
};

export const DECISION: FormSpec = {
  kind: 'decision',
  title: 'Decision on a change order',
  record: 'Record the decision',
  fields: [
    {
      name: 'change_order',
      label: 'Change order',
      kind: 'choice',
      none: 'Choose',
      required: true,
      wide: true,
      choices: ({ job }) =>
        (job?.changes ?? []).map((change) => ({
          value: change.id,
          label: `${change.number} · ${change.title} · ${money(change.price)}`,
        })),
    },
    dateField('date', 'Decided on'),
    { name: 'verdict', label: 'Decision', kind: 'choice', required: true, choices: () => VERDICTS },
    { name: 'decided_by', label: 'Who decided', kind: 'text', required: true },
    { name: 'method', label: 'How it came', kind: 'choice', required: true, choices: () => DECIDED_BY },
    {
      name: 'caution_given',
      label: 'Told what happens if it is left as it is',
      kind: 'check',
      when: (values) => values.fields.verdict === 'declined',
    },
    note,
  ],
  lists: [],
  start: ({ job, today }, about) => {
    const waiting = (job?.changes ?? []).filter((change) => change.state === 'waiting');
    return {
      fields: {
        change_order: about.change ?? (waiting.length === 1 ? (waiting[0]?.id ?? '') : ''),
        date: today,
        verdict: 'approved',
        decided_by: job?.figures.customer ?? '',
        method: 'phone',
        caution_given: '',
        note: '',
      },
      lists: {},
    };
  },
  cautions: (values) =>
    values.fields.verdict === 'declined' && values.fields.caution_given !== 'yes'
      ? ['Say what happens if the damage is left, and note that it was said.']
      : [],
  facts: (values, _context, id) => [
    fact('decision', id(0), {
      ...values.fields,
      caution_given:
        (values.fields.verdict === 'declined' && values.fields.caution_given === 'yes') || undefined,
    }),
  ],
  says: (values) => `${saying(VERDICTS, values.fields.verdict ?? '')}: the decision is recorded.`,
};
