import { displayBytes } from '../references/palette.ts';
import { PICTURE_HEIGHT, PICTURE_WIDTH } from '../units/timing.ts';
import { linearOf } from './flash-colour.ts';

/** Means of pictures over square cells, in the linear light of the colours as a page shows them. */
export class PictureCells {
  readonly #cellDots: number;
  readonly #columns: number;
  /** Linear light by code. Shape: `[code * 3 + primary]`. */
  readonly #light: Float64Array;
  readonly #means: Float64Array;

  /** `cellDots` divides 256 and 240. */
  constructor(cellDots: number, swapsRedGreenEmphasis: boolean) {
    this.#cellDots = cellDots;
    this.#columns = PICTURE_WIDTH / cellDots;
    this.#light = Float64Array.from(displayBytes(swapsRedGreenEmphasis), linearOf);
    this.#means = new Float64Array(this.#columns * (PICTURE_HEIGHT / cellDots) * 3);
  }

  /** Mean linear light, shape `[cell * 3 + primary]`; valid until the next call. */
  meansOf(codes: Uint16Array): Float64Array {
    const means = this.#means.fill(0);
    const light = this.#light;
    const size = this.#cellDots;
    for (let y = 0; y < PICTURE_HEIGHT; y++) {
      let at = y * PICTURE_WIDTH;
      let cell = Math.floor(y / size) * this.#columns * 3;
      for (let column = 0; column < this.#columns; column++, cell += 3) {
        let [red, green, blue] = [0, 0, 0];
        for (const end = at + size; at < end; at++) {
          const code = codes[at]! * 3;
          red += light[code]!;
          green += light[code + 1]!;
          blue += light[code + 2]!;
        }
        means[cell]! += red;
        means[cell + 1]! += green;
        means[cell + 2]! += blue;
      }
    }
    for (let i = 0; i < means.length; i++) means[i]! /= size * size;
    return means;
  }
}
