/** Edge of a cell, dots, as pictures are told to have changed. */
const CELL = 8;
/** Slack of comparisons, so that a mean that is equal but for rounding counts. Our choice. */
const SLACK = 1e-12;

export interface FineBalanceOptions {
  /** Level by code. */
  readonly levels: Float64Array;
  /** Least change of a level that counts as a flash. */
  readonly leastChange: number;
  /** A balanced pattern has squares of so many dots at most; 0 = there is no such exception. */
  readonly fineDots: number;
  readonly width: number;
  readonly height: number;
}

/**
 * Tells fine balanced patterns from what flashes: wherever a window of two squares lies in one, its mean is the same before
 * and after the squares swap. A dot is in such a pattern as long as the mean of no window that holds it has moved.
 *
 * Every coarser board moves one: a window of 2e dots centred on a square of e + 1 or more has (1/e)^2 of the square's own
 * swing, and half of that when the squares move as well. A pattern of squares of q dots stands still in windows of 2q only,
 * so windows of several sizes are looked at, and a dot has moved where it has in all of them.
 */
export class FineBalance {
  readonly #options: FineBalanceOptions;
  readonly #windows: readonly Windows[];
  readonly #columns: number;
  /** Number of the picture at which a dot was asked for last. */
  readonly #takenAt: Uint32Array;
  #pictures = 0;
  /** Scratch: sums of levels beside each other, line by line. */
  readonly #along: Float64Array;

  constructor(options: FineBalanceOptions) {
    const { fineDots, leastChange, width, height } = options;
    this.#options = options;
    this.#columns = width / CELL;
    const dots = fineDots === 0 ? 0 : width * height;
    this.#windows = windowEdges(fineDots).map((edge) => ({
      edge,
      leastMove: ((leastChange - SLACK) * edge * edge) / (2 * fineDots * fineDots),
      sums: new Float64Array(dots),
      movedAt: new Uint32Array(dots),
    }));
    this.#takenAt = new Uint32Array(dots);
    this.#along = new Float64Array(2 * CELL * width);
  }

  /** The first picture. */
  begin(codes: Uint16Array): void {
    this.step(codes, new Uint8Array(this.#columns * (this.#options.height / CELL)).fill(1));
    this.#takenAt.fill(this.#pictures);
  }

  /** The next one. `hasChanged`: cells of 8 dots in which a level has, 1 or 0. */
  step(codes: Uint16Array, hasChanged: Uint8Array): void {
    if (this.#windows.length === 0) return;
    this.#pictures++;
    for (let first = 0; first < hasChanged.length; first += this.#columns) {
      const end = first + this.#columns;
      for (let cell = first; cell < end; cell++) {
        if (!this.#isTouched(hasChanged, cell)) continue;
        const from = cell;
        while (cell + 1 < end && this.#isTouched(hasChanged, cell + 1)) cell++;
        for (const windows of this.#windows)
          this.#stepCells(
            codes,
            windows,
            (from - first) * CELL,
            (cell + 1 - first) * CELL,
            (first / this.#columns) * CELL,
          );
      }
    }
  }

  /**
   * Of the first `count` of `dots` keep those that have been in no fine balanced pattern since they were here last. Answers
   * how many.
   */
  take(dots: Int32Array, count: number): number {
    if (this.#windows.length === 0) return count;
    const takenAt = this.#takenAt;
    let kept = 0;
    for (let i = 0; i < count; i++) {
      const dot = dots[i]!;
      const sinceAt = takenAt[dot]!;
      takenAt[dot] = this.#pictures;
      if (this.#hasMovedInAll(dot, sinceAt)) dots[kept++] = dot;
    }
    return kept;
  }

  #hasMovedInAll(dot: number, sinceAt: number): boolean {
    // The window that begins at the dot tells most of them.
    for (const windows of this.#windows)
      if (windows.movedAt[dot]! <= sinceAt && !this.#hasMoved(dot, sinceAt, windows)) return false;
    return true;
  }

  /** Whether a window that holds the dot has moved since. */
  #hasMoved(dot: number, sinceAt: number, { edge, movedAt }: Windows): boolean {
    const { width } = this.#options;
    const y = Math.floor(dot / width);
    const x = dot - y * width;
    for (let top = y; top > y - edge && top >= 0; top--)
      for (let left = x; left > x - edge && left >= 0; left--) if (movedAt[top * width + left]! > sinceAt) return true;
    return false;
  }

  /** Windows begin in this cell and reach into the next ones. */
  #isTouched(hasChanged: Uint8Array, cell: number): boolean {
    const below = cell + this.#columns;
    if (hasChanged[cell] === 1 || hasChanged[below] === 1) return true;
    if (cell % this.#columns === this.#columns - 1) return false;
    return hasChanged[cell + 1] === 1 || hasChanged[below + 1] === 1;
  }

  /** Windows that begin in a row of cells, from one dot to before another. */
  #stepCells(codes: Uint16Array, windows: Windows, left: number, end: number, top: number): void {
    const { width, height } = this.#options;
    const { edge, leastMove, sums, movedAt } = windows;
    const along = this.#along;
    const [right, bottom] = [Math.min(end, width - edge + 1), Math.min(top + CELL, height - edge + 1)];
    this.#sumAlong(codes, edge, left, right, top, bottom + edge - 1);
    for (let y = top; y < bottom; y++)
      for (let x = left; x < right; x++) {
        let sum = 0;
        for (let line = y - top; line < y - top + edge; line++) sum += along[line * width + x]!;
        const window = y * width + x;
        const move = sum - sums[window]!;
        if (move < leastMove && -move < leastMove) continue;
        sums[window] = sum;
        movedAt[window] = this.#pictures;
      }
  }

  /** Sums of so many levels beside each other, from each dot of these lines on. */
  #sumAlong(codes: Uint16Array, edge: number, left: number, right: number, top: number, bottom: number): void {
    const { levels, width } = this.#options;
    const along = this.#along;
    for (let y = top; y < bottom; y++)
      for (let x = left; x < right; x++) {
        let sum = 0;
        for (let dot = y * width + x; dot < y * width + x + edge; dot++) sum += levels[codes[dot]!]!;
        along[(y - top) * width + x] = sum;
      }
  }

  /** A copy that goes on by itself. */
  copy(): FineBalance {
    const copy = new FineBalance(this.#options);
    for (const [k, { sums, movedAt }] of this.#windows.entries()) {
      copy.#windows[k]!.sums.set(sums);
      copy.#windows[k]!.movedAt.set(movedAt);
    }
    copy.#takenAt.set(this.#takenAt);
    copy.#pictures = this.#pictures;
    return copy;
  }
}

/** Windows of one size, each by the dot that it begins at. */
interface Windows {
  readonly edge: number;
  /** Least change of a sum that counts. */
  readonly leastMove: number;
  /** Sum of the levels when it moved last, and the number of the picture with which it did. */
  readonly sums: Float64Array;
  readonly movedAt: Uint32Array;
}

/** Windows of two squares, for squares of up to so many dots; squares that divide larger ones need no window of their own. */
function windowEdges(fineDots: number): number[] {
  const squares: number[] = [];
  for (let dots = fineDots; dots > 0; dots--) if (!squares.some((one) => one % dots === 0)) squares.push(dots);
  return squares.map((dots) => 2 * dots);
}
