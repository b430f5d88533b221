/**
 * The estimate on the table: as typed, as last calculated, and its draft. Each settled change asks the program for all
 * figures anew; an answer to an older question is dropped, and the last good figures stand until a new one is there.
 */

import type { Acceptance } from '../bindings/Acceptance';
import type { Accepted } from '../bindings/Accepted';
import type { Estimate } from '../bindings/Estimate';
import type { Measured } from '../bindings/Measured';
import type { Calculated } from '../bindings/Calculated';
import type { Roof } from '../bindings/Roof';
import { Draft, isDrafted } from '../forms/draft';
import { call, Refused } from '../ipc';

/** How long typing may rest before the figures are asked for. */
export const SETTLE_MS = 150;

const KIND = 'estimate';

interface Body {
  estimate: Estimate;
}

function bodyOf({ estimate }: Partial<Body>): Body | undefined {
  return typeof estimate === 'object' && estimate !== null ? { estimate } : undefined;
}

export class Work {
  readonly job: string;
  estimate = $state.raw<Estimate>();
  calculated = $state.raw<Calculated>();
  /** A new answer is awaited: the figures shown are of the estimate as it was. */
  waiting = $state(false);
  /** What the program said instead of an answer. */
  problem = $state('');
  /** When the draft that was found had been left. */
  resumed = $state<string>();
  /** Why the draft is not kept, where it is not. */
  unsaved = $state('');

  readonly #draft: Draft<Body>;
  #asked = 0;
  #settle: ReturnType<typeof setTimeout> | undefined;
  #waiters: (() => void)[] = [];

  constructor(job: string) {
    this.job = job;
    this.#draft = new Draft(KIND, job, bodyOf);
  }

  /** Takes up the draft that was left, or begins anew. */
  async open(): Promise<void> {
    try {
      const left = await this.#draft.find();
      if (left) {
        this.resumed = left.at;
        this.estimate = left.body.estimate;
      } else this.estimate = await call('begin_estimate', { job: this.job });
      await this.#calculate();
    } catch (error) {
      this.problem = words(error);
    }
  }

  /** Sets the estimate as it now is. */
  set(next: Estimate): void {
    this.estimate = next;
    this.waiting = true;
    this.#asked += 1;
    clearTimeout(this.#settle);
    this.#settle = setTimeout(() => void this.#calculate(), SETTLE_MS);
    this.#draft.later({ estimate: next }, (error) => this.#saved(error));
  }

  change(change: Partial<Estimate>): void {
    if (this.estimate) this.set({ ...this.estimate, ...change });
  }

  async #calculate(): Promise<void> {
    clearTimeout(this.#settle);
    const estimate = this.estimate;
    if (!estimate) return;
    this.#asked += 1;
    const mine = this.#asked;
    this.waiting = true;
    try {
      const answer = await call('calculate_estimate', { job: this.job, estimate });
      if (mine !== this.#asked) return;
      // A roof that can't be measured as it is drawn just now leaves no figures: the last good ones stay to be read.
      this.calculated =
        answer.measured || !this.calculated?.measured
          ? answer
          : { ...this.calculated, problems: answer.problems };
      this.problem = '';
    } catch (error) {
      if (mine !== this.#asked) return;
      this.problem = words(error);
    }
    this.waiting = false;
    for (const wake of this.#waiters.splice(0)) wake();
  }

  /** The measures of the roof as it now is, once they are there. Rejects with the reason why there are none. */
  async measured(_: Roof): Promise<Measured> {
    while (this.waiting) await new Promise<void>((wake) => this.#waiters.push(wake));
    if (this.problem) throw new Error(this.problem);
    const { measured, problems } = this.calculated ?? {};
    // What is wrong with the drawing is listed beside it, and need not be said twice.
    if (!measured || problems?.length) throw new Error('');
    return measured;
  }

  /** Saves what still waits, at once. */
  async keep(): Promise<void> {
    await this.#draft.now().then(
      () => this.#saved(),
      (error: unknown) => this.#saved(error),
    );
  }

  #saved(error?: unknown) {
    this.unsaved = error === undefined ? '' : words(error);
  }

  /** Throws the draft away and begins anew. */
  async anew(): Promise<void> {
    await this.#draft.drop();
    this.resumed = undefined;
    this.calculated = undefined;
    await this.open();
  }

  /** Turns a choice into the contract, and lets the draft go. */
  async accept(acceptance: Acceptance): Promise<Accepted> {
    const accepted = await call('accept_estimate', {
      job: this.job,
      estimate: this.estimate as Estimate,
      acceptance,
    });
    await this.#draft.drop();
    return accepted;
  }

  /** The page is left: what still waits is saved. */
  leave(): void {
    clearTimeout(this.#settle);
    this.#asked += 1;
    void this.keep();
  }
}

function words(error: unknown): string {
  if (error instanceof Refused) return `${error.message} ${error.remedy}`.trim();
  throw error;
}

/** Whether an estimate of this job is being worked on. */
export function draftedEstimate(job: string): Promise<boolean> {
  return isDrafted(KIND, job);
}
