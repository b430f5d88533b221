/**
 * The estimate on the table: as typed, as last calculated, and its draft. Each settled change asks the program for all
 * figures anew; an answer to an older question is dropped, and the last good figures stand until a new one is there.
 */

import type { Acceptance } from '../bindings/Acceptance';
import type { Accepted } from '../bindings/Accepted';
import type { DraftView } from '../bindings/DraftView';
import type { Estimate } from '../bindings/Estimate';
import type { Measured } from '../bindings/Measured';
import type { Calculated } from '../bindings/Calculated';
import type { Roof } from '../bindings/Roof';
import { call, Refused } from '../ipc';
import { resource } from '../kit/resource.svelte';

/** How long typing may rest before the figures are asked for. */
export const SETTLE_MS = 150;

/** How long it may rest before the draft is saved. */
export const SAVE_MS = 400;

const KIND = 'estimate';

interface Body {
  /** The job's number. */
  on: string;
  estimate: Estimate;
}

interface Figures {
  calculated: Calculated | undefined;
  /** What the program said instead of an answer. */
  problem: string;
}

export class Work {
  readonly job: string;
  estimate = $state.raw<Estimate>();
  /** When the draft that was found had been left. */
  resumed = $state<string>();
  /** Why the draft is not kept, where it is not. */
  unsaved = $state('');

  readonly #figures = resource<Figures>();
  #draft: string | undefined;
  #save: ReturnType<typeof setTimeout> | undefined;
  #dirty = false;
  #saving: Promise<void> = Promise.resolve();

  constructor(job: string) {
    this.job = job;
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
    const left = (await call('drafts', { kind: KIND })).find((draft) => bodyOf(draft)?.on === this.job);
    const body = left && bodyOf(left);
    if (left && body) {
      this.#draft = left.id;
      this.resumed = left.changed_at;
      this.estimate = body.estimate;
    } else this.estimate = await call('begin_estimate', { job: this.job });
    return this.estimate;
  }

  /** Sets the estimate as it now is. */
  set(next: Estimate): void {
    this.estimate = next;
    this.#figures.soon(SETTLE_MS, () => this.#answered(() => this.#calculate(next)));
    this.#dirty = true;
    clearTimeout(this.#save);
    this.#save = setTimeout(() => void this.keep(), SAVE_MS);
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
    clearTimeout(this.#save);
    if (this.#dirty) {
      this.#dirty = false;
      this.#saving = this.#saving.then(() => this.#write());
    }
    await this.#saving;
  }

  async #write(): Promise<void> {
    const body: Body = { on: this.job, estimate: this.estimate as Estimate };
    try {
      this.#draft = await call('save_draft', { id: this.#draft ?? null, kind: KIND, job: this.job, body });
      this.unsaved = '';
    } catch (error) {
      this.#dirty = true;
      this.unsaved = words(error);
    }
  }

  /** Throws the draft away and begins anew. */
  async anew(): Promise<void> {
    await this.drop();
    this.resumed = undefined;
    this.#figures.clear();
    await this.open();
  }

  async drop(): Promise<void> {
    clearTimeout(this.#save);
    this.#dirty = false;
    await this.#saving;
    const id = this.#draft;
    this.#draft = undefined;
    if (id !== undefined) await call('delete_draft', { id });
  }

  /** Turns a choice into the contract, and lets the draft go. */
  async accept(acceptance: Acceptance): Promise<Accepted> {
    const accepted = await call('accept_estimate', {
      job: this.job,
      estimate: this.estimate as Estimate,
      acceptance,
    });
    await this.drop();
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

function bodyOf(draft: DraftView): Body | undefined {
  if (typeof draft.body !== 'object' || draft.body === null) return undefined;
  const { on, estimate } = draft.body as Partial<Body>;
  return typeof on === 'string' && typeof estimate === 'object' && estimate !== null
    ? { on, estimate }
    : undefined;
}

/** Whether an estimate of this job is being worked on. */
export async function draftedEstimate(job: string): Promise<boolean> {
  return (await call('drafts', { kind: KIND })).some((draft) => bodyOf(draft)?.on === job);
}
