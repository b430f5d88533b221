/** The color of a part, chosen with the homeowner after the contract. */

import { fact } from '../../facts';
import { field, needed } from '../../forms/fields';
import { jobNumber, type FormSpec } from '../context';
import { dateField } from '../fields';

export const COLOR: FormSpec = {
  kind: 'color-choice',
  title: 'A color',
  record: 'Keep the color',
  fields: [
    needed(
      field.choice(
        'part',
        'Of what',
        ({ job }) =>
          (job?.contract?.colors ?? []).map(({ part, title, product_line }) => ({
            value: part,
            label: [title, product_line].filter(Boolean).join(', '),
          })),
        { none: 'Choose', wide: true },
      ),
    ),
    needed(
      field.choice(
        'color',
        'Color',
        ({ job }, { fields }) => {
          const part = job?.contract?.colors.find((each) => each.part === fields.part);
          return (part?.offered ?? []).map((color) => ({ value: color, label: color }));
        },
        { none: 'Choose' },
      ),
    ),
    needed(field.text('chosen_by', 'Who chose it')),
    dateField('date', 'Chosen on'),
  ],
  lists: [],
  start: ({ job, today }, about) => {
    const open = (job?.contract?.colors ?? []).filter((each) => each.color === null);
    return {
      fields: {
        part: about.part ?? (open.length === 1 ? (open[0]?.part ?? '') : ''),
        chosen_by: job?.figures.customer ?? '',
        date: today,
      },
      lists: {},
    };
  },
  facts: ({ fields }, context, id) => [fact('color-choice', id(0), { ...fields, job: jobNumber(context) })],
  says: ({ fields }) => `${fields.color ?? ''}: the color is kept.`,
};
