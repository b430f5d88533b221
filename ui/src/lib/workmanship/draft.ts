/** Recording what was typed about the work: a draft that survives a kill, and one fact or several when it is ready. */

import { DraftKeeper, type Kept } from '../entry/drafts';
import type { Values } from '../entry/form';
import { call, Refused, type FactForm } from '../ipc';
import { toasts } from '../kit';
import { tried } from '../start/desk.svelte';

export class WorkDraft {
  readonly #keeper: DraftKeeper;

  /** `part` is what of the job it is about, where there may be several at once. */
  constructor(kind: string, job: string, part = '') {
    this.#keeper = new DraftKeeper(kind, part === '' ? job : `${job} ${part}`, job);
  }

  find(): Promise<Kept | undefined> {
    return tried(() => this.#keeper.find());
  }

  keep(values: Values, ids: readonly string[]) {
    this.#keeper.later(values, [...ids], (error) => {
      if (error instanceof Refused) toasts.refused(error.message, error.remedy);
    });
  }

  drop(): Promise<void> {
    return this.#keeper.drop();
  }

  /** Records it and throws the draft away. Answers why not, where it was refused; the draft stays then. */
  async record(facts: FactForm[]): Promise<string> {
    try {
      await call('record', { facts });
      await this.#keeper.drop();
      return '';
    } catch (error) {
      if (!(error instanceof Refused)) throw error;
      return `${error.message} ${error.remedy}`;
    }
  }
}

/** Says what was recorded, and takes it back where asked, last fact first. */
export function recorded(says: string, ids: readonly string[], onchanged: () => Promise<void>) {
  toasts.done(says, async () => {
    for (const id of [...ids].reverse()) await call('reverse', { id, reason: 'Recorded by mistake' });
    await onchanged();
  });
}
