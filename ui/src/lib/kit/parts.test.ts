import { render, screen } from '@testing-library/svelte';
import userEvent from '@testing-library/user-event';
import { createRawSnippet, tick } from 'svelte';
import { afterEach, describe, expect, it, vi } from 'vitest';

import Button from './Button.svelte';
import Dialog from './Dialog.svelte';
import Figure from './Figure.svelte';
import KeyHelp from './KeyHelp.svelte';
import { keyboard } from './keys.svelte';
import Progress from './Progress.svelte';
import { lookOf, STATUS_WORDS } from './status';
import Status from './Status.svelte';
import Toasts from './Toasts.svelte';
import { toasts } from './toasts.svelte';
import VirtualList from './VirtualList.svelte';

const words = (text: string) => createRawSnippet(() => ({ render: () => `<span>${text}</span>` }));

describe('a button', () => {
  it('names its key for those who hear it', () => {
    render(Button, { key: 'Ctrl+S', children: words('Post') });
    expect(screen.getByRole('button', { name: 'Post' }).getAttribute('aria-keyshortcuts')).toBe('Control+S');
  });

  it('can’t be pressed twice while it is at work', async () => {
    const onclick = vi.fn();
    const { rerender } = render(Button, { onclick, children: words('Post') });
    await userEvent.click(screen.getByRole('button'));
    await rerender({ busy: true });
    await userEvent.click(screen.getByRole('button'));
    expect(onclick).toHaveBeenCalledOnce();
    expect(screen.getByRole('button').getAttribute('aria-busy')).toBe('true');
  });
});

describe('a figure', () => {
  const look = { locale: 'en-US' };

  it('opens, and says what it is', async () => {
    const onopen = vi.fn();
    render(Figure, { ...look, name: 'unrecovered', value: '-655.20', onopen });
    const button = screen.getByRole('button', { name: 'unrecovered: minus 655.20. Open' });
    expect(button.textContent).toBe('\u2212655.20');
    await userEvent.click(button);
    expect(onopen).toHaveBeenCalledOnce();
  });

  it('that can’t be opened is no button', () => {
    render(Figure, { ...look, name: 'sold', value: '18420', currency: 'USD' });
    expect(screen.queryByRole('button')).toBeNull();
    expect(screen.getAllByText('$18,420.00')).toHaveLength(2);
  });

  it.each([
    [{ value: '0.8125', percent: true }, '81.3 %'],
    [{ value: '-0.0005', percent: true }, '\u22120.1 %'],
    [{ value: '1', percent: true }, '100.0 %'],
    [{ value: '3', unit: 'sheets' }, '3 sheets'],
    [{ value: '12.5', unit: 'h', change: true }, '+12.5 h'],
    [{ value: '64', change: true }, '+64.00'],
  ])('%j reads %s', (given, text) => {
    render(Figure, { ...look, name: 'x', onopen: () => {}, ...given });
    expect(screen.getByRole('button').textContent).toBe(text);
  });
});

describe('a status', () => {
  it('has a mark of its own shape within each family, and a word', () => {
    for (const family of [
      ['drafted', 'waiting', 'approved', 'declined', 'withdrawn'],
      ['not begun', 'at risk', 'done'],
      ['open', 'overdue', 'paid'],
    ] as const) {
      expect(new Set(family.map((word) => lookOf(word).mark)).size).toBe(family.length);
    }
    for (const word of STATUS_WORDS) {
      const { container, unmount } = render(Status, { word });
      expect(container.querySelector('svg')?.dataset.mark).toBe(lookOf(word).mark);
      expect(container.textContent?.trim()).toBe(word);
      unmount();
    }
  });
});

describe('a dialog', () => {
  it('opens with its title, closes by its button, and tells', async () => {
    const onclose = vi.fn();
    render(Dialog, { open: true, title: 'Close May 2026?', onclose, children: words('Body') });
    await tick();
    expect(screen.getByRole('dialog', { name: 'Close May 2026?' }).hasAttribute('open')).toBe(true);
    await userEvent.click(screen.getByRole('button', { name: 'Go back' }));
    expect(onclose).toHaveBeenCalledOnce();
    expect(screen.queryByText('Body')).toBeNull();
  });

  it('says inside itself what was refused', () => {
    render(Dialog, {
      open: true,
      title: 'Close May 2026?',
      problem: 'A condition has no answer. Settle it first.',
      children: words('Body'),
    });
    expect(screen.getByRole('alert').textContent).toBe('✕ A condition has no answer. Settle it first.');
  });

  it('holds nothing while it is closed', () => {
    render(Dialog, { title: 'Ask', children: words('Body') });
    expect(screen.queryByText('Body')).toBeNull();
  });
});

describe('the toasts', () => {
  afterEach(() => toasts.clear());

  it('say what is done in a live region that was there before, with the way back', async () => {
    const undo = vi.fn();
    render(Toasts);
    const region = screen.getByRole('status');
    toasts.done('Bill posted.', undo);
    await tick();
    expect(region.textContent).toContain('Bill posted.');
    await userEvent.click(screen.getByRole('button', { name: 'Undo' }));
    expect(undo).toHaveBeenCalledOnce();
    expect(region.textContent).not.toContain('Bill posted.');
  });

  it('say a refusal and its remedy at once, until dismissed', async () => {
    render(Toasts);
    toasts.refused('The disk is full.', 'Make room and post it again.');
    await tick();
    expect(screen.getByRole('alert').textContent).toContain('The disk is full. Make room and post it again.');
    await userEvent.click(screen.getByRole('button', { name: 'Dismiss: The disk is full.' }));
    expect(screen.getByRole('alert').textContent?.trim()).toBe('');
  });
});

