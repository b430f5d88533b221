import { afterEach, beforeEach, expect, it, vi } from 'vitest';

import { toasts } from './toasts.svelte';

beforeEach(() => void vi.useFakeTimers());

afterEach(() => {
  toasts.clear();
  vi.useRealTimers();
});

const texts = () => toasts.shown.map((toast) => toast.text);

it('takes plain words away after a while, and keeps what can be taken back or went wrong', () => {
  toasts.done('Saved.');
  toasts.done('Posted.', () => {});
  toasts.refused('The disk is full.', 'Make room.');
  vi.advanceTimersByTime(7_999);
  expect(texts()).toEqual(['Saved.', 'Posted.', 'The disk is full.']);
  vi.advanceTimersByTime(3_600_000);
  expect(texts()).toEqual(['Posted.', 'The disk is full.']);
});

it('shows three at most: the oldest makes room', () => {
  for (const text of ['1', '2', '3', '4']) toasts.refused(text);
  expect(texts()).toEqual(['2', '3', '4']);
});

it('takes back the newest that can be, once', async () => {
  const older = vi.fn();
  const newer = vi.fn();
  toasts.done('Older', older);
  toasts.done('Newer', newer);
  toasts.refused('Something else');
  await toasts.undo();
  expect(newer).toHaveBeenCalledOnce();
  expect(older).not.toHaveBeenCalled();
  expect(texts()).toEqual(['Older', 'Something else']);
});

it('takes back what is no longer in sight', async () => {
  const undo = vi.fn();
  toasts.done('Posted.', undo);
  for (const text of ['1', '2', '3', '4']) toasts.refused(text);
  expect(texts()).not.toContain('Posted.');
  expect(toasts.last?.text).toBe('Posted.');
  await toasts.undo();
  expect(undo).toHaveBeenCalledOnce();
  expect(toasts.last).toBeUndefined();
});

it('offers a way back again if it failed, and says so', async () => {
  toasts.done('Posted.', () => Promise.reject(new Error('The month is closed.')));
  await toasts.undo();
  expect(texts()).toEqual(['Posted.', 'That could not be taken back: The month is closed.']);
});

it('does nothing when there is nothing to take back', async () => {
  await toasts.undo();
  expect(texts()).toEqual([]);
});

it('says nothing of one person to the next', () => {
  toasts.done('Posted.', () => {});
  toasts.refused('The disk is full.');
  toasts.clear();
  expect(texts()).toEqual([]);
});
