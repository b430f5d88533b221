/** Recording from a form of the Rates and Firm pages: what was refused comes back in words. */

import type { FactForm } from '../facts';
import { call, Refused } from '../ipc';

/** Records facts. Answers what was refused, with what to do, and its field; nothing when they are in. */
export async function keep(
  facts: readonly FactForm[],
): Promise<{ said: string; field: string | null } | undefined> {
  try {
    await call('record', { facts: [...facts] });
    return undefined;
  } catch (error) {
    if (!(error instanceof Refused)) throw error;
    return { said: `${error.message} ${error.remedy}`, field: error.field };
  }
}

/** The fields of a form that are needed and empty, each with what to do. */
export function empty(
  values: Record<string, string>,
  needed: Record<string, string>,
): Record<string, string> {
  return Object.fromEntries(
    Object.entries(needed)
      .filter(([name]) => (values[name] ?? '').trim() === '')
      .map(([name, label]) => [name, `${label}: type it.`]),
  );
}
