/**
 * Every key that does something is entered here with the words that say what it does, so that the list shown by `?`
 * is always true. Keys without Ctrl or Alt can be turned off, for people who dictate or brush keys by accident.
 */

import { untrack } from 'svelte';

export interface Key {
  /** As written in the list: `?`, `1`, `Alt+J`, `Ctrl+Z`, `Escape`. On a Mac, Ctrl also answers to the command key. */
  key: string;
  /** What it does: a few plain words. */
  says: string;
  /** The heading under which it is listed. */
  where: string;
  run: () => void;
}

const SETTING = 'tearoff.single-keys';

class Keyboard {
  /**
   * The truth, kept apart from what is drawn: an effect that is being taken down sees its signals as they were before,
   * and would put an old list back over what has been added since.
   */
  #list: readonly Key[] = [];
  #entries = $state.raw<readonly Key[]>([]);
  #single = $state(remembered());

  /** Those that work now, in the order in which they were entered. */
  get entries(): readonly Key[] {
    return this.#entries;
  }

  /** Whether keys without Ctrl or Alt do anything. */
  get single(): boolean {
    return this.#single;
  }

  set single(on: boolean) {
    this.#single = on;
    try {
      localStorage.setItem(SETTING, on ? 'on' : 'off');
    } catch {
      // Without storage the choice holds until the window is closed.
    }
  }

  /** Enters keys; call what it returns to take them out again. A later entry of the same key goes before an earlier. */
  add(keys: readonly Key[]): () => void {
    this.#set([...this.#list, ...keys]);
    return () => this.#set(this.#list.filter((entry) => !keys.includes(entry)));
  }

  #set(list: readonly Key[]): void {
    this.#list = list;
    untrack(() => (this.#entries = list));
  }

  /** Does what the pressed key says, if anything. Bound once, to the window. */
  handle(event: KeyboardEvent): void {
    if (event.defaultPrevented || event.isComposing || document.querySelector('dialog[open]')) return;
    const pressed = nameOfKey(event);
    const bare = !pressed.includes('+') || pressed === '+';
    if (bare && (!this.#single || isTyping(event.target))) return;
    if (pressed === 'Ctrl+Z' && isTyping(event.target)) return;
    const entry = this.#list.findLast((candidate) => candidate.key === pressed);
    if (!entry) return;
    event.preventDefault();
    entry.run();
  }
}

/** The key as the list writes it. Letters with Alt are taken by their place: a Mac's Alt+J types another sign. */
export function nameOfKey(event: KeyboardEvent): string {
  const letter = /^Key([A-Z])$/.exec(event.code)?.[1];
  const modified = event.altKey || event.ctrlKey || event.metaKey;
  if (!modified) return event.key;
  const name = event.altKey && letter ? letter : event.key.length === 1 ? event.key.toUpperCase() : event.key;
  const held = [
    event.ctrlKey || event.metaKey ? 'Ctrl' : '',
    event.altKey ? 'Alt' : '',
    event.shiftKey ? 'Shift' : '',
  ];
  return [...held.filter(Boolean), name].join('+');
}

/** Whether what is pressed there is writing, and not a command. */
export function isTyping(target: EventTarget | null): boolean {
  if (!(target instanceof HTMLElement)) return false;
  if (target.isContentEditable || target.matches('textarea, select')) return true;
  return target.matches('input:not([type=checkbox]):not([type=radio]):not([type=button])');
}

function remembered(): boolean {
  try {
    return localStorage.getItem(SETTING) !== 'off';
  } catch {
    return true;
  }
}

export const keyboard = new Keyboard();