describe('progress', () => {
  it('says how far, and stops once', async () => {
    const onstop = vi.fn();
    render(Progress, { label: 'Reading', done: 3120, total: 10_000, unit: 'rows', locale: 'en-US', onstop });
    const bar = screen.getByRole('progressbar', { name: 'Reading' });
    expect(bar.getAttribute('aria-valuenow')).toBe('31');
    expect(bar.getAttribute('aria-valuetext')).toBe('3,120 of 10,000 rows');
    expect(screen.getByText('Reading: 30 percent')).toBeTruthy();
    await userEvent.click(screen.getByRole('button', { name: 'Stop' }));
    await userEvent.click(screen.getByRole('button', { name: 'Stopping' }));
    expect(onstop).toHaveBeenCalledOnce();
  });

  it('claims no part of a whole that isn’t known', () => {
    render(Progress, { label: 'Reading', done: 12, locale: 'en-US' });
    expect(screen.getByRole('progressbar').getAttribute('aria-valuenow')).toBeNull();
    expect(screen.queryByRole('button')).toBeNull();
  });
});

describe('a long list', () => {
  const items = Array.from({ length: 4000 }, (_, index) => ({
    id: `j${index}`,
    name: `${'ABCD'[index % 4]}-${index}`,
  }));
  type Item = (typeof items)[number];
  const row = createRawSnippet<[Item, { index: number; active: boolean }]>((item) => ({
    render: () => `<span>${item().name}</span>`,
  }));
  const look = {
    items,
    label: 'Jobs',
    keyOf: (item: Item) => item.id,
    textOf: (item: Item) => item.name,
    row,
  };

  const active = () => {
    const id = screen.getByRole('listbox').getAttribute('aria-activedescendant');
    return id ? document.getElementById(id) : null;
  };

  it('draws only what can be seen, and says how long it is', () => {
    render(VirtualList<Item>, look);
    const options = screen.getAllByRole('option');
    expect(options.length).toBeLessThan(40);
    expect(options[0]?.getAttribute('aria-setsize')).toBe('4000');
  });

  it('is walked by arrows, Home, End, and letters, and opens with Enter', async () => {
    const onopen = vi.fn();
    render(VirtualList<Item>, { ...look, onopen });
    await userEvent.tab();
    await userEvent.keyboard('{ArrowDown}{ArrowDown}');
    expect(active()?.textContent?.trim()).toBe('C-2');
    await userEvent.keyboard('{End}');
    expect(active()?.textContent?.trim()).toBe('D-3999');
    expect(active()?.getAttribute('aria-posinset')).toBe('4000');
    await userEvent.keyboard('b');
    expect(active()?.textContent?.trim()).toBe('B-1');
    await userEvent.keyboard('{Enter}');
    expect(onopen.mock.lastCall).toEqual([items[1], 1]);
    await userEvent.keyboard('{Home}{Enter}');
    expect(onopen.mock.lastCall).toEqual([items[0], 0]);
  });

  it('offers other keys to the page first', async () => {
    const onkey = vi.fn((event: KeyboardEvent) => event.key === 'Delete');
    render(VirtualList<Item>, { ...look, onkey });
    await userEvent.tab();
    await userEvent.keyboard('{ArrowDown}{Delete}');
    expect(onkey.mock.lastCall?.slice(1)).toEqual([items[1], 1]);
  });

  it('leaves a key that the page has a use for to the page', async () => {
    const leave = keyboard.add([{ key: 'c', says: 'Something', where: 'Test', run: () => {} }]);
    render(VirtualList<Item>, look);
    await userEvent.tab();
    await userEvent.keyboard('c');
    expect(active()?.textContent?.trim()).toBe('A-0');
    await userEvent.keyboard('d');
    expect(active()?.textContent?.trim()).toBe('D-3');
    leave();
  });

  it('keeps the keys on a row that is there when rows go', async () => {
    const { rerender } = render(VirtualList<Item>, { ...look, active: 3999 });
    await rerender({ items: items.slice(0, 3) });
    expect(active()?.textContent?.trim()).toBe('C-2');
  });

  it('says what to do when it is empty', () => {
    render(VirtualList<Item>, { ...look, items: [], empty: words('No job yet.') });
    expect(screen.queryByRole('listbox')).toBeNull();
    expect(screen.getByText('No job yet.')).toBeTruthy();
  });
});

it('the key help lists every key there is, and can turn single ones off', async () => {
  const leave = keyboard.add([{ key: 'Alt+J', says: 'Jobs', where: 'Places', run: () => {} }]);
  render(KeyHelp, { open: true });
  await tick();
  expect(screen.getByRole('heading', { name: 'Places' })).toBeTruthy();
  expect(screen.getByText('Alt+J').closest('div')?.textContent).toContain('Jobs');
  expect(screen.getByText('Show this list')).toBeTruthy();
  await userEvent.click(screen.getByRole('checkbox'));
  expect(keyboard.single).toBe(false);
  keyboard.single = true;
  leave();
});
