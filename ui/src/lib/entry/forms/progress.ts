/** How far a job is: work done, the owner's forecast, material on site, and the steps of its life. */

import { JOB_STATUSES } from '../../bindings/Labels';
import { fact } from '../../facts';
import { choices, labelIn } from '../../forms/choices';
import { code, dateField, measuredIn, money, note } from '../fields';
import { jobNumber, type FormSpec } from '../context';
import { field, needed } from '../../forms/fields';

export const UNITS: FormSpec = {
  kind: 'units-done',
  title: 'Work done',
  record: 'Record the work',
  fields: [
    dateField(),
    {
      ...code,
      choices: ({ lists }) =>
        lists.codes
          .filter((row) => row.unit)
          .map((row) => ({ value: row.code, label: `${row.code} · ${row.title}` })),
    },
    needed(
      field.qty('quantity', 'Done since the last entry', {
        negative: true,
        unit: measuredIn,
        hint: (values, { job }) => {
          const of = job?.figures.codes.find((row) => row.code === values.fields.code);
          return of ? `${of.units} of ${of.units_contracted} ${of.unit ?? ''} so far.` : undefined;
        },
      }),
    ),
  ],
  lists: [],
  start: (context) => ({ fields: { date: context.today }, lists: {} }),
  facts: (values, context, id) => [fact('units-done', id(0), { ...values.fields, job: jobNumber(context) })],
  says: (values) => `Work on ${values.fields.code ?? ''} recorded.`,
};

export const FORECAST: FormSpec = {
  kind: 'forecast',
  title: 'My own forecast',
  record: 'Record the forecast',
  fields: [
    dateField(),
    code,
    needed(
      field.money('amount', 'Cost at the end', {
        hint: (values, { job }) => {
          const of = job?.figures.codes.find((row) => row.code === values.fields.code);
          return of ? `Forecast now ${money(of.forecast)}, spent ${money(of.cost)}.` : undefined;
        },
      }),
    ),
    { ...note, label: 'Why' },
  ],
  lists: [],
  start: (context) => ({ fields: { date: context.today }, lists: {} }),
  facts: (values, context, id) => [fact('forecast', id(0), { ...values.fields, job: jobNumber(context) })],
  says: (values) => `Forecast for ${values.fields.code ?? ''} recorded.`,
};

export const STORED: FormSpec = {
  kind: 'stored-material',
  title: 'Material on site',
  record: 'Record the count',
  fields: [
    dateField('date', 'Counted on'),
    code,
    needed(
      field.money('amount', 'Not installed, at cost', {
        hint: () => 'The newest count of a code stands. Write 0 when it is all installed.',
      }),
    ),
  ],
  lists: [],
  start: (context) => ({ fields: { date: context.today }, lists: {} }),
  facts: (values, context, id) => [
    fact('stored-material', id(0), { ...values.fields, job: jobNumber(context) }),
  ],
  says: (values) => `Material on site for ${values.fields.code ?? ''} recorded.`,
};

export const JOB_STATUS: FormSpec = {
  kind: 'job-status',
  title: 'Job status',
  record: 'Record the status',
  fields: [dateField(), needed(field.choice('stage', 'Status', choices(JOB_STATUSES), { wide: true }))],
  lists: [],
  start: (context) => ({
    fields: { date: context.today, stage: context.job?.figures.stage === 'begun' ? 'finished' : 'begun' },
    lists: {},
  }),
  cautions: (values, { job }) => {
    const open = (job?.conditions ?? []).filter((condition) => condition.work === 'at-risk');
    if (values.fields.stage !== 'finished' || open.length === 0) return [];
    return [`Condition ${open.map((condition) => condition.number).join(', ')} is at risk: no decision yet.`];
  },
  facts: (values, context, id) => [fact('job-status', id(0), { ...values.fields, job: jobNumber(context) })],
  says: (values) => `${labelIn(JOB_STATUSES, values.fields.stage)}: recorded.`,
};
