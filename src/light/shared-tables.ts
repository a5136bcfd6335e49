/** Each light path keeps up to a few hundred kB of answers. Our choice. */
const MOST_SHARED = 24;

/** What follows from a few numbers alone, made once and shared by all that have the same ones; the latest are kept. */
export class SharedTables<Made> {
  #kept: { readonly key: readonly number[]; readonly made: Made }[] = [];

  /** What belongs to these numbers; `make` is called if nobody has asked for it lately. Nobody may change what comes. */
  of(key: readonly number[], make: () => Made): Made {
    const known = this.#kept.find((one) => isSame(one.key, key));
    if (known !== undefined) return known.made;
    const made = make();
    this.#kept = [{ key, made }, ...this.#kept.slice(0, MOST_SHARED - 1)];
    return made;
  }
}

const isSame = (a: readonly number[], b: readonly number[]): boolean =>
  a.length === b.length && a.every((value, i) => Object.is(value, b[i]));
