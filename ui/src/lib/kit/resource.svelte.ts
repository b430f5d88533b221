/**
 * What a page shows of the program: read, read again, and read for something else while an older reading is still
 * under way. The last good value stands until a newer one is there; what answers a question that is no longer asked is
 * dropped, be it a value or an error.
 */
export class Resource<T> {
  #value = $state.raw<T>();
  #waiting = $state(false);
  #asked = 0;
  #waiters: (() => void)[] = [];

  /** The last value that came; undefined until there is one. */
  get value(): T | undefined {
    return this.#value;
  }

  /** Whether a reading is under way. */
  get waiting(): boolean {
    return this.#waiting;
  }

  /** Takes what `load` answers. Undefined (it was refused, and said so) leaves the last value. Whether it was taken. */
  async read(load: () => Promise<T | undefined>): Promise<boolean> {
    this.#asked += 1;
    const mine = this.#asked;
    this.#waiting = true;
    try {
      const answer = await load();
      if (mine !== this.#asked || answer === undefined) return false;
      this.#value = answer;
      return true;
    } catch (error) {
      if (mine !== this.#asked) return false;
      throw error;
    } finally {
      if (mine === this.#asked) this.#rest();
    }
  }

  /** Returns once nothing is under way. */
  async settled(): Promise<void> {
    while (this.#waiting) await new Promise<void>((wake) => this.#waiters.push(wake));
  }

  /** Reads once nothing else was asked for `rest` milliseconds. Answers what calls it off. */
  soon(
    rest: number,
    load: () => Promise<T | undefined>,
    failed: (error: unknown) => void = raised,
  ): () => void {
    this.#asked += 1;
    const mine = this.#asked;
    this.#waiting = true;
    const timer = setTimeout(() => {
      if (mine === this.#asked) this.read(load).catch(failed);
    }, rest);
    return () => {
      clearTimeout(timer);
      this.drop();
    };
  }

  /** Drops what is still under way; the value stays. */
  drop(): void {
    this.#asked += 1;
    this.#rest();
  }

  /** Forgets the value, and drops what is still under way. */
  clear(): void {
    this.drop();
    this.#value = undefined;
  }

  #rest(): void {
    this.#waiting = false;
    for (const wake of this.#waiters.splice(0)) wake();
  }
}

/** What nobody expected is for the page's last resort, as any other error. */
function raised(error: unknown): never {
  throw error;
}

export function resource<T>(): Resource<T> {
  return new Resource<T>();
}
