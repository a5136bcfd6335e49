/**
 * A running 64-bit fingerprint of numbers, kept as two 32-bit lanes, for golden hashes and for "same bytes" tests.
 * Not cryptographic. Equal input gives an equal result in every engine: only `Math.imul` and integer operators.
 */
export class Fingerprint {
  #low = 0x811c9dc5;
  #high = 0x9e3779b9;
  readonly #scratch = new DataView(new ArrayBuffer(8));

  /** Mix in one 32-bit integer (taken modulo 2^32). */
  addInt(value: number): this {
    this.#low = Math.imul(this.#low ^ value, 0x01000193);
    this.#low ^= this.#low >>> 15;
    this.#high = Math.imul(this.#high ^ value ^ this.#low, 0x85ebca6b);
    this.#high ^= this.#high >>> 13;
    return this;
  }

  /** Mix in all 64 bits of a double, so that -0 and 0 differ. */
  addDouble(value: number): this {
    this.#scratch.setFloat64(0, value);
    return this.addInt(this.#scratch.getInt32(0)).addInt(this.#scratch.getInt32(4));
  }

  addText(text: string): this {
    for (let i = 0; i < text.length; i++) this.addInt(text.charCodeAt(i));
    return this.addInt(text.length);
  }

  addBytes(bytes: ArrayLike<number>): this {
    for (let i = 0; i < bytes.length; i++) this.addInt(bytes[i]!);
    return this.addInt(bytes.length);
  }

  /** 16 hexadecimal digits. */
  digest(): string {
    const hex = (lane: number) => (lane >>> 0).toString(16).padStart(8, '0');
    return hex(this.#high) + hex(this.#low);
  }
}
