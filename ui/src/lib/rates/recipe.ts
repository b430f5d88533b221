/** How the firm builds, as a form asks it: one recipe, new or from a later day on. */

import type { CutUp } from '../bindings/CutUp';
import { CUT_UP, ITEMS } from '../bindings/Labels';
import type { Recipe } from '../bindings/Recipe';
import type { RecipeRow } from '../bindings/RecipeRow';
import { fact } from '../facts';
import { choices, wordsOf } from '../forms/choices';
import { field, needed } from '../forms/fields';
import type { FormSpec, Line } from '../forms/spec';
import { showDate } from '../kit/dates';
import { percentOf, shareOf } from '../kit/decimal';
import { systemLocale } from '../kit/locale';
import { fieldsOf, RECIPE, recipeChanged, recipeIn, VENT_LIST, ventIn, ventsOf } from '../recipe/fields';
import { typeIt } from './spec';

/** A line for each item, with its waste on each kind of roof. */
function wasteOf({ waste }: Recipe): Line[] {
  const items = [...new Set(waste.map((each) => each.item))];
  return items.map((item) => {
    const of = (cutUp: CutUp) => waste.find((each) => each.item === item && each.cut_up === cutUp)?.share;
    return {
      item,
      ...Object.fromEntries(wordsOf(CUT_UP).map((value) => [value, percentOf(of(value) ?? '')])),
    };
  });
}

/** The waste that is typed, as the fact has it: what is left empty is none. */
function wasteIn(lines: readonly Line[]) {
  return lines.flatMap((line) =>
    wordsOf(CUT_UP)
      .filter((value) => line[value])
      .map((value) => ({
        item: line.item,
        cut_up: value,
        share: shareOf(line[value] ?? ''),
      })),
  );
}

/** A recipe of the firm's, new or as it is from a later day on. What it begins with stands in `from`. */
export function recipeForm(row: RecipeRow | undefined, from: Recipe | undefined): FormSpec {
  return {
    kind: 'recipe',
    title: row ? `How we build: ${row.name}` : 'A new recipe',
    record: row ? 'Keep the change' : 'Add',
    fields: [
      needed(
        field.text('name', 'Name', {
          hint: () => 'As you choose it for an estimate',
          when: () => row === undefined,
        }),
        typeIt('Name'),
      ),
      needed(field.date('date', 'From this day on'), typeIt('From')),
      field.check('usual', 'The usual one: estimates begin from it', { wide: true }),
      field.check('retired', 'Retired: kept for earlier jobs, no longer offered', {
        when: () => row !== undefined,
        wide: true,
      }),
      ...RECIPE,
    ],
    lists: [
      VENT_LIST,
      {
        name: 'waste',
        title: 'Waste, by how cut up the roof is',
        line: 'Waste',
        add: () => 'Add an item',
        empty: 'Nothing is wasted.',
        blank: () => ({ item: 'shingles', plain: '', some: '', much: '' }),
        fields: [
          needed(field.choice('item', 'Of', choices(ITEMS))),
          ...choices(CUT_UP).map(({ value, label }) => field.percent(value, label, { unmarked: true })),
        ],
      },
    ],
    start: ({ today }) => ({
      fields: {
        ...(from ? fieldsOf(from) : {}),
        name: row?.name ?? '',
        date: today,
        usual: row?.usual ? 'yes' : '',
        retired: row?.retired ? 'yes' : '',
      },
      lists: from ? { vents: ventsOf(from), waste: wasteOf(from) } : { vents: [], waste: [] },
    }),
    changed: recipeChanged,
    facts: ({ fields, lists }, _around, id) => [
      fact('recipe', id(0), {
        ...recipeIn(fields),
        name: row?.name ?? fields.name?.trim(),
        date: fields.date,
        usual: fields.usual === 'yes',
        retired: fields.retired === 'yes',
        vents: (lists.vents ?? []).map(ventIn),
        waste: wasteIn(lists.waste ?? []),
      }),
    ],
    says: ({ fields }) =>
      `${row?.name ?? fields.name ?? ''} counts from ${showDate(fields.date ?? '', systemLocale())} on.`,
    undo: false,
  };
}
