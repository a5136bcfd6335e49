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
  /** Scratch: part of each cell. */
  #marks: Float64Array | undefined;

  constructor(grid: BlockGrid) {
    this.#grid = grid;
    this.#sums = new Float64Array((grid.rows + 1) * (grid.columns + 1));
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
    const { columns, rows } = this.#grid;
    const sums = this.#sums;
    for (let row = 0; row < rows; row++) {
      let sum = 0;
      for (let column = 0; column < columns; column++) {
        sum += partOf(row * columns + column);
        const at = (row + 1) * (columns + 1) + column + 1;
        sums[at] = sums[at - columns - 1]! + sum;
      }
    }
  }

  /** The same, of a few cells: `parts[k]` of `cells[k]`; without parts, all of them. */
  markSome(cells: Int32Array, parts?: Float64Array): void {
    this.#marks ??= new Float64Array(this.#grid.columns * this.#grid.rows);
    const marks = this.#marks;
    for (let k = 0; k < cells.length; k++) marks[cells[k]!] = parts === undefined ? 1 : parts[k]!;
    this.mark((cell) => marks[cell]!);
    for (const cell of cells) marks[cell] = 0;
  }

  /** Share of the block that is marked at each position. */
  shares(): Float64Array {
    const shares = new Float64Array(this.positions);
    this.#visit((cells, position) => {
      shares[position] = cells * this.#grid.cellShare;
    });
    return shares;
  }

  /** The position with the largest share, the first of equal ones. */
  largest(): { readonly share: number; readonly position: number } {
    let [most, largest] = [-1, 0];
    this.#visit((cells, position) => {
      if (cells > most) [most, largest] = [cells, position];
    });
    return { share: most * this.#grid.cellShare, position: largest };
  }

  /** Marked cells of every position, by rows. */
  #visit(take: (cells: number, position: number) => void): void {
    const { columns, rows, blockColumns, blockRows } = this.#grid;
    const sums = this.#sums;
    const below = blockRows * (columns + 1);
    let position = 0;
    for (let row = 0; row + blockRows <= rows; row++)
      for (let left = row * (columns + 1); left + blockColumns <= row * (columns + 1) + columns; left++, position++) {
        const right = left + blockColumns;
        take(sums[right + below]! - sums[left + below]! - sums[right]! + sums[left]!, position);
      }
  }
}
