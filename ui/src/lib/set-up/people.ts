/** People, their crews and their pay, in one table. */

import { ROLES } from '../bindings/Labels';
import { fact } from '../facts';
import { choices } from '../forms/choices';
import { field, needed } from '../forms/fields';
import type { Line } from '../forms/spec';
import type { Review, SettingUp } from './review';

const PEOPLE_AT_FIRST = 3;

/** People, their crews and their pay in one table. */
export function people(): Review {
  const blank = (): Line => ({ name: '', role: 'crew', crew: 'Crew 1', class: 'roofing', hourly: '' });
  const crewed = (_values: unknown, _context: unknown, line: Line) => line.role === 'crew';
  return {
    kind: 'set-up-people',
    title: 'People and pay',
    record: ({ lists }) => {
      const { length } = (lists.people ?? []).filter((line) => line.name);
      return length === 1 ? 'Keep one person' : `Keep ${length} people`;
    },
    fields: [
      needed(
        field.qty('hours_a_day', 'Hours in a crew’s usual day', { unit: () => 'h', places: 2 }),
        'Type the hours of a usual day.',
      ),
    ],
    lists: [
      {
        name: 'people',
        line: 'Person',
        title: 'A crew is as many people as stand in it here',
        blank,
        least: 1,
        add: () => 'Add a person',
        fields: [
          needed(field.text('name', 'Name')),
          needed(field.choice('role', 'Role', choices(ROLES))),
          needed(
            field.text<SettingUp>('crew', 'Crew', {
              when: crewed,
              known: ({ lists }) => lists.crews.map((row) => row.name),
            }),
          ),
          field.text('class', 'Workers’ comp. class', { unmarked: true }),
          {
            ...field.qty('hourly', 'Pay an hour', { unit: () => '$' }),
            required: true,
            missing: 'What is an hour of theirs paid? 0 where they are not paid by the hour.',
          },
        ],
      },
    ],
    start: () => ({
      fields: { hours_a_day: '8' },
      lists: { people: Array.from({ length: PEOPLE_AT_FIRST }, blank) },
    }),
    // The class of who works on roofs is nobody else's.
    changed: ({ lists: { people: lines } }, path) => {
      const line = lines?.[Number(/^people\[(\d+)\]\.role$/.exec(path)?.[1] ?? -1)];
      if (line) line.class = line.role === 'crew' ? line.class || 'roofing' : '';
    },
    facts: ({ fields, lists: { people: lines } }, { lists }, id) => {
      const all = (lines ?? []).filter((line) => line.name?.trim());
      const crewOf = (line: Line) => (line.role === 'crew' ? (line.crew?.trim() ?? '') : '');
      const named = [...new Set(all.map(crewOf).filter(Boolean))];
      const crews = named.map((name, index) => {
        const known = lists.crews.find((row) => row.name === name);
        const size = all.filter((line) => crewOf(line) === name).length;
        return {
          name,
          id: known?.id ?? id(2 * all.length + index),
          facts: known
            ? []
            : [
                fact('crew', id(2 * all.length + index), {
                  name,
                  size,
                  hours_a_day: fields.hours_a_day,
                }),
              ],
        };
      });
      return [
        ...crews.flatMap((crew) => crew.facts),
        ...all.map((line, index) =>
          fact('person', id(index), {
            name: line.name?.trim(),
            role: line.role,
            crew: crews.find((crew) => crew.name === crewOf(line))?.id,
            class: line.class?.trim(),
          }),
        ),
        ...all.flatMap((line, index) =>
          line.hourly && !/^0(\.0*)?$/.test(line.hourly)
            ? [
                fact('pay-rate', id(all.length + index), {
                  date: lists.firm.date,
                  person: id(index),
                  hourly: line.hourly,
                }),
              ]
            : [],
        ),
      ];
    },
    says: () => 'People and pay are kept.',
  };
}
