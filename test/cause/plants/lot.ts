import { hashNoise } from '../../../src/units/noise.ts';

/** Numbers drawn one after the other from a seed. */
export class Lot {
  readonly #seed: number;
  readonly #stream: number;
  #index = 0;

  constructor(seed: number, stream: number) {
    this.#seed = seed;
    this.#stream = stream;
  }

  number(low: number, high: number): number {
    return low + (high - low) * hashNoise(this.#seed, this.#stream, this.#index++);
  }

  whole(low: number, high: number): number {
    return Math.floor(this.number(low, high + 1));
  }

  pick<Item>(items: readonly Item[]): Item {
    return items[this.whole(0, items.length - 1)]!;
  }
}
