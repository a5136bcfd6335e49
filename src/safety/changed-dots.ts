import { FINE_PX } from './flash-profile.ts';

/** Edge of a cell, dots. */
const CELL = 8;
const DOTS = CELL * CELL;
/** Largest squares of a fine pattern that are told from coarser ones, dots. Our choice: windows of two of them are a cell. */
const MOST_FINE = CELL / 2;

/**
 * Which dots of each cell of 8 dots differ from the picture before: a bit a dot, lines 0 to 3 of a cell in its first word.
 * Shape: `[cell * 2 + word]`; only those of changed cells are of this picture.
 */
export class ChangedDots {
  readonly #columns: number;
  readonly #codes: Uint16Array;
  readonly #masks: Int32Array;
  #hasPicture = false;

  constructor(width: number, height: number) {
    this.#columns = width / CELL;
    this.#codes = new Uint16Array(width * height);
    this.#masks = new Int32Array((2 * width * height) / DOTS);
  }

  /** `changed`: cells that differ from the picture before, 1 or 0; all that may where it is not known. Valid until the next call. */
  of(codes: Uint16Array, changed?: Uint8Array): Int32Array {
    if (this.#hasPicture)
      for (let cell = 0; 2 * cell < this.#masks.length; cell++)
        if (changed === undefined || changed[cell] === 1) this.#compare(codes, cell);
    if (!this.#hasPicture) this.#codes.set(codes);
    this.#hasPicture = true;
    return this.#masks;
  }

  #compare(codes: Uint16Array, cell: number): void {
    const before = this.#codes;
    const width = this.#columns * CELL;
    const row = Math.floor(cell / this.#columns);
    let at = row * CELL * width + (cell - row * this.#columns) * CELL;
    for (let word = 0; word < 2; word++) {
      let mask = 0;
      for (let bit = 0; bit < 32; at += width - CELL)
        for (let end = at + CELL; at < end; at++, bit++) {
          if (before[at] === codes[at]) continue;
          before[at] = codes[at]!;
          mask |= 1 << bit;
        }
      this.#masks[2 * cell + word] = mask;
    }
  }
}

/**
 * The part of a cell that flashed, of 64, where these dots of it changed. Where they lie together, as at the edge of a box,
 * it is theirs. Where they are scattered, or lines as fine as `fineDots`, the eye takes their mean for the whole cell, and all
 * of it did. What is scattered has more borders to other dots than dots; lines have a border for every `fineDots` of them.
 * Our choice, right for squares of two dots and more beside an edge.
 */
export function changedPart(low: number, high: number, fineDots: number): number {
  const dots = bitsOf(low) + bitsOf(high);
  if (dots === 0 || dots === DOTS) return DOTS;
  const beside = bitsOf((low ^ (low >>> 1)) & 0x7f7f7f7f) + bitsOf((high ^ (high >>> 1)) & 0x7f7f7f7f);
  const below =
    bitsOf((low ^ (low >>> CELL)) & 0xffffff) +
    bitsOf((high ^ (high >>> CELL)) & 0xffffff) +
    bitsOf(((low >>> 24) ^ high) & 0xff);
  const borders = beside + below;
  return borders > dots || (fineDots > 1 && borders * fineDots >= dots) ? DOTS : dots;
}

/** Squares of so many dots at most are finer than 0.1 degree at this size. Source: WCAG 2.2, "general flash and red flash thresholds". */
export function fineDotsAt({ scale, pixelAspect }: { readonly scale: number; readonly pixelAspect: number }): number {
  const dotPx = scale * Math.max(1, pixelAspect);
  let dots = 0;
  while ((dots + 1) * dotPx < FINE_PX && dots < MOST_FINE) dots++;
  return dots;
}

function bitsOf(word: number): number {
  let bits = word - ((word >>> 1) & 0x55555555);
  bits = (bits & 0x33333333) + ((bits >>> 2) & 0x33333333);
  return Math.imul((bits + (bits >>> 4)) & 0x0f0f0f0f, 0x01010101) >>> 24;
}
