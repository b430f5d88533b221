import { afterEach, describe, expect, it, vi } from 'vitest';

import { isTyping, keyboard, nameOfKey, type Key } from './keys.svelte';

const entered: (() => void)[] = [];

function enter(key: string, run = vi.fn()) {
  const entry: Key = { key, says: key, where: 'Test', run };
  entered.push(keyboard.add([entry]));
  return run;
}

function press(init: KeyboardEventInit, target: EventTarget = document.body) {
  const event = new KeyboardEvent('keydown', { bubbles: true, cancelable: true, ...init });
  target.addEventListener('keydown', (heard) => keyboard.handle(heard as KeyboardEvent), { once: true });
  target.dispatchEvent(event);
  return event;
}

afterEach(() => {
  entered.splice(0).forEach((leave) => leave());
  keyboard.single = true;
  document.body.innerHTML = '';
});

describe('the name of a key', () => {
  it.each([
    [{ key: '?', shiftKey: true, code: 'Slash' }, '?'],
    [{ key: '1', code: 'Digit1' }, '1'],
    [{ key: 'j', code: 'KeyJ', altKey: true }, 'Alt+J'],
    [{ key: '∆', code: 'KeyJ', altKey: true }, 'Alt+J'],
    [{ key: 'z', code: 'KeyZ', ctrlKey: true }, 'Ctrl+Z'],
    [{ key: 'z', code: 'KeyZ', metaKey: true }, 'Ctrl+Z'],
    [{ key: 'Z', code: 'KeyZ', ctrlKey: true, shiftKey: true }, 'Ctrl+Shift+Z'],
    [{ key: 'Escape', code: 'Escape' }, 'Escape'],
  ])('%j is %s', (init, name) => expect(nameOfKey(new KeyboardEvent('keydown', init))).toBe(name));
});

describe('a pressed key', () => {
  it('does what it is entered for, and nothing after it is taken out', () => {
    const run = enter('?');
    expect(press({ key: '?' }).defaultPrevented).toBe(true);
    expect(run).toHaveBeenCalledOnce();
    entered.splice(0).forEach((leave) => leave());
    expect(press({ key: '?' }).defaultPrevented).toBe(false);
    expect(run).toHaveBeenCalledOnce();
  });

  it('goes to the entry made last', () => {
    const before = enter('1');
    const after = enter('1');
    press({ key: '1' });
    expect(after).toHaveBeenCalledOnce();
    expect(before).not.toHaveBeenCalled();
  });

  it('is writing while someone writes, unless Alt is held', () => {
    document.body.innerHTML = '<input type="text">';
    const input = document.querySelector('input') as HTMLInputElement;
    const bare = enter('1');
    const undo = enter('Ctrl+Z');
    const place = enter('Alt+J');
    press({ key: '1' }, input);
    press({ key: 'z', ctrlKey: true }, input);
    press({ key: 'j', code: 'KeyJ', altKey: true }, input);
    expect(bare).not.toHaveBeenCalled();
    expect(undo).not.toHaveBeenCalled();
    expect(place).toHaveBeenCalledOnce();
  });

  it('does nothing under an open dialog', () => {
    document.body.innerHTML = '<dialog open></dialog>';
    const run = enter('Alt+J');
    press({ key: 'j', code: 'KeyJ', altKey: true });
    expect(run).not.toHaveBeenCalled();
  });

  it('does nothing alone once such keys are turned off, and that is kept', () => {
    const run = enter('1');
    keyboard.single = false;
    press({ key: '1' });
    expect(run).not.toHaveBeenCalled();
    expect(localStorage.getItem('tearoff.single-keys')).toBe('off');
  });
});

it('knows where a press is writing', () => {
  document.body.innerHTML =
    '<input type="checkbox"><input type="text"><select></select><textarea></textarea><button></button>';
  expect([...document.body.children].map(isTyping)).toEqual([false, true, true, true, false]);
  expect(isTyping(null)).toBe(false);
});
