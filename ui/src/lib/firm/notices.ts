/** What is asked about a state's own notice, and the fact it makes. */

import { NOTICES } from '../bindings/Labels';
import type { NoticeRow } from '../bindings/NoticeRow';
import { fact } from '../facts';
import { choices } from '../forms/choices';
import { field, needed } from '../forms/fields';
import type { FormSpec } from '../forms/spec';
import { showDate } from '../kit/dates';
import { systemLocale } from '../kit/locale';

/** A notice, new or changed from a day on. */
export function noticeForm(notice: NoticeRow | undefined, state: string): FormSpec {
  return {
    kind: 'notice',
    title: notice ? `Change “${notice.heading}”` : 'A notice of the state',
    record: notice ? 'Keep the change' : 'Enter it',
    fields: [
      needed(field.text('state', 'State', { hint: () => 'Two capital letters' })),
      needed(
        field.choice('about', 'What it is about', choices(NOTICES), {
          hint: ({ fields }) =>
            fields.about === 'cancellation'
              ? 'Printed at the end of a proposal for a sale at home, beside the federal notice'
              : 'Printed before the signature; at the end where there are several copies',
        }),
      ),
      needed(field.text('heading', 'Heading', { wide: true })),
      needed(
        field.note('text', 'Text', {
          wide: true,
          rows: 8,
          hint: () => 'In the state’s own words; an empty line begins a paragraph',
        }),
      ),
      needed(field.qty('copies', 'Copies', { places: 0, hint: () => 'In duplicate is 2' })),
      needed(field.qty('least_points', 'Least size of type', { places: 0, unit: () => 'points' })),
      field.check('bold', 'In bold'),
      needed(field.date('date', 'From this day on')),
      field.check('retired', 'No longer printed from that day on', { when: () => notice !== undefined }),
    ],
    start: ({ today }) => ({
      fields: {
        state: notice?.state ?? state,
        about: notice?.about ?? 'cancellation',
        heading: notice?.heading ?? '',
        text: notice?.text ?? '',
        copies: String(notice?.copies ?? 1),
        least_points: String(notice?.least_points ?? 10),
        bold: notice?.bold ? 'yes' : '',
        date: today,
      },
      lists: {},
    }),
    changed: ({ fields }, path) => {
      if (path === 'state') fields.state = (fields.state ?? '').trim().toUpperCase();
    },
    facts: ({ fields }, _around, id) => [
      fact('notice', id(0), {
        ...fields,
        copies: Number(fields.copies),
        least_points: Number(fields.least_points),
        bold: fields.bold === 'yes',
        retired: fields.retired === 'yes',
      }),
    ],
    says: ({ fields }) => `The notice counts from ${showDate(fields.date ?? '', systemLocale())} on.`,
    undo: false,
  };
}
