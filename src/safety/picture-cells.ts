import { displayBytes } from '../references/palette.ts';
import { PICTURE_HEIGHT, PICTURE_WIDTH } from '../units/timing.ts';
import { markChangedCells } from './changed-cells.ts';
import { linearOf } from './flash-colour.ts';

/** Means of pictures over square cells, in the linear light of the colours as a page shows them. */
export class PictureCells {
  readonly #cellDots: number;
  readonly #columns: number;
  /** Linear light by code. Shape: `[code * 3 + primary]`. */
  readonly #light: Float64Array;
  readonly #means: Float64Array;
  /** The picture that the means are of: only cells that differ are summed again. */
  readonly #codes = new Uint16Array(PICTURE_WIDTH * PICTURE_HEIGHT);
  readonly #changed: Uint8Array;
  #changedCells = 0;
  #hasPicture = false;

  /** `cellDots` divides 256 and 240. `bytes`: sRGB by code where the colours are not the palette's own. */
  constructor(cellDots: number, swapsRedGreenEmphasis: boolean, bytes = displayBytes(swapsRedGreenEmphasis)) {
    this.#cellDots = cellDots;
    this.#columns = PICTURE_WIDTH / cellDots;
    this.#light = Float64Array.from(bytes, linearOf);
    const cells = this.#columns * (PICTURE_HEIGHT / cellDots);
    this.#means = new Float64Array(cells * 3);
    this.#changed = new Uint8Array(cells);
  }

  /** Cells in which the latest picture differs from the one before, 1 or 0; all of them in the first. */
  get changed(): Uint8Array {
    return this.#changed;
  }

  /** How many they are. */
  get changedCells(): number {
    return this.#changedCells;
  }

  /** Mean linear light, shape `[cell * 3 + primary]`; valid until the next call. */
  meansOf(codes: Uint16Array): Float64Array {
    this.#changedCells = this.#hasPicture
      ? markChangedCells(this.#codes, codes, this.#cellDots, this.#changed)
      : this.#changed.fill(1).length;
    this.#hasPicture = true;
    if (this.#changedCells === 0) return this.#means;
    this.#codes.set(codes);
    for (let cell = 0; cell < this.#changed.length; cell++) if (this.#changed[cell] === 1) this.#sum(codes, cell);
    return this.#means;
  }

  #sum(codes: Uint16Array, cell: number): void {
    const size = this.#cellDots;
    const light = this.#light;
    const row = Math.floor(cell / this.#columns);
    const first = row * size * PICTURE_WIDTH + (cell - row * this.#columns) * size;
    let [red, green, blue] = [0, 0, 0];
    for (let line = 0; line < size; line++) {
      const start = first + line * PICTURE_WIDTH;
      for (let at = start; at < start + size; at++) {
        const code = codes[at]! * 3;
        red += light[code]!;
        green += light[code + 1]!;
        blue += light[code + 2]!;
      }
    }
    const dots = size * size;
    this.#means[3 * cell] = red / dots;
    this.#means[3 * cell + 1] = green / dots;
    this.#means[3 * cell + 2] = blue / dots;
  }
}
