/** The draft of one form: saved a moment after each change, found again when the form is opened, gone when recorded. */

import { call } from '../ipc';
import type { Values } from './form';

/** How long typing may rest before it is saved. */
export const REST_MS = 400;

export interface Kept {
  values: Values;
  /** The ids that its facts will have. */
  ids: string[];
  /** When it was last saved. */
  at: string;
}

/** The kinds of form that hold a draft standing on a job. */
export async function draftedOn(job: string): Promise<ReadonlySet<string>> {
  const drafts = await call('drafts', {});
  return new Set(drafts.filter((draft) => bodyOf(draft.body)?.on === job).map((draft) => draft.kind));
}

interface Body {
  /** What the form stands on: a job's number, a part of a job, or nothing. */
  on: string;
  values: Values;
  ids: string[];
}

export class DraftKeeper {
  readonly #kind: string;
  readonly #on: string;
  readonly #job: string;
  #id: string | undefined;
  #timer: ReturnType<typeof setTimeout> | undefined;
  #waiting: Omit<Body, 'on'> | undefined;
  #saving: Promise<void> = Promise.resolve();

  /** `on` is what the form stands on; `job` its job's number, where that is something else. */
  constructor(kind: string, on: string, job = on) {
    this.#kind = kind;
    this.#on = on;
    this.#job = job;
  }

  /** The draft that was left here, if any. */
  async find(): Promise<Kept | undefined> {
    const drafts = await call('drafts', { kind: this.#kind });
    for (const draft of drafts) {
      const body = bodyOf(draft.body);
      if (body?.on !== this.#on) continue;
      this.#id = draft.id;
      return { values: body.values, ids: body.ids, at: draft.changed_at };
    }
    return undefined;
  }

  /** Saves what is typed once typing rests. A save that fails is told to `failed`; the form keeps what it holds. */
  later(values: Values, ids: string[], failed: (error: unknown) => void) {
    this.#waiting = { values, ids };
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => void this.now().catch(failed), REST_MS);
  }

  /** Saves what still waits, at once. */
  async now(): Promise<void> {
    clearTimeout(this.#timer);
    const waiting = this.#waiting;
    this.#waiting = undefined;
    if (waiting) this.#saving = this.#saving.catch(() => undefined).then(() => this.#save(waiting));
    await this.#saving;
  }

  async #save(waiting: Omit<Body, 'on'>) {
    const body: Body = { on: this.#on, ...waiting };
    const job = this.#job === '' ? null : this.#job;
    this.#id = await call('save_draft', { id: this.#id ?? null, kind: this.#kind, job, body });
  }

  /** Throws the draft away: it has become facts, or is not wanted. */
  async drop(): Promise<void> {
    clearTimeout(this.#timer);
    this.#waiting = undefined;
    await this.#saving.catch(() => undefined);
    const id = this.#id;
    this.#id = undefined;
    if (id !== undefined) await call('delete_draft', { id });
  }
}

function bodyOf(body: unknown): Body | undefined {
  if (typeof body !== 'object' || body === null) return undefined;
  const { on, values, ids } = body as Partial<Body>;
  if (typeof on !== 'string' || typeof values !== 'object' || !Array.isArray(ids)) return undefined;
  return { on, values, ids };
}
