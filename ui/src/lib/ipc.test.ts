import { mockIPC } from '@tauri-apps/api/mocks';
import { expect, it } from 'vitest';

import { call, Refused, refusalOf } from './ipc';

it('hands back what the program answers', async () => {
  mockIPC((name) => (name === 'about' ? { name: 'Tearoff', version: '1.2.3' } : undefined));
  expect(await call('about')).toEqual({ name: 'Tearoff', version: '1.2.3' });
});

it('throws a refusal with its code, message and remedy', async () => {
  mockIPC(() => {
    throw { code: 'closed-month', message: 'May is closed.', remedy: 'Date it in June.' };
  });
  const refused = await call('about').catch((error: unknown) => error);
  expect(refused).toBeInstanceOf(Refused);
  expect(refused).toMatchObject({
    code: 'closed-month',
    message: 'May is closed.',
    remedy: 'Date it in June.',
  });
});

it('says what is wrong with a field as a sentence', async () => {
  mockIPC(() => {
    throw { code: 'refused', field: 'parts.haul', message: 'it has no price.', remedy: 'Type one.' };
  });
  const refused = await call('about').catch((error: unknown) => error);
  expect(refused).toMatchObject({ field: 'parts.haul', message: 'It has no price.' });
});

it('puts anything else in the same shape, and says that nothing was changed', async () => {
  mockIPC(() => {
    throw 'Command about not allowed by ACL';
  });
  const refused = await call('about').catch((error: unknown) => error);
  expect(refused).toMatchObject({
    code: 'broken',
    message: 'The program did not answer “about”: Command about not allowed by ACL. Nothing was changed.',
  });
  expect(refusalOf(new TypeError('gone'), 'x').message).toContain('gone');
  expect(refusalOf({ code: 'only' }, 'x').code).toBe('broken');
});
