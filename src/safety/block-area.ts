/** A grid of square cells over a picture, and a block that is moved over it, as a profile wants it. */
export interface BlockGrid {
  readonly columns: number;
  readonly rows: number;
  /** Cells that the block covers, clipped to the grid. */
  readonly blockColumns: number;
  readonly blockRows: number;
  /** Share of the block's true area that one cell is. */
  readonly cellShare: number;
}

/** Where the block stands: its first cell. */
export interface BlockPlace {
  readonly column: number;
  readonly row: number;
}

/** Sums of marked cells over every position of the block, by a summed-area table. */
export class BlockArea {
  readonly #grid: BlockGrid;
  /** `[(row + 1) * (columns + 1) + column + 1]`: cells marked above and left of it, itself included. */
  readonly #sums: Float64Array;
  /** Scratch: part of each cell; 0 between two frames. */
  readonly #marks: Float64Array;

  constructor(grid: BlockGrid) {
    this.#grid = grid;
    this.#sums = new Float64Array((grid.rows + 1) * (grid.columns + 1));
    this.#marks = new Float64Array(grid.rows * grid.columns);
  }

  /** Number of positions of the block; they are counted by rows. */
  get positions(): number {
    const { columns, rows, blockColumns, blockRows } = this.#grid;
    return (columns - blockColumns + 1) * (rows - blockRows + 1);
  }

  placeOf(position: number): BlockPlace {
    const across = this.#grid.columns - this.#grid.blockColumns + 1;
    return { column: position % across, row: Math.floor(position / across) };
  }

  /** Share of the block that so many cells are, as if all of them were in it. */
  shareOf(cells: number): number {
    return cells * this.#grid.cellShare;
  }

  /** Take the marks of a frame: which part of every cell is marked, 0 to 1. */
  mark(partOf: (cell: number) => number): void {
    const marks = this.#marks;
    for (let cell = 0; cell < marks.length; cell++) marks[cell] = partOf(cell);
    this.#sumUp();
    marks.fill(0);
  }

  /** The same, of a few cells: `parts[k]` of `cells[k]`; without parts, all of them. */
  markSome(cells: Int32Array, parts?: Float64Array): void {
    const marks = this.#marks;
    for (let k = 0; k < cells.length; k++) marks[cells[k]!] = parts === undefined ? 1 : parts[k]!;
    this.#sumUp();
    for (let k = 0; k < cells.length; k++) marks[cells[k]!] = 0;
  }

  #sumUp(): void {
    const { columns, rows } = this.#grid;
    const marks = this.#marks;
    const sums = this.#sums;
    let at = columns + 2;
    for (let row = 0, cell = 0; row < rows; row++, at++) {
      let sum = 0;
      for (const end = cell + columns; cell < end; cell++, at++) {
        sum += marks[cell]!;
        sums[at] = sums[at - columns - 1]! + sum;
      }
    }
  }

  /** Share of the block that is marked at each position. */
  shares(): Float64Array {
    const { columns, rows, blockColumns, blockRows, cellShare } = this.#grid;
    const shares = new Float64Array(this.positions);
    const sums = this.#sums;
    const below = blockRows * (columns + 1);
    let position = 0;
    for (let row = 0; row + blockRows <= rows; row++) {
      const end = row * (columns + 1) + columns - blockColumns;
      for (let left = row * (columns + 1); left <= end; left++, position++) {
        const right = left + blockColumns;
        shares[position] = (sums[right + below]! - sums[left + below]! - sums[right]! + sums[left]!) * cellShare;
      }
    }
    return shares;
  }

  /** The position with the largest share, the first of equal ones. */
  largest(): { readonly share: number; readonly position: number } {
    const shares = this.shares();
    let position = 0;
    for (let k = 1; k < shares.length; k++) if (shares[k]! > shares[position]!) position = k;
    return { share: shares[position]!, position };
  }
}
