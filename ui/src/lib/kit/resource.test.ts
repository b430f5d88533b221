import { afterEach, expect, it, vi } from 'vitest';

import { resource } from './resource.svelte';

afterEach(() => vi.useRealTimers());

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

it('reads once nothing else was asked for a while, and is called off', async () => {
  vi.useFakeTimers();
  const shown = resource<string>();
  const asked: string[] = [];
  const load = (month: string) => () => {
    asked.push(month);
    return Promise.resolve(month);
  };
  shown.soon(100, load('August'));
  await vi.advanceTimersByTimeAsync(60);
  shown.soon(100, load('September'));
  expect(shown.waiting).toBe(true);
  await vi.advanceTimersByTimeAsync(60);
  expect(asked).toEqual([]);
  const settled = shown.settled();
  await vi.advanceTimersByTimeAsync(60);
  await settled;
  expect([asked, shown.value, shown.waiting]).toEqual([['September'], 'September', false]);
  shown.soon(100, load('October'))();
  await vi.advanceTimersByTimeAsync(200);
  expect([asked.length, shown.value, shown.waiting]).toEqual([1, 'September', false]);
});

it('hands a late reading’s error to whoever asked', async () => {
  vi.useFakeTimers();
  const shown = resource<string>();
  const failed = vi.fn();
  shown.soon(100, () => Promise.reject(new Error('no')), failed);
  await vi.advanceTimersByTimeAsync(200);
  expect(failed).toHaveBeenCalledWith(new Error('no'));
  expect(shown.waiting).toBe(false);
});
