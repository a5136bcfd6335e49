/** Seeded draws in a row, for tests that draw millions of times; 32 bits of state (xorshift). */
export class Lot {
  #state: number;

  constructor(seed: number) {
    this.#state = Math.imul(seed ^ 0x5bd1e995, 0x9e3779b1) | 1;
  }

  /** A whole number from 0 to less than `count`. */
  below(count: number): number {
    let s = this.#state;
    s ^= s << 13;
    s ^= s >>> 17;
    s ^= s << 5;
    this.#state = s;
    return Math.floor(((s >>> 0) / 0x1_0000_0000) * count);
  }

  /** True once in `count` draws on average. */
  oneIn(count: number): boolean {
    return this.below(count) === 0;
  }

  bytes(count: number): Uint8Array {
    return Uint8Array.from({ length: count }, () => this.below(256));
  }
}
