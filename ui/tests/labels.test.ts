import { readdirSync, readFileSync } from 'node:fs';
import { join, relative } from 'node:path';
import { expect, test } from 'vitest';

import { FIGURES } from '../src/lib/bindings/Figures';
import * as LABELS from '../src/lib/bindings/Labels';
import { STATUS_WORDS } from '../src/lib/kit/status';
import { type ClosedLists, labelsIn } from './labels';

const SOURCE = join(import.meta.dirname, '../src');
const BINDINGS = join(SOURCE, 'lib/bindings');

const LISTS: ClosedLists = new Map(
  Object.entries({ ...LABELS, FIGURES }).map(([name, list]) => [name, new Set(Object.keys(list))]),
);

/** Every word of the program's types, and what colors and marks are called. */
const WORDS = new Set([
  ...readdirSync(BINDINGS)
    .filter((name) => name.endsWith('.ts') && name !== 'Labels.ts' && name !== 'Figures.ts')
    .flatMap((name) =>
      readFileSync(join(BINDINGS, name), 'utf8').match(/^export type \w+ = (?:"[^"]+"(?: \| )?)+;/m),
    )
    .flatMap((union) => [...(union ?? '').matchAll(/"([^"]+)"/g)].map(([, word]) => word ?? '')),
  ...Object.keys(FIGURES),
  ...STATUS_WORDS,
  ...['cost', 'gain', 'contracted', 'late', 'very late'],
  // How the browser is asked to write a date.
  ...['long', 'numeric', '2-digit'],
]);

/** How a price is set is asked in words that are no figure's, and what a device holds is not what a role sees. */
const MAY = ['lib/estimate/ChoicesPart.svelte writes FIGURES', 'lib/firm/devices.ts writes ROLES'];

/** A sentence that ends in a period says how, not what. */
const isNoLabel = (says: string) => says.length < 2 || WORDS.has(says) || /^[\d.]+$|\.$/.test(says);

function files(folder: string): string[] {
  return readdirSync(folder, { withFileTypes: true }).flatMap((each) => {
    const path = join(folder, each.name);
    if (each.isDirectory()) return path === BINDINGS ? [] : files(path);
    return /\.(ts|svelte)$/.test(each.name) && !each.name.endsWith('.test.ts') ? [path] : [];
  });
}

const among = (text: string, path = 'a.ts') => labelsIn(path, text, LISTS, isNoLabel);

test('no file of the page writes the labels of a closed list anew', () => {
  const read = files(SOURCE);
  expect(read.length).toBeGreaterThan(200);
  expect(LISTS.size).toBeGreaterThan(40);
  expect(WORDS.size).toBeGreaterThan(300);
  const found = read.flatMap((path) =>
    labelsIn(path, readFileSync(path, 'utf8'), LISTS, isNoLabel).map(
      (list) => `${relative(SOURCE, path)} writes ${list}`,
    ),
  );
  expect(found).toEqual(MAY);
});

test('labels are caught as an object, as choices, as pairs and in markup', () => {
  expect(among(`const A = { check: 'A check', card: 'By card' };`)).toEqual(['PAID_BY']);
  expect(among(`const A = [{ value: 'signed', label: 'Ink' }, { value: 'phone', label: 'Call' }];`)).toEqual([
    'DECIDED_BY',
  ]);
  expect(among(`const A = [['two-sheets', 'Two more'], ['rain-day', 'Rain']] as const;`)).toEqual([
    'SETBACKS',
  ]);
  expect(among(`<P of={{ 'ice-dam': { one: 'dam' }, puncture: { one: 'hole' } }} />`, 'A.svelte')).toEqual([
    'CAUSES',
  ]);
});

test('a mark, a word of the program, a figure or a single word of a list is no label', () => {
  expect(among(`const A = { good: 'done', open: 'open', 'not-here': 'withdrawn' };`)).toEqual([]);
  expect(among(`const A = { eave: 'E', rake: 'R' };`)).toEqual([]);
  expect(among(`const A = { 'box-vent': '50', 'power-vent': '200' };`)).toEqual([]);
  expect(among(`const A = { check: 'Look at it', plan: 'Draw it', roof: 'Climb it' };`)).toEqual([]);
});
