/** The part of the browser's storage that is used. */
export type Memory = Pick<Storage, 'getItem' | 'setItem' | 'removeItem'>;

/** Small texts that stay when the page is closed. A browser may refuse to keep any: that is told, and breaks nothing. */
export class KeptTexts {
  readonly #memory: () => Memory;
  readonly #refused: () => void;

  /** `memory` is asked each time, for a browser may refuse it; `refused` is called when something cannot be kept. */
  constructor(memory: () => Memory, refused: () => void) {
    this.#memory = memory;
    this.#refused = refused;
  }

  /** Undefined: nothing was kept, or nothing can be. */
  get(name: string): string | undefined {
    try {
      return this.#memory().getItem(name) ?? undefined;
    } catch {
      return undefined;
    }
  }

  /** False: it is not kept. */
  put(name: string, text: string): boolean {
    try {
      this.#memory().setItem(name, text);
      return true;
    } catch {
      this.#refused();
      return false;
    }
  }

  remove(name: string): void {
    try {
      this.#memory().removeItem(name);
    } catch {
      // where nothing is kept there is nothing to remove
    }
  }

  /** Give what nobody can read another name, where nothing takes its place. Undefined: it is still where it was. */
  putAside(name: string): string | undefined {
    const text = this.get(name);
    if (text === undefined) return undefined;
    let count = 1;
    const asideName = (): string => `${name}.unread-${count}`;
    while (this.get(asideName()) !== undefined) count++;
    if (!this.put(asideName(), text)) return undefined;
    this.remove(name);
    return asideName();
  }
}
