/** What was drawn before, and what was taken back: a line of roofs with a place in it. Nothing in it is changed. */

export interface History<T> {
  readonly past: readonly T[];
  readonly now: T;
  readonly next: readonly T[];
  /** The change that is still going on, such as the dragging of one corner: it is one step however long it takes. */
  readonly going?: string;
}

/** More steps than anyone takes back. */
const MOST = 200;

export function begin<T>(now: T): History<T> {
  return { past: [], now, next: [] };
}

/** The next state. With `going`, it takes the place of the last one where that was part of the same change. */
export function change<T>(history: History<T>, to: T, going?: string): History<T> {
  if (to === history.now) return history;
  if (going !== undefined && going === history.going) return { past: history.past, now: to, next: [], going };
  return { past: [...history.past, history.now].slice(-MOST), now: to, next: [], going };
}

/** The change that was going on is over: the next one is a step of its own. */
export function settle<T>(history: History<T>): History<T> {
  return history.going === undefined ? history : { past: history.past, now: history.now, next: history.next };
}

export function undo<T>(history: History<T>): History<T> {
  const before = history.past.at(-1);
  if (before === undefined) return settle(history);
  return { past: history.past.slice(0, -1), now: before, next: [history.now, ...history.next] };
}

export function redo<T>(history: History<T>): History<T> {
  const [after, ...next] = history.next;
  if (after === undefined) return settle(history);
  return { past: [...history.past, history.now], now: after, next };
}
