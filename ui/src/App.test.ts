import { mockIPC, clearMocks } from '@tauri-apps/api/mocks';
import { render, screen, waitFor } from '@testing-library/svelte';
import userEvent from '@testing-library/user-event';
import { beforeEach, expect, it } from 'vitest';

import { faults } from '../tests/page';
import { program } from '../tests/program';
import App from './App.svelte';
import { desk } from './lib/start/desk.svelte';
import { inTouch } from './lib/start/in-touch.svelte';
import Specimen from './specimen/Specimen.svelte';

let asked: string[] = [];

beforeEach(() => {
  asked = [];
  desk.forget();
  location.hash = '';
  mockIPC((name) => {
    asked.push(name);
    return name === 'about' ? { name: 'Tearoff', version: '1.2.3' } : null;
  });
});

it('has the window shown first, asks for the desk at once, and shows which program it is', async () => {
  render(App);
  await waitFor(() => expect(screen.getByText('Tearoff 1.2.3')).toBeTruthy());
  expect(asked[0]).toBe('painted');
  expect(asked.toSorted()).toEqual(['about', 'desk_state', 'painted']);
});

it('draws no empty desk before it knows what lies on it, and one where nothing does', async () => {
  let answer = (_: null) => {};
  const waiting = new Promise<null>((resolve) => (answer = resolve));
  clearMocks();
  mockIPC((name) => (name === 'desk_state' ? waiting : { name: 'Tearoff', version: '1.2.3' }));
  render(App);
  await waitFor(() => expect(screen.getByText('Tearoff 1.2.3')).toBeTruthy());
  expect(screen.queryByRole('button', { name: /open/i })).toBeNull();
  answer(null);
  expect(await screen.findByRole('button', { name: /open/i })).toBeTruthy();
});

it('says so when the program does not answer', async () => {
  clearMocks();
  mockIPC(() => {
    throw {
      code: 'window',
      message: 'The window did not answer. Nothing was lost.',
      remedy: 'Open it again.',
    };
  });
  render(App);
  await waitFor(() =>
    expect(screen.getByRole('alert').textContent).toContain('Nothing was lost. Open it again.'),
  );
});

it('has no place to go to before a firm is open', async () => {
  render(App);
  expect((await screen.findByRole('heading', { level: 1 })).textContent).toBe('Tearoff');
  expect(screen.queryByRole('link', { name: 'Month end' })).toBeNull();
  await userEvent.keyboard('{Alt>}m{/Alt}');
  expect(location.hash).toBe('');
});

it('goes to every place by its key, and says where it is', async () => {
  program();
  render(App);
  await screen.findByRole('link', { name: 'Month end' });
  for (const [key, word] of [
    ['m', 'Month end'],
    ['h', 'Hand-off'],
    ['r', 'Rates'],
    ['f', 'Firm'],
    ['j', 'Jobs'],
  ]) {
    await userEvent.keyboard(`{Alt>}${key}{/Alt}`);
    await waitFor(() => expect(screen.getByRole('heading', { level: 1 }).textContent).toContain(word));
    expect(screen.getByRole('link', { current: 'page' }).textContent?.trim()).toBe(word);
    expect(document.title).toBe(`${word} · Tearoff`);
    expect(document.activeElement?.tagName).toBe('MAIN');
  }
});

it('lists its keys on ?', async () => {
  program();
  render(App);
  await screen.findByRole('link', { name: 'Month end' });
  await userEvent.keyboard('?');
  await waitFor(() => expect(screen.getByRole('dialog', { name: 'Every key' })).toBeTruthy());
  expect(screen.getByText('Alt+M')).toBeTruthy();
});

// Colors need a real page: the window test looks at those.
it.each([
  ['the frame', App],
  ['every part of the kit', Specimen],
])(
  'has names and roles in order: %s',
  async (_, component) => {
    render(component);
    expect(await faults()).toEqual([]);
  },
  30_000,
);

it('says on every page that the open file is not as it was written, until another one is opened', async () => {
  const unsound = {
    code: 'damaged' as const,
    field: null,
    message: 'This file was read through, and direct_cost, entry A-7, is not as it was written.',
    remedy: 'Restore the last good back-up.',
  };
  program({ exchange_now: { came: 0, last: null, refused: null, unsound } });
  render(App);
  await screen.findByRole('link', { name: 'Month end' });
  expect(screen.queryByText(/entry A-7/)).toBeNull();
  await inTouch.exchange();
  for (const key of ['m', 'f', 'j']) {
    await userEvent.keyboard(`{Alt>}${key}{/Alt}`);
    const told = await screen.findByText(/entry A-7/);
    expect(told.getAttribute('role')).toBe('alert');
    expect(told.textContent).toContain('Restore the last good back-up.');
  }
  program();
  inTouch.forget();
  await waitFor(() => expect(screen.queryByText(/entry A-7/)).toBeNull());
});
