import { afterEach, beforeEach, expect, it, vi } from 'vitest';

import { Asker, ASK_MS } from './asker';
import type { Question, Values } from './spec';

beforeEach(() => {
  vi.useFakeTimers();
});

afterEach(() => {
  vi.useRealTimers();
});

function form() {
  const values: Values = { fields: {}, lists: {} };
  const failed = vi.fn();
  return { values, failed, asker: new Asker((fill) => fill(values), failed) };
}

function question(key: string, after = 0): Question {
  return {
    key,
    ask: async () => {
      await new Promise((done) => setTimeout(done, after));
      return (values) => {
        values.fields.tax = key;
      };
    },
  };
}

it('asks once typing rests, and fills in the answer', async () => {
  const { values, asker } = form();
  asker.later(question('a'));
  asker.later(question('b'));
  await vi.advanceTimersByTimeAsync(ASK_MS - 1);
  expect(values.fields.tax).toBeUndefined();
  await vi.advanceTimersByTimeAsync(2);
  expect(values.fields.tax).toBe('b');
});

it('drops an answer that comes after the form has changed', async () => {
  const { values, asker } = form();
  asker.later(question('slow', 1000));
  await vi.advanceTimersByTimeAsync(ASK_MS + 1);
  asker.later(question('new'));
  await vi.advanceTimersByTimeAsync(ASK_MS + 1);
  expect(values.fields.tax).toBe('new');
  await vi.advanceTimersByTimeAsync(2000);
  expect(values.fields.tax).toBe('new');
});

it('does not ask the same thing again, and is asked at once before recording', async () => {
  const { values, asker } = form();
  asker.later(question('a'));
  const asked = asker.now();
  await vi.advanceTimersByTimeAsync(1);
  await asked;
  expect(values.fields.tax).toBe('a');
  values.fields.tax = 'typed over';
  asker.later(question('a'));
  await vi.advanceTimersByTimeAsync(ASK_MS + 1);
  expect(values.fields.tax).toBe('typed over');
});

it('tells why there is no answer', async () => {
  const { failed, asker } = form();
  asker.later({ key: 'a', ask: () => Promise.reject(new Error('no')) });
  await vi.advanceTimersByTimeAsync(ASK_MS + 1);
  expect(failed).toHaveBeenCalledOnce();
});

it('leaves what was put by hand as it was when a draft comes back', async () => {
  const { values, asker } = form();
  values.fields.tax = 'by hand';
  asker.restored({ ...question('a'), byHand: true });
  await vi.advanceTimersByTimeAsync(ASK_MS + 1);
  expect(values.fields.tax).toBe('by hand');
  asker.restored(question('b'));
  await vi.advanceTimersByTimeAsync(ASK_MS + 1);
  expect(values.fields.tax).toBe('b');
});
