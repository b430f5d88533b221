/** Which rows of a long list are drawn, and where the keys lead. Rows are of one height, so it is plain arithmetic. */

/** Rows drawn beyond either edge, so that a turn of the wheel doesn't show bare paper. */
const SPARE = 6;

export interface Span {
  first: number;
  /** One past the last. */
  end: number;
}

/** The rows to draw for a view of `height` px that begins `top` px down a list of `count` rows. */
export function rowsInView(top: number, height: number, rowHeight: number, count: number): Span {
  const first = Math.max(0, Math.floor(top / rowHeight) - SPARE);
  const end = Math.min(count, Math.ceil((top + height) / rowHeight) + SPARE);
  return { first: Math.min(first, Math.max(0, count - 1)), end: Math.max(end, 0) };
}

/** How far down the view must begin for the row to be wholly seen; as it is, if it already is. */
export function topToShow(row: number, top: number, height: number, rowHeight: number): number {
  if (row * rowHeight < top) return row * rowHeight;
  const lowest = (row + 1) * rowHeight - height;
  return lowest > top ? lowest : top;
}

/** The row that a key leads to, or undefined if the key isn't one that walks. */
export function rowAfterKey(key: string, row: number, count: number, page: number): number | undefined {
  const to = {
    ArrowDown: row + 1,
    ArrowUp: row - 1,
    Home: 0,
    End: count - 1,
    PageDown: row + page,
    PageUp: row - page,
  }[key];
  return to === undefined || count === 0 ? undefined : Math.max(0, Math.min(count - 1, to));
}

/** How long letters typed one after another are one word. */
const ONE_WORD_MS = 700;

/** Finds rows by their first letters, typed one after another. The same letter again goes on to the next such row. */
export class TypeAhead {
  #typed = '';
  #last = Number.NEGATIVE_INFINITY;

  /** The row that begins with what has been typed so far, looked for from `row` on and round. */
  find(
    letter: string,
    at: number,
    row: number,
    count: number,
    text: (row: number) => string,
  ): number | undefined {
    this.#typed = at - this.#last > ONE_WORD_MS ? '' : this.#typed;
    this.#last = at;
    this.#typed += letter.toLocaleLowerCase();
    const letters = [...this.#typed];
    const same = letters.every((each) => each === letters[0]);
    const wanted = same ? (letters[0] ?? '') : this.#typed;
    for (let step = same ? 1 : 0; step <= count; step += 1) {
      const candidate = (row + step) % count;
      if (text(candidate).toLocaleLowerCase().startsWith(wanted)) return candidate;
    }
    return undefined;
  }

  /** Whether a word is being typed, so that a space is part of it. */
  going(at: number): boolean {
    return this.#typed !== '' && at - this.#last <= ONE_WORD_MS;
  }
}
