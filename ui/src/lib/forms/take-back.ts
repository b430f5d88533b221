/** Undo: what was just recorded is canceled by reversals, last fact first, since later ones rest on earlier ones. */

import { say } from '../kit/say.svelte';
import { call } from '../ipc';
import { toasts } from '../kit';

const REASON = 'Taken back right after it was entered.';

export async function takeBack(ids: readonly string[], reason = REASON): Promise<void> {
  for (const id of [...ids].reverse()) await call('reverse', { id, reason });
}

/** Says what was recorded, and offers to take it back; `then` the page is to be read again. */
export function recorded(says: string, ids: readonly string[], then: () => unknown, reason = REASON) {
  toasts.done(says, async () => {
    await takeBack(ids, reason);
    toasts.done(say('Taken back: {says}', { says }));
    await then();
  });
}
