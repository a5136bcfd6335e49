/** Edge of a cell, dots. */
const CELL = 8;
const DOTS = CELL * CELL;

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

/** Dots of a row and of a column of a cell, as bits of its words. */
const ROW = 0xff;
const COLUMN = 0x01010101;

/**
 * The part of a cell that flashed, of 64, where these dots of it changed. At the edge of a box it is what the box covers: a
 * rectangle up to the border or corner of a neighbour that changed whole. Else it is the whole cell: the eye takes the mean
 * of what is finer. `isWhole(right, down)` tells it of the neighbours that changed along with it: -1, 0 or 1 cells away.
 * Our choice.
 */
export function changedPart(low: number, high: number, isWhole: (right: number, down: number) => boolean): number {
  const rows = rowsOf(low, high);
  const columns = columnsOf(low, high);
  const dots = bitsOf(low) + bitsOf(high);
  if (dots === 0 || dots === DOTS || dots !== bitsOf(rows) * bitsOf(columns)) return DOTS;
  const across = sidesOf(columns);
  const down = sidesOf(rows);
  return across.some((right) => down.some((below) => (right !== 0 || below !== 0) && isWhole(right, below)))
    ? dots
    : DOTS;
}

/** Which way the next cell of a box lies whose dots take these lines, 0 = this one is as long as they: none if they touch no border. */
function sidesOf(lines: number): readonly number[] {
  if (lines === ROW) return [0];
  const run = lines >>> (31 - Math.clz32(lines & -lines));
  if ((run & (run + 1)) !== 0) return [];
  if ((lines & 1) !== 0) return [-1];
  return (lines & 0x80) !== 0 ? [1] : [];
}

/** Which rows of a cell have dots, a bit a row. */
function rowsOf(low: number, high: number): number {
  let rows = 0;
  for (let row = 0; row < CELL; row++)
    if (((row < 4 ? low : high) & (ROW << ((row % 4) * CELL))) !== 0) rows |= 1 << row;
  return rows;
}

function columnsOf(low: number, high: number): number {
  let columns = 0;
  for (let column = 0; column < CELL; column++) if (((low | high) & (COLUMN << column)) !== 0) columns |= 1 << column;
  return columns;
}

function bitsOf(word: number): number {
  let bits = word - ((word >>> 1) & 0x55555555);
  bits = (bits & 0x33333333) + ((bits >>> 2) & 0x33333333);
  return Math.imul((bits + (bits >>> 4)) & 0x0f0f0f0f, 0x01010101) >>> 24;
}
