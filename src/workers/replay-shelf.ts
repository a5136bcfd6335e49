import type { ShotReplay } from '../shot/shot-replay.ts';

/** Latest shots that can be looked at closer; each holds its pictures, some megabytes. Our choice. */
const LATEST = 4;

/** The shots that can be looked at again, by number: the one that is kept, and the latest few of all others. */
export class ReplayShelf {
  readonly #replays = new Map<number, ShotReplay>();
  #count = 0;
  #kept: number | null = null;

  /** Put a shot there; its number counts from 1. */
  put(replay: ShotReplay): number {
    this.#count++;
    this.#replays.set(this.#count, replay);
    this.#thin();
    return this.#count;
  }

  /** Undefined: it is no longer there. */
  get(number: number): ShotReplay | undefined {
    return this.#replays.get(number);
  }

  /** Keep a shot; null: none. */
  keep(number: number | null): void {
    this.#kept = number;
    this.#thin();
  }

  #thin(): void {
    const spare = [...this.#replays.keys()].filter((number) => number !== this.#kept).slice(0, -LATEST);
    for (const number of spare) this.#replays.delete(number);
  }
}
