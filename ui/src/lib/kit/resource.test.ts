import { expect, it } from 'vitest';

import { resource } from './resource.svelte';

/** A reading that answers when it is told to. */
function later<T>() {
  let answer: (value: T) => void = () => undefined;
  let fail: (error: unknown) => void = () => undefined;
  const promise = new Promise<T>((done, failed) => {
    answer = done;
    fail = failed;
  });
  return { load: () => promise, answer, fail };
}

it('shows the newest question’s answer, however late an older one comes', async () => {
  const shown = resource<string>();
  const [old, young] = [later<string>(), later<string>()];
  const first = shown.read(old.load);
  const second = shown.read(young.load);
  young.answer('September');
  expect(await second).toBe(true);
  old.answer('August');
  expect(await first).toBe(false);
  expect(shown.value).toBe('September');
});

it('keeps the last value while it waits, and when a reading is refused', async () => {
  const shown = resource<string>();
  await shown.read(() => Promise.resolve('August'));
  const next = later<string | undefined>();
  const reading = shown.read(next.load);
  expect([shown.value, shown.waiting]).toEqual(['August', true]);
  next.answer(undefined);
  expect(await reading).toBe(false);
  expect([shown.value, shown.waiting]).toEqual(['August', false]);
});

it('passes on the error of the newest question, and drops that of an older one', async () => {
  const shown = resource<string>();
  const old = later<string>();
  const first = shown.read(old.load);
  await expect(shown.read(() => Promise.reject(new Error('no')))).rejects.toThrow('no');
  old.fail(new Error('too late'));
  expect(await first).toBe(false);
});

it('forgets its value and what is under way', async () => {
  const shown = resource<string>();
  const old = later<string>();
  const reading = shown.read(old.load);
  shown.clear();
  old.answer('August');
  expect(await reading).toBe(false);
  expect([shown.value, shown.waiting]).toEqual([undefined, false]);
});
