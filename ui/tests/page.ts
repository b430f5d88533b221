/** The eyes and hands of a test of a page. What every test begins and ends with stands in `src/test-setup.ts`. */

import { screen } from '@testing-library/svelte';
import userEvent from '@testing-library/user-event';
import axe from 'axe-core';
import { afterEach, beforeEach } from 'vitest';

import { keyboard } from '../src/lib/kit';

/** How long a look over a whole page may take. */
export const A_LOOK = 30_000;

/**
 * What the checker of accessibility finds. Colors need a real page: the window's cases look at those. Rules that are
 * the frame's and not the part's are named by the test.
 */
export async function faults(...frame: string[]): Promise<string[]> {
  const rules = Object.fromEntries(['color-contrast', ...frame].map((rule) => [rule, { enabled: false }]));
  const { violations } = await axe.run(document.body, { rules });
  return violations.map(
    ({ id, nodes }) => `${id}: ${nodes.map((node) => node.html.slice(0, 160)).join(' ')}`,
  );
}

/** Where the window puts its pages. */
export const main = () => document.body.appendChild(document.createElement('main'));

export const press = async (name: string | RegExp) =>
  userEvent.click(await screen.findByRole('button', { name }));

/** The keys go to the page, as the frame has it; and jsdom, which lays nothing out, has nowhere to scroll to. */
export function hearKeys(): void {
  const listen = (event: KeyboardEvent) => keyboard.handle(event);
  beforeEach(() => {
    window.addEventListener('keydown', listen);
    Element.prototype.scrollIntoView = () => undefined;
  });
  afterEach(() => window.removeEventListener('keydown', listen));
}
