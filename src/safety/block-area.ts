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

  /** Take the marks of a frame: `isMarked(i)` for every cell. Answers whether any is marked. */
  mark(isMarked: (cell: number) => boolean): boolean {
    const { columns, rows } = this.#grid;
    const sums = this.#sums;
    let isAny = false;
    for (let row = 0; row < rows; row++) {
      let sum = 0;
      for (let column = 0; column < columns; column++) {
        if (isMarked(row * columns + column)) {
          sum++;
          isAny = true;
        }
        const at = (row + 1) * (columns + 1) + column + 1;
        sums[at] = sums[at - columns - 1]! + sum;
      }
    }
    return isAny;
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
    let [share, position] = [-1, 0];
    for (let at = 0; at < this.positions; at++) {
      const here = this.shareAt(at);
      if (here > share) [share, position] = [here, at];
    }
    return { share, position };
  }
}
