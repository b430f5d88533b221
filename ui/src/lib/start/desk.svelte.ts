/** What lies on the desk and who sits at it, kept once for every page. The program is asked; nothing is guessed. */

import { call, Refused, type DeskState } from '../ipc';
import { toasts } from '../kit';
import { told } from '../kit/say.svelte';

class AtDesk {
  #state = $state.raw<DeskState>();

  /** Undefined until the program has answered for the first time. */
  get state(): DeskState | undefined {
    return this.#state;
  }

  get open(): boolean {
    return Boolean(this.#state?.file);
  }

  get role(): 'owner' | 'crew' | 'books' | undefined {
    return this.#state?.person?.role;
  }

  /** Takes over what a command answered. */
  set(state: DeskState | null | undefined): void {
    if (!state) return;
    const before = this.#state?.person?.id;
    if (before !== undefined && before !== state.person?.id) toasts.clear();
    this.#state = state;
    // A file given to the program from outside could not be opened: nobody pressed anything here to hear of it.
    if (state.said) toasts.refused(state.said.message, state.said.remedy);
  }

  /** Nothing is known any more: for the start of a test. */
  forget(): void {
    this.#state = undefined;
  }

  /** Asks again: after a fact was recorded, a month closed or a copy made. */
  async refresh(): Promise<void> {
    this.set(await call('desk_state'));
  }
}

export const desk = new AtDesk();

/** The code of a refusal that is none: the person closed a dialog without choosing. There is nothing to say then. */
export const NOTHING_CHOSEN = 'nothing-chosen';

/** Does it, or says why not. Answers undefined when it was refused. */
export async function tried<T>(work: () => Promise<T>): Promise<T | undefined> {
  try {
    return await work();
  } catch (error) {
    if (!(error instanceof Refused)) throw error;
    if (error.code === NOTHING_CHOSEN) return undefined;
    toasts.refused(told(error.message), told(error.remedy));
    return undefined;
  }
}
