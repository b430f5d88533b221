/** Papers: asked of the program, which prints them and saves them where the person says. */

import type { Wanted } from '../bindings/Wanted';
import { call, Refused } from '../ipc';
import { toasts } from '../kit';

/** Prints and saves a paper; answers with the refusal, if there was one that is worth saying. */
export async function print(wanted: Wanted): Promise<Refused | undefined> {
  try {
    const saved = await call('print_paper', { wanted });
    toasts.done(`Saved as ${saved.path}`);
    return undefined;
  } catch (error) {
    if (!(error instanceof Refused)) throw error;
    // Whoever closes the dialog knows that nothing was saved.
    return error.code === 'nothing-chosen' ? undefined : error;
  }
}

/** The same for a row of a table: what was refused is said like anything else that could not be done. */
export async function printRow(wanted: Wanted): Promise<void> {
  const refused = await print(wanted);
  if (refused) toasts.refused(refused.message, refused.remedy);
}
