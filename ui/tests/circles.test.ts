import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { afterEach, expect, test } from 'vitest';

import { circles, importsUnder } from './imports';

const SOURCE = join(import.meta.dirname, '../src');

let planted: string | undefined;

afterEach(() => {
  if (planted) rmSync(planted, { recursive: true });
  planted = undefined;
});

/** Writes files into a folder of their own, and answers the circles among them. */
function circlesAmong(files: Record<string, string>): string[][] {
  const folder = (planted = mkdtempSync(join(tmpdir(), 'tearoff-circles-')));
  for (const [name, text] of Object.entries(files)) {
    mkdirSync(dirname(join(folder, name)), { recursive: true });
    writeFileSync(join(folder, name), text);
  }
  return circles(importsUnder(folder));
}

test('no file of the page imports another in a circle', () => {
  const imports = importsUnder(SOURCE);
  const files = [...imports.keys()];
  expect(files.filter((file) => file.endsWith('.svelte')).length).toBeGreaterThan(100);
  expect([...imports.values()].flat().length).toBeGreaterThan(files.length);
  expect(circles(imports).map((circle) => circle.join(' → '))).toEqual([]);
});

test('a circle through a component, a folder’s index and a type is caught', () => {
  expect(
    circlesAmong({
      'page/Page.svelte': `<script lang="ts">import { rows } from '../kit';</script>{rows}`,
      'kit/index.ts': `export * from './rows.svelte';`,
      'kit/rows.svelte.ts': `import type { Shape } from '../shape';\nexport const rows: Shape[] = [];`,
      'shape.ts': `export type Shape = typeof import('./page/Page.svelte');`,
      'alone.ts': `import './shape';`,
    }),
  ).toEqual([['shape.ts', 'page/Page.svelte', 'kit/index.ts', 'kit/rows.svelte.ts', 'shape.ts']]);
});

test('a circle that closes only in markup, or in the file itself, is caught', () => {
  expect(
    circlesAmong({
      'Late.svelte': `<script module>export const word = 1;</script>{#await import('./late')}…{/await}`,
      'late.ts': `export { word } from './Late.svelte';`,
      'self.ts': `import './self';`,
    }),
  ).toEqual([
    ['Late.svelte', 'late.ts', 'Late.svelte'],
    ['self.ts', 'self.ts'],
  ]);
});

test('files that share one below them are no circle', () => {
  expect(
    circlesAmong({
      'top.ts': `import './left';\nimport './right';`,
      'left.ts': `import './base';`,
      'right.ts': `import './base';`,
      'base.ts': `export {};`,
    }),
  ).toEqual([]);
});
