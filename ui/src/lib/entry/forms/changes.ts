/** Hidden conditions, change orders and their decisions. */

import type { ChangeView } from '../../bindings/ChangeView';
import type { ConditionView } from '../../bindings/ConditionView';
import type { Damaged } from '../../bindings/Damaged';
import {
  CAUSES,
  COUNTED_IN,
  COURSES,
  DAMAGED,
  DECIDED_BY,
  PLACES,
  PRICINGS,
  REPAIR_STAGES,
  VERDICTS,
} from '../../bindings/Labels';
import { fact, filled } from '../../facts';
import {
  anyKind,
  boughtIn,
  code,
  dateField,
  description,
  condition,
  conditionChoices,
  money,
  note,
  unitOfCode,
} from '../fields';
import { jobNumber, type Context, type FieldSpec, type FormSpec } from '../context';
import { choices, labelIn } from '../../forms/choices';
import { field, needed } from '../../forms/fields';
import { isBlank, pathOf, type Around, type Line, type Values } from '../../forms/spec';
import { total } from '../calculate';
import { shareOf } from '../../kit/decimal';

export const CONDITION: FormSpec = {
  kind: 'condition',
  title: 'Hidden condition',
  record: 'Record the condition',
  fields: [
    needed(field.text('number', 'Number')),
    dateField('date', 'Found on'),
    needed(field.choice('place', 'Where', choices(PLACES))),
    field.text('side', 'Which side'),
    needed(field.choice('cause', 'Why', choices(CAUSES), { none: 'Choose' })),
    needed(field.choice('damaged', 'What', choices(DAMAGED))),
    needed(
      field.choice('counted_in', 'Counted in', (_context, values) =>
        choices(COUNTED_IN).filter(
          (unit) => unit.value !== 'sheet' || values.fields.damaged === 'deck-sheet',
        ),
      ),
    ),
    needed(field.qty('count', 'How many')),
    note,
  ],
  lists: [],
  start: ({ next, today }) => ({
    fields: {
      number: next?.next.condition ?? '',
      date: today,
      place: 'field',
      damaged: 'deck-sheet',
      counted_in: 'sheet',
    },
    lists: {},
  }),
  changed: (values, path) => {
    if (path !== 'damaged') return;
    values.fields.counted_in = DAMAGED[values.fields.damaged as Damaged].counted_in;
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
  return { cost_kind: 'material' };
}

function isTimeAndMaterial(pricing: string | undefined): boolean {
  return pricing === 'time-and-material';
}

/** Labor is refused without its cost; anything else may wait for it. */
function costHint(_values: Values, _context: Around, line: Line): string | undefined {
  return line.price && !line.cost ? 'Left open, it counts at its price until you fill it in.' : undefined;
}

export const CHANGE: FormSpec = {
  kind: 'change-order',
  title: 'Change order',
  record: 'Record the change order',
  fields: [
    needed(field.text('number', 'Number')),
    dateField(),
    needed(field.text('title', 'What it is about', { wide: true })),
    needed(field.choice('pricing', 'How it is priced', choices(PRICINGS))),
    field.percent('markup', 'Markup', { when: (values) => isTimeAndMaterial(values.fields.pricing) }),
    field.money('not_to_exceed', 'Not to exceed', {
      when: (values) => isTimeAndMaterial(values.fields.pricing),
    }),
    field.qty('days', 'Days the end moves'),
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
        field.qty('quantity', 'How many', { unit: (line, context) => boughtIn(line, context) || undefined }),
        needed(field.money('price', 'Price to the customer', { negative: true })),
        field.money('cost', 'Cost to us', { negative: true, hint: costHint }),
        field.qty('hours', 'Hours in it', {
          unit: () => 'h',
          when: (_values, _context, line) => line.cost_kind === 'labor',
        }),
      ],
    },
  ],
  start: ({ next, today }, about) => ({
    fields: {
      number: next?.next.change ?? '',
      date: today,
      pricing: about.condition ? 'lump-sum' : 'unit-price',
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
      markup: priced && markup ? shareOf(markup) : undefined,
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

/** One of the job's conditions, of those that may be meant. */
function conditionWhere(fits: (condition: ConditionView) => boolean): FieldSpec {
  return needed(
    field.choice('condition', 'Condition', (context) => conditionChoices(context, fits), {
      none: 'Choose',
      wide: true,
    }),
  );
}

/** A condition's repair, begun or done. */
export const REPAIR: FormSpec = {
  kind: 'repair',
  title: 'Repair of a condition',
  record: ({ fields }) => (fields.stage === 'done' ? 'Record it as repaired' : 'Record that it is begun'),
  fields: [
    conditionWhere((each) => each.work !== 'done' && !each.awaits_owner),
    dateField(),
    needed(field.choice('stage', 'How far', choices(REPAIR_STAGES))),
    note,
  ],
  lists: [],
  start: ({ today }, about) => ({
    fields: { condition: about.condition ?? '', date: today, stage: about.stage ?? 'begun' },
    lists: {},
  }),
  cautions: (values, { job }) => {
    const found = job?.conditions.find((each) => each.source.id === values.fields.condition);
    return found?.to_ask
      ? ['Nobody has asked the homeowner yet: until they decide, it is at your own risk.']
      : [];
  },
  facts: (values, _context, id) => [fact('repair', id(0), { ...values.fields })],
  says: (values) => (values.fields.stage === 'done' ? 'The condition is repaired.' : 'The repair is begun.'),
};

/** What becomes of rot whose repair the homeowner declined. */
export const DECLINED: FormSpec = {
  kind: 'declined-repair',
  title: 'A declined repair',
  record: 'Record it',
  fields: [
    conditionWhere((each) => each.awaits_owner),
    dateField(),
    needed(field.choice('course', 'What becomes of it', choices(COURSES))),
    note,
  ],
  lists: [],
  start: ({ today }, about) => ({
    fields: { condition: about.condition ?? '', date: today, course: 'own-cost' },
    lists: {},
  }),
  cautions: () => ['Shingles go on a solid, sound deck alone: nothing is laid over it until it is repaired.'],
  facts: (values, _context, id) => [fact('declined-repair', id(0), { ...values.fields })],
  says: (values) => `${labelIn(COURSES, values.fields.course)}: recorded.`,
};

/** The lines of a change order whose cost is open, each with what it would usually cost. */
function openLines({ job }: Context, id: string | undefined): Line[] {
  const change = job?.changes.find((each) => each.id === id);
  return (change?.lines ?? []).flatMap((line, index) =>
    line.cost === null
      ? [
          {
            change_line: String(index + 1),
            what: `${line.description}, at ${money(line.price)}`,
            cost: line.usual_cost ?? '',
          },
        ]
      : [],
  );
}

/** What a change order should cost: a crew asks at the contract's price, and the office knows the cost. */
export const CHANGE_COST: FormSpec = {
  kind: 'change-cost',
  title: 'Cost of a change order',
  record: 'Record what it should cost',
  fields: [
    needed(
      field.choice(
        'change_order',
        'Change order',
        ({ job }) => changeChoices(job, (each) => each.lacks_cost),
        {
          none: 'Choose',
          wide: true,
        },
      ),
    ),
    dateField(),
    note,
  ],
  lists: [
    {
      name: 'lines',
      line: (line) => line.what ?? '',
      named: true,
      inRows: true,
      fields: [needed(field.money('cost', 'Should cost us', { negative: true }))],
    },
  ],
  start: (context, about) => {
    const open = (context.job?.changes ?? []).filter((change) => change.lacks_cost);
    const id = about.change ?? (open.length === 1 ? (open[0]?.id ?? '') : '');
    return { fields: { change_order: id, date: context.today }, lists: { lines: openLines(context, id) } };
  },
  changed: (values, path, context) => {
    if (path === 'change_order') values.lists.lines = openLines(context, values.fields.change_order);
  },
  cautions: (values) =>
    (values.lists.lines ?? []).length > 0
      ? ['What stands there is its price less the margin that the job was sold at. Type what you expect.']
      : [],
  facts: (values, _context, id) => [
    fact('change-cost', id(0), {
      ...values.fields,
      lines: (values.lists.lines ?? []).map((line) => ({
        change_line: Number(line.change_line),
        cost: line.cost ?? '',
      })),
    }),
  ],
  says: () => 'What the change order should cost is recorded.',
};

/** Change orders of the job, of those that may be meant. */
function changeChoices(job: Context['job'], fits: (change: ChangeView) => boolean = () => true) {
  return (job?.changes ?? []).filter(fits).map((change) => ({
    value: change.id,
    label: `${change.number} · ${change.title} · ${money(change.price)}`,
  }));
}

export const DECISION: FormSpec = {
  kind: 'decision',
  title: 'Decision on a change order',
  record: 'Record the decision',
  fields: [
    needed(
      field.choice('change_order', 'Change order', ({ job }) => changeChoices(job), {
        none: 'Choose',
        wide: true,
      }),
    ),
    dateField('date', 'Decided on'),
    needed(field.choice('verdict', 'Decision', choices(VERDICTS))),
    needed(
      field.text(
        'decided_by',
        (line) => (line.verdict === 'withdrawn' ? 'Who of the firm withdraws it' : 'Who decided'),
        {
          known: ({ lists }) => lists.people.map((person) => person.name),
        },
      ),
    ),
    needed(
      field.choice('method', 'How it came', choices(DECIDED_BY), {
        when: (values) => values.fields.verdict !== 'withdrawn',
      }),
    ),
    field.check('caution_given', 'Told what happens if it is left as it is', {
      when: (values) => values.fields.verdict === 'declined',
    }),
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
      },
      lists: {},
    };
  },
  changed: ({ fields }, path, { job }) => {
    if (path !== 'verdict') return;
    // A withdrawal is the firm's own: the customer is not named for it.
    const customer = job?.figures.customer ?? '';
    if (fields.verdict === 'withdrawn' && fields.decided_by === customer) fields.decided_by = '';
    if (fields.verdict !== 'withdrawn' && !fields.decided_by) fields.decided_by = customer;
  },
  cautions: (values) =>
    values.fields.verdict === 'declined' && values.fields.caution_given !== 'yes'
      ? ['Say what happens if the damage is left, and note that it was said.']
      : [],
  facts: (values, _context, id) => [
    fact('decision', id(0), {
      ...values.fields,
      method: values.fields.verdict === 'withdrawn' ? '' : values.fields.method,
      caution_given:
        (values.fields.verdict === 'declined' && values.fields.caution_given === 'yes') || undefined,
    }),
  ],
  says: (values) => `${labelIn(VERDICTS, values.fields.verdict)}: the decision is recorded.`,
};
