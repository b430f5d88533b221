/** Asks the program what a form wants to know, once typing rests. An answer that comes too late is dropped. */

import type { Question, Values } from './spec';

/** How long typing may rest before the program is asked. */
export const ASK_MS = 150;

export class Asker {
  readonly #fill: (answer: (values: Values) => void) => void;
  readonly #failed: (error: unknown) => void;
  #answered = '';
  #waiting: Question | undefined;
  #timer: ReturnType<typeof setTimeout> | undefined;
  #turn = 0;
  #running: Promise<void> = Promise.resolve();

  constructor(fill: (answer: (values: Values) => void) => void, failed: (error: unknown) => void) {
    this.#fill = fill;
    this.#failed = failed;
  }

  /** The question as the form stands now. */
  later(question: Question | undefined) {
    clearTimeout(this.#timer);
    // Whatever is under way answers a form that is no longer so.
    this.#turn += 1;
    // Once nothing is asked, the same question asks anew.
    if (!question) this.#answered = '';
    this.#waiting = question && question.key !== this.#answered ? question : undefined;
    if (this.#waiting) this.#timer = setTimeout(() => void this.now(), ASK_MS);
  }

  /** The form comes back as it was left: what may have been changed by hand since is not asked again. */
  restored(question: Question | undefined) {
    if (question?.byHand) this.#answered = question.key;
    this.later(question);
  }

  /** Asks what still waits, and waits for the answer. */
  async now(): Promise<void> {
    clearTimeout(this.#timer);
    const question = this.#waiting;
    this.#waiting = undefined;
    if (question) this.#running = this.#ask(question, this.#turn);
    await this.#running;
  }

  async #ask(question: Question, turn: number) {
    try {
      const answer = await question.ask();
      if (turn !== this.#turn) return;
      this.#answered = question.key;
      this.#fill(answer);
    } catch (error) {
      if (turn === this.#turn) this.#failed(error);
    }
  }

  stop() {
    clearTimeout(this.#timer);
    this.#turn += 1;
    this.#waiting = undefined;
  }
}
