import { render, screen, waitFor } from '@testing-library/svelte';
import { tick } from 'svelte';
import { afterEach, beforeEach, expect, it, vi } from 'vitest';

import { program, refuse } from '../../../tests/program';
import { base64Of } from './attach';
import Photo from './Photo.svelte';

type Hear = (changes: { isIntersecting: boolean; target: Element }[]) => void;

const watched = new Map<Element, Hear>();

beforeEach(() => {
  watched.clear();
  vi.stubGlobal(
    'IntersectionObserver',
    class {
      constructor(private readonly hear: Hear) {}
      observe(element: Element) {
        watched.set(element, this.hear);
      }
      disconnect() {
        for (const [element, hear] of watched) if (hear === this.hear) watched.delete(element);
      }
    },
  );
});

afterEach(() => {
  vi.unstubAllGlobals();
});

function comesNear(element: Element | undefined) {
  if (element) watched.get(element)?.([{ isIntersecting: true, target: element }]);
}

it('of thirty photos only those are fetched that come near to being seen, and each once', async () => {
  const stands = program();
  for (let number = 1; number <= 30; number += 1)
    render(Photo, { hash: String(number).padStart(64, '0'), alt: `Photo ${number}` });
  await tick();
  expect(watched.size).toBe(30);
  expect(stands.count('attachment')).toBe(0);
  const [first, second] = [...watched.keys()];
  comesNear(first);
  comesNear(second);
  await waitFor(() => expect(screen.getAllByRole('img').length).toBe(2));
  expect(stands.count('attachment')).toBe(2);
  expect(watched.size).toBe(28);
  // Small, and with what lets the browser leave it until it is seen.
  expect(stands.last('attachment')).toEqual({ hash: '2'.padStart(64, '0'), preview: true });
  expect(screen.getByRole('img', { name: 'Photo 1' }).getAttribute('loading')).toBe('lazy');
});

it('a whole picture is asked for whole, and one that cannot be had says why', async () => {
  const stands = program({ attachment: () => refuse('The photo is not beside the file.') });
  render(Photo, { hash: 'ab'.repeat(32), alt: 'What was found', size: 'whole' });
  await tick();
  comesNear([...watched.keys()][0]);
  expect(await screen.findByText('The photo is not beside the file.')).toBeTruthy();
  expect(stands.last('attachment')).toEqual({ hash: 'ab'.repeat(32), preview: false });
});

it('nothing is watched any more once the page is gone', async () => {
  program();
  const { unmount } = render(Photo, { hash: 'ab'.repeat(32), alt: 'Photo' });
  await tick();
  expect(watched.size).toBe(1);
  unmount();
  expect(watched.size).toBe(0);
});

it('a file is turned into base64 without any byte lost', async () => {
  const bytes = Uint8Array.from({ length: 70_000 }, (_, index) => (index * 7) % 256);
  const text = await base64Of(new Blob([bytes], { type: 'image/jpeg' }));
  expect(Uint8Array.from(atob(text), (letter) => letter.charCodeAt(0))).toEqual(bytes);
  expect(await base64Of(new Blob([]))).toBe('');
});
