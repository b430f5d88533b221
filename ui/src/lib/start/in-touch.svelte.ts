/** How this device stands with the firm's others: asked every few seconds, since the program exchanges by itself. */

import type { Exchanged } from '../bindings/Exchanged';
import type { InTouchView } from '../bindings/InTouchView';
import type { Refusal } from '../bindings/Refusal';
import { call, Refused } from '../ipc';
import { desk } from './desk.svelte';

const EVERY_MS = 3000;

class InTouch {
  #view = $state.raw<InTouchView>();

  /** Goes up with everything that came: a page that reads it is read again. */
  get came(): number {
    return this.#view?.came ?? 0;
  }

  get last(): Exchanged | null {
    return this.#view?.last ?? null;
  }

  /** Why there was no exchange, where it is not only off line. */
  get refused(): Refusal | null {
    return this.#view?.refused ?? null;
  }

  /** Why this file is to get new letters: another one was written under its own. */
  get parted(): string | null {
    const refused = this.refused;
    if (refused?.field === 'device') return `${refused.message} ${refused.remedy}`;
    return this.last?.parted ?? null;
  }

  /** What is wrong with the open file, once it was read through. */
  get unsound(): Refusal | null {
    return this.#view?.unsound ?? null;
  }

  /** Exchanges now. */
  async exchange(): Promise<InTouchView> {
    return this.#take(await call('exchange_now'));
  }

  /** Looks now and then, as long as a file is open. Answers what ends it. */
  watch(): () => void {
    const timer = setInterval(() => void this.#look(), EVERY_MS);
    return () => clearInterval(timer);
  }

  /** Nothing is known any more: another file lies on the desk. */
  forget(): void {
    this.#view = undefined;
  }

  async #look(): Promise<void> {
    try {
      const before = this.came;
      this.#take(await call('in_touch'));
      // Who works here may have come with it, and the firm's name.
      if (this.came !== before) await desk.refresh();
    } catch (error) {
      // The file was closed meanwhile: there is nothing to look at.
      if (!(error instanceof Refused)) throw error;
    }
  }

  #take(view: InTouchView): InTouchView {
    this.#view = view;
    return view;
  }
}

export const inTouch = new InTouch();
