/** Where the last condition was logged, kept on this machine so that the next one begins there. No fact, no figure. */

const PLACE = 'site-last';

export interface Last {
  job: string;
  side: string;
}

export function lastAt(): Last | undefined {
  try {
    const kept: unknown = JSON.parse(localStorage.getItem(PLACE) ?? 'null');
    if (typeof kept !== 'object' || kept === null) return undefined;
    const { job, side } = kept as Partial<Last>;
    return typeof job === 'string' && typeof side === 'string' ? { job, side } : undefined;
  } catch {
    // A machine that remembers nothing asks for one tap more.
    return undefined;
  }
}

export function remember(last: Last) {
  try {
    localStorage.setItem(PLACE, JSON.stringify(last));
  } catch {
    // As above.
  }
}
