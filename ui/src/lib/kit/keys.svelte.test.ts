import { flushSync } from 'svelte';
import { afterEach, expect, it } from 'vitest';

import { keyboard } from './keys.svelte';

let stop: (() => void) | undefined;

afterEach(() => stop?.());

it('keeps what two places enter and take out in one go', () => {
  let places = $state(['Alt+J']);
  let seated = $state(false);
  const said = (keys: string[]) =>
    keyboard.add(keys.map((key) => ({ key, says: key, where: 'Test', run: () => undefined })));
  stop = $effect.root(() => {
    $effect(() => said(places));
    $effect(() => said(seated ? ['Alt+W'] : []));
  });
  flushSync();
  places = ['Alt+M', 'Alt+F'];
  seated = true;
  flushSync();
  expect(keyboard.entries.map((entry) => entry.key)).toEqual(['Alt+M', 'Alt+F', 'Alt+W']);
  places = [];
  flushSync();
  expect(keyboard.entries.map((entry) => entry.key)).toEqual(['Alt+W']);
});
