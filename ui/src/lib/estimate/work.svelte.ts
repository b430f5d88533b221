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
import { resource } from '../kit/resource.svelte';

/** How long typing may rest before the figures are asked for. */
export const SETTLE_MS = 150;

const KIND = 'estimate';

interface Body {
  estimate: Estimate;
}

interface Figures {
  calculated: Calculated | undefined;
  /** What the program said instead of an answer. */
  problem: string;
}

function bodyOf({ estimate }: Partial<Body>): Body | undefined {
  return typeof estimate === 'object' && estimate !== null ? { estimate } : undefined;
}

export class Work {
  readonly job: string;
  estimate = $state.raw<Estimate>();
  /** When the draft that was found had been left. */
  resumed = $state<string>();
  /** Why the draft is not kept, where it is not. */
  unsaved = $state('');

  readonly #figures = resource<Figures>();
  readonly #draft: Draft<Body>;

  constructor(job: string) {
    this.job = job;
    this.#draft = new Draft(KIND, job, bodyOf);
  }

  get calculated(): Calculated | undefined {
    return this.#figures.value?.calculated;
  }

  /** What the program said instead of an answer. */
  get problem(): string {
    return this.#figures.value?.problem ?? '';
  }

  /** A new answer is awaited: the figures shown are of the estimate as it was. */
  get waiting(): boolean {
    return this.#figures.waiting;
  }

  /** Takes up the draft that was left, or begins anew. */
  async open(): Promise<void> {
    await this.#figures.read(() => this.#answered(async () => this.#calculate(await this.#begin())));
  }

  async #begin(): Promise<Estimate> {
    const left = await this.#draft.find();
    this.resumed = left?.at;
    this.estimate = left?.body.estimate ?? (await call('begin_estimate', { job: this.job }));
    return this.estimate;
  }

  /** Sets the estimate as it now is. */
  set(next: Estimate): void {
    this.estimate = next;
    this.#figures.soon(SETTLE_MS, () => this.#answered(() => this.#calculate(next)));
    this.#draft.later({ estimate: next }, (error) => this.#saved(error));
  }

  change(change: Partial<Estimate>): void {
    if (this.estimate) this.set({ ...this.estimate, ...change });
  }

  async #calculate(estimate: Estimate): Promise<Calculated> {
    const answer = await call('calculate_estimate', { job: this.job, estimate });
    // A roof that can't be measured as it is drawn just now leaves no figures: the last good ones stay to be read.
    return answer.measured || !this.calculated?.measured
      ? answer
      : { ...this.calculated, problems: answer.problems };
  }

  /** A refusal is an answer, too: the figures stay as they were. */
  async #answered(ask: () => Promise<Calculated>): Promise<Figures> {
    try {
      return { calculated: await ask(), problem: '' };
    } catch (error) {
      return { calculated: this.calculated, problem: words(error) };
    }
  }

  /** The measures of the roof as it now is, once they are there. Rejects with the reason why there are none. */
  async measured(_: Roof): Promise<Measured> {
    await this.#figures.settled();
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
    this.#figures.clear();
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
    this.#figures.drop();
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
