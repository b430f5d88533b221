/** Undo: what was just recorded is canceled by reversals, last fact first, since later ones rest on earlier ones. */

import { call } from '../ipc';

export const REASON = 'Taken back right after it was entered.';

export async function takeBack(ids: readonly string[], reason: string = REASON): Promise<void> {
  for (const id of [...ids].reverse()) await call('reverse', { id, reason });
}
