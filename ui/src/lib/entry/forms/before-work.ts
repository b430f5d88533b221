/** What comes before work begins, and the receipt for insulation after it. */

import { PAMPHLET_BY } from '../../bindings/Labels';
import { fact, filled } from '../../facts';
import { choices } from '../../forms/choices';
import { field, needed } from '../../forms/fields';
import { isBlank, type Choice, type Line } from '../../forms/spec';
import { jobNumber, type Context, type FormSpec } from '../context';
import { dateField, day, note } from '../fields';

function crewChoices({ lists }: Context): Choice[] {
  return lists.crews.map(({ id, name }) => ({ value: id, label: name }));
}

export const SCHEDULE: FormSpec = {
  kind: 'schedule',
  title: 'When the work is planned, and by whom',
  record: 'Record the plan',
  fields: [
    needed(field.date('begins', 'Work begins on')),
    field.date('ends', 'Last day of work'),
    field.choice('crew', 'Crew', crewChoices, { none: 'The job’s own' }),
    field.qty('crew_days', 'Crew-days', {
      hint: () => 'Days of the whole crew; what is left out follows from the hours in the contract',
    }),
    dateField('date', 'Planned so on'),
    note,
  ],
  lists: [],
  start: ({ today, job, lists }) => ({
    fields: {
      date: today,
      begins: job?.begins ?? '',
      ends: job?.ends ?? '',
      crew: lists.crews.find(({ name }) => name === job?.crew)?.id ?? '',
      crew_days: job?.crew_days ?? '',
    },
    lists: {},
  }),
  facts: (values, context, id) => [fact('schedule', id(0), { ...values.fields, job: jobNumber(context) })],
  says: (values) => `Work is planned for ${day(values.fields.begins ?? '')}.`,
};

export const LEAD_PAMPHLET: FormSpec = {
  kind: 'lead-pamphlet',
  title: 'The pamphlet on lead was given',
  record: 'Record it',
  fields: [
    dateField('date', 'Given or mailed on'),
    needed(field.choice('shown_by', 'Shown by', choices(PAMPHLET_BY))),
    needed(
      field.text('given_to', 'Given to', {
        hint: () => 'The owner; an adult who lives there as well, where the owner does not',
      }),
    ),
    note,
  ],
  lists: [],
  start: ({ today, job }) => ({
    fields: { date: today, shown_by: 'signed-receipt', given_to: job?.figures.customer ?? '' },
    lists: {},
  }),
  facts: (values, context, id) => [
    fact('lead-pamphlet', id(0), { ...values.fields, job: jobNumber(context) }),
  ],
  says: () =>
    'It is recorded. Keep the paper itself 3 years from the completion of the work (40 CFR 745.86).',
};

function insulatedPart(): Line {
  return {};
}

const loose = (_values: unknown, _context: unknown, line: Line) => line.loose_fill === 'yes';

export const INSULATION: FormSpec = {
  kind: 'insulation-receipt',
  title: 'What was insulated',
  record: 'Record the receipt',
  fields: [
    dateField('date', 'Installed on'),
    needed(field.text('installer', 'Installed by', { hint: () => 'Who signs the receipt (16 CFR 460.17)' })),
    note,
  ],
  lists: [
    {
      name: 'parts',
      line: 'Part of the house',
      title: 'Each part of the house by itself',
      blank: insulatedPart,
      least: 1,
      fields: [
        needed(field.text('place', 'Which part')),
        needed(field.text('material', 'Insulation')),
        field.check('loose_fill', 'Loose fill'),
        needed(field.qty('coverage_sqft', 'Coverage area', { unit: () => 'sq ft' })),
        needed(field.qty('thickness_in', 'Thickness as installed', { unit: () => 'in' })),
        needed(field.qty('settled_in', 'Least settled thickness', { unit: () => 'in', when: loose })),
        needed(
          field.qty('r_value', 'R-value', {
            hint: () => 'By the maker’s data for that thickness, not per inch times inches',
          }),
        ),
        needed(field.qty('bags', 'Bags used', { places: 0, when: loose })),
      ],
    },
  ],
  start: ({ today }) => ({ fields: { date: today }, lists: { parts: [insulatedPart()] } }),
  facts: (values, context, id) => [
    fact('insulation-receipt', id(0), {
      ...values.fields,
      job: jobNumber(context),
      parts: (values.lists.parts ?? [])
        .filter((line) => !isBlank(line, insulatedPart()))
        .map(({ loose_fill, settled_in, bags, ...line }) => {
          const fill = loose_fill === 'yes';
          return filled({
            ...line,
            loose_fill: fill || undefined,
            settled_in: fill ? settled_in : '',
            bags: fill && bags ? Number(bags) : undefined,
          });
        }),
    }),
  ],
  says: () => 'The receipt is recorded. Print it, and have the installer sign it.',
};
