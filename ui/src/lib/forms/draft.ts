/** The draft of what is typed: saved a moment after each change, found again later, gone when it is recorded. */

import { call } from '../ipc';
import type { Values } from './spec';

/** How long typing may rest before it is saved. */
export const REST_MS = 400;

/** What a form keeps. */
export interface Typed {
  values: Values;
  /** The ids that its facts will have. */
  ids: string[];
}

/** Takes a form's draft for what it is, or for none. */
export function typedIn(body: Partial<Typed>): Typed | undefined {
  const { values, ids } = body;
  return typeof values === 'object' && Array.isArray(ids) ? { values, ids } : undefined;
}

/** The kinds of form that hold a draft standing on a job. */
export async function draftedOn(job: string): Promise<ReadonlySet<string>> {
  const drafts = await call('drafts', {});
  return new Set(drafts.filter((draft) => onOf(draft.body) === job).map((draft) => draft.kind));
}

/** Whether there is a draft of this kind standing on a job. */
export async function isDrafted(kind: string, on: string): Promise<boolean> {
  return (await call('drafts', { kind })).some((draft) => onOf(draft.body) === on);
}

/** What a draft stands on: a job's number, a part of a job, or nothing. */
function onOf(body: unknown): string | undefined {
  if (typeof body !== 'object' || body === null) return undefined;
  const { on } = body as { on?: unknown };
  return typeof on === 'string' ? on : undefined;
}

export class Draft<Body extends object> {
  readonly #kind: string;
  readonly #on: string;
  readonly #job: string;
  readonly #read: (body: Partial<Body>) => Body | undefined;
  #id: string | undefined;
  #timer: ReturnType<typeof setTimeout> | undefined;
  #waiting: Body | undefined;
  /** Counts the times it was thrown away: what was not saved before that is not wanted any more. */
  #turn = 0;
  #saving: Promise<void> = Promise.resolve();

  /**
   * `on` is what it stands on; `job` its job's number, where that is something else. `read` takes what was kept, which
   * may be of another day, for what it is.
   */
  constructor(kind: string, on: string, read: (body: Partial<Body>) => Body | undefined, job = on) {
    this.#kind = kind;
    this.#on = on;
    this.#read = read;
    this.#job = job;
  }

  /** The draft that was left here, if any, and when it was last saved. */
  async find(): Promise<{ body: Body; at: string } | undefined> {
    for (const draft of await call('drafts', { kind: this.#kind })) {
      const body = onOf(draft.body) === this.#on ? this.#read(draft.body as Partial<Body>) : undefined;
      if (!body) continue;
      this.#id = draft.id;
      return { body, at: draft.changed_at };
    }
    return undefined;
  }

  /** Saves what is typed once typing rests. How that went is told to `done`; what failed waits for the next time. */
  later(body: Body, done: (error?: unknown) => void) {
    this.#waiting = body;
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => void this.now().then(() => done(), done), REST_MS);
  }

  /** Saves what still waits, at once. */
  async now(): Promise<void> {
    clearTimeout(this.#timer);
    const waiting = this.#waiting;
    this.#waiting = undefined;
    const turn = this.#turn;
    if (waiting) this.#saving = this.#saving.catch(() => undefined).then(() => this.#save(waiting, turn));
    await this.#saving;
  }

  async #save(waiting: Body, turn: number) {
    if (turn !== this.#turn) return;
    const body = { on: this.#on, ...waiting };
    const job = this.#job === '' ? null : this.#job;
    try {
      this.#id = await call('save_draft', { id: this.#id ?? null, kind: this.#kind, job, body });
    } catch (error) {
      if (turn === this.#turn) this.#waiting ??= waiting;
      throw error;
    }
  }

  /** Throws the draft away: it has become facts, or is not wanted. */
  async drop(): Promise<void> {
    clearTimeout(this.#timer);
    this.#waiting = undefined;
    this.#turn += 1;
    this.#saving = this.#saving.catch(() => undefined).then(() => this.#delete());
    await this.#saving;
  }

  async #delete() {
    const id = this.#id;
    this.#id = undefined;
    if (id !== undefined) await call('delete_draft', { id });
  }
}
