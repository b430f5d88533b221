/** What has just been done, or could not be: said once, with the way back where there is one. */

import { say } from './say.svelte';
export interface Toast {
  id: number;
  tone: 'done' | 'refused';
  text: string;
  /** What to do next, when something was refused. */
  remedy?: string;
  undo?: () => void | Promise<void>;
}

/** How long words without a way back stay, unless someone is reading them. */
const SHOWN_FOR_MS = 8_000;

/** More at once than can be read is noise: the oldest makes room. */
const MOST = 3;

/** More than anyone takes back one by one. */
const MOST_WAYS = 20;

class Toasts {
  #shown = $state.raw<readonly Toast[]>([]);
  /** What can be taken back, newest last: whether its words are still in sight or not. */
  #ways = $state.raw<readonly Toast[]>([]);
  #next = 1;

  get shown(): readonly Toast[] {
    return this.#shown;
  }

  /** What is taken back next. */
  get last(): Toast | undefined {
    return this.#ways.at(-1);
  }

  /** Something is done. With `undo`, it stays until it is taken back, dismissed, or pushed out by newer ones. */
  done(text: string, undo?: () => void | Promise<void>): void {
    const toast: Toast = { id: this.#take(), tone: 'done', text, undo };
    this.#show(toast);
    if (undo) this.#ways = [...this.#ways.slice(1 - MOST_WAYS), toast];
    else setTimeout(() => this.dismiss(toast.id), SHOWN_FOR_MS);
  }

  /** Something could not be done. It stays until it is dismissed. */
  refused(text: string, remedy?: string): void {
    this.#show({ id: this.#take(), tone: 'refused', text, remedy });
  }

  /** Its words go; what they told of can still be taken back. */
  dismiss(id: number): void {
    this.#shown = this.#shown.filter((toast) => toast.id !== id);
  }

  /** Nothing is said any more: what one person entered is not the next one's to take back. */
  clear(): void {
    this.#shown = [];
    this.#ways = [];
  }

  /** Takes back the newest thing that can be. A way back that fails is said, and offered again. */
  async undo(id = this.last?.id): Promise<void> {
    const toast = this.#ways.find((candidate) => candidate.id === id);
    if (!toast?.undo) return;
    this.#ways = this.#ways.filter((way) => way !== toast);
    this.dismiss(toast.id);
    try {
      await toast.undo();
    } catch (error) {
      this.#ways = [...this.#ways, toast];
      this.#show(toast);
      this.refused(
        say('That could not be taken back: {error}', {
          error: error instanceof Error ? error.message : String(error),
        }),
      );
    }
  }

  #take(): number {
    this.#next += 1;
    return this.#next - 1;
  }

  #show(toast: Toast): void {
    this.#shown = [...this.#shown.slice(1 - MOST), toast];
  }
}

export const toasts = new Toasts();
