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

  /** Take the marks of a frame: `isMarked(i)` for every cell. */
  mark(isMarked: (cell: number) => boolean): void {
    const { columns, rows } = this.#grid;
    const sums = this.#sums;
    for (let row = 0; row < rows; row++) {
      let sum = 0;
      for (let column = 0; column < columns; column++) {
        if (isMarked(row * columns + column)) sum++;
        const at = (row + 1) * (columns + 1) + column + 1;
        sums[at] = sums[at - columns - 1]! + sum;
      }
    }
  }

  /** Share of the block that is marked at a position. */
  shareAt(position: number): number {
    const { columns, blockColumns, blockRows, cellShare } = this.#grid;
    const { column, row } = this.placeOf(position);
    const [top, bottom] = [row * (columns + 1), (row + blockRows) * (columns + 1)];
    const [left, right] = [column, column + blockColumns];
    const sums = this.#sums;
    const cells = sums[bottom + right]! - sums[bottom + left]! - sums[top + right]! + sums[top + left]!;
    return cells * cellShare;
  }

  /** The position with the largest share, the first of equal ones. */
  largest(): { readonly share: number; readonly position: number } {
    const { columns, rows, blockColumns, blockRows, cellShare } = this.#grid;
    const sums = this.#sums;
    const below = blockRows * (columns + 1);
    let [most, position, at] = [-1, 0, 0];
    for (let row = 0; row + blockRows <= rows; row++)
      for (let left = row * (columns + 1); left + blockColumns <= row * (columns + 1) + columns; left++, at++) {
        const right = left + blockColumns;
        const cells = sums[right + below]! - sums[left + below]! - sums[right]! + sums[left]!;
        if (cells > most) [most, position] = [cells, at];
      }
    return { share: most * cellShare, position };
  }
}
