/** What a price is made of: parts with what they cover and cost, and how long the work takes. */

import type { Item } from '../bindings/Item';
import { STEEPNESS } from '../bindings/Labels';
import type { UsualFact } from '../bindings/UsualFact';
import { vendorFacts } from '../entry/fields';
import { fact } from '../facts';
import { choices } from '../forms/choices';
import { field, needed } from '../forms/fields';
import type { Line } from '../forms/spec';
import { keptHours, shownHours, workedBy } from '../rates/hours';
import {
  askedAbout,
  charged,
  code,
  factIn,
  keeps,
  lineOf,
  list,
  taken,
  tick,
  tickedIn,
  type Field,
  type Review,
  type SettingUp,
} from './review';

export function parts(usual: readonly UsualFact[]): Review {
  const figures = ['code', 'package', 'covers'] as const;
  return {
    kind: 'set-up-parts',
    title: 'The usual parts',
    record: keeps('parts', 'part'),
    fields: [
      field.text('vendor', 'The prices are those of', {
        known: ({ lists }) => lists.vendors.map((row) => row.name),
        hint: () => 'Your supplier; left empty, they are your own',
        wide: true,
      }),
    ],
    lists: list(
      'parts',
      'What a package covers, and what it costs you before tax',
      [
        tick((line) => line.shown ?? ''),
        code,
        needed(field.text('package', 'Bought by the', { when: taken })),
        needed(
          field.qty<SettingUp>('covers', 'One covers', {
            when: taken,
            unit: (line, { usual: { parts: all } }) =>
              all.find((each) => each.title === line.shown)?.measure_word ?? undefined,
          }),
        ),
        field.rate('price', (line) => `Price of a ${line.package ?? 'package'}`, {
          unit: () => '$',
          when: taken,
          unmarked: true,
        }),
      ],
      (line) => line.shown ?? '',
    ),
    start: (context) => ({
      fields: {},
      lists: { parts: usual.map((each, at) => ({ ...charged(lineOf(each, at), context), price: '' })) },
    }),
    ...askedAbout(
      (line) =>
        line.covers
          ? [{ item: line.item as Item, covers: line.covers, price: line.price || null, hours: null }]
          : [],
      'parts',
    ),
    facts: ({ fields, lists: { parts: lines } }, { lists }, id) => {
      const all = tickedIn(lines);
      const priced = all.filter((line) => line.price);
      const name = fields.vendor?.trim() ?? '';
      const from =
        name && priced.length > 0
          ? vendorFacts(name, { lists }, id(2 * all.length))
          : { vendor: '', facts: [] };
      return [
        ...from.facts,
        ...all.map((line, index) => factIn(usual, line, figures, id(index))),
        ...all.flatMap((line, index) =>
          line.price
            ? [
                fact('part-price', id(all.length + index), {
                  date: lists.firm.date,
                  part: id(index),
                  vendor: from.vendor,
                  price: line.price,
                }),
              ]
            : [],
        ),
      ];
    },
    says: () => 'The parts are kept.',
  };
}

const SLOPES = choices(STEEPNESS);

/** A line for each part of the roof, with its hours by how steep it is. */
function hoursOf(usual: readonly UsualFact[], context: SettingUp): Line[] {
  const items = [...new Set(usual.map((each) => String(each.fact.item)))];
  return items.map((item) => {
    const of = usual.map((each, at) => ({ each, at })).filter(({ each }) => each.fact.item === item);
    const { each: first, at } = of[0]!;
    const hours = of.map(({ each }): [string, string] => {
      return [String(each.fact.steepness), shownHours(String(each.fact.hours), first.measure_word)];
    });
    const measure = workedBy(first.measure_word);
    return { ...charged(lineOf(first, at), context), ...Object.fromEntries(hours), measure };
  });
}

export function production(usual: readonly UsualFact[]): Review {
  const hours = (line: Line, slope: string) =>
    keptHours(line[slope] ?? '', usual[Number(line.at)]?.measure_word);
  return {
    kind: 'set-up-production',
    title: 'The usual production rates',
    record: ({ lists }) => {
      const { length } = tickedIn(lists.production);
      return length === 1 ? 'Keep the hours of one part' : `Keep the hours of ${length} parts`;
    },
    fields: [],
    lists: list(
      'production',
      'Hours of one person, by how steep the roof is',
      [
        tick((line) => `${line.shown}, hours for one ${line.measure}`),
        code,
        ...SLOPES.map(({ value: slope, label }) =>
          needed(field.rate(slope, label, { unit: () => 'h', when: taken }) as Field),
        ),
      ],
      (line) => line.shown ?? '',
    ),
    start: (context) => ({ fields: {}, lists: { production: hoursOf(usual, context) } }),
    ...askedAbout(
      (line) =>
        SLOPES.map(({ value: slope }) => ({
          item: line.item as Item,
          hours: hours(line, slope) || null,
          covers: null,
          price: null,
        })),
      'production',
    ),
    facts: ({ lists }, _context, id) =>
      tickedIn(lists.production).flatMap((line, index) =>
        SLOPES.map(({ value: steepness }, slope) =>
          factIn(
            usual,
            { ...line, steepness, hours: hours(line, steepness) },
            ['code', 'steepness', 'hours'],
            id(index * SLOPES.length + slope),
          ),
        ),
      ),
    says: () => 'The production rates are kept.',
  };
}
