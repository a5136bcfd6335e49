/** Edge of a cell, dots, as pictures are told to have changed. */
const CELL = 8;
/** Dots that are looked at for a cell along each axis, at most: the largest window is as long as a cell. */
const SEEN = 2 * CELL;
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
 * Tells fine balanced patterns from what flashes: along a line of one and up a column, a window of two squares has the same
 * mean before and after the squares swap. A dot is in such a pattern as long as the mean of no window, level or upright, that
 * holds it has moved: so stripes are none, however thin, for along themselves nothing balances them.
 *
 * Every coarser board moves one: a window of 2e dots centred on a square of e + 1 or more has 1/e of the square's own swing,
 * and half of that when the squares move as well. A pattern of squares of q dots stands still in windows of 2q only, so
 * windows of several sizes are looked at, and a dot has moved where it has in all of them. Noise is not told from flashes:
 * nothing of it stands still. Stripes that run aslant balance both ways, so a dot must be in a square of its own level, too.
 */
export class FineBalance {
  readonly #options: FineBalanceOptions;
  readonly #sizes: readonly (readonly [level: Windows, upright: Windows])[];
  readonly #columns: number;
  /** Dots that the largest window reaches behind the one that it begins at. */
  readonly #reach: number;
  /** Number of the picture at which a dot was asked for last. */
  readonly #takenAt: Uint32Array;
  #pictures = 0;
  /** Scratch: levels of a cell and of what its windows reach, line by line. */
  readonly #seen = new Float64Array(SEEN * SEEN);

  constructor(options: FineBalanceOptions) {
    const { fineDots, leastChange, width, height } = options;
    this.#options = options;
    this.#columns = width / CELL;
    const dots = fineDots === 0 ? 0 : width * height;
    const windows = (edge: number, step: number): Windows => ({
      edge,
      step,
      leastMove: ((leastChange - SLACK) * edge) / (2 * fineDots),
      sums: new Float64Array(dots),
      movedAt: new Uint32Array(dots),
    });
    const edges = windowEdges(fineDots);
    this.#reach = Math.max(0, ...edges) - 1;
    this.#sizes = edges.map((edge) => [windows(edge, 1), windows(edge, width)]);
    this.#takenAt = new Uint32Array(dots);
  }

  /** The first picture. */
  begin(codes: Uint16Array): void {
    this.step(codes, new Uint8Array(this.#columns * (this.#options.height / CELL)).fill(1));
    this.#takenAt.fill(this.#pictures);
  }

  /** The next one. `hasChanged`: cells of 8 dots in which a level has, 1 or 0. */
  step(codes: Uint16Array, hasChanged: Uint8Array): void {
    if (this.#sizes.length === 0) return;
    this.#pictures++;
    const columns = this.#columns;
    for (let cell = 0; cell < hasChanged.length; cell++) {
      const isChanged = hasChanged[cell] === 1;
      const isRightChanged = (cell + 1) % columns > 0 && hasChanged[cell + 1] === 1;
      const isBelowChanged = hasChanged[cell + columns] === 1;
      if (!isChanged && !isRightChanged && !isBelowChanged) continue;
      this.#lookAt(codes, cell);
      // Windows begin in this cell and reach into the next one.
      for (const [level, upright] of this.#sizes) {
        if (isChanged || isRightChanged) this.#stepCell(level, cell);
        if (isChanged || isBelowChanged) this.#stepCell(upright, cell);
      }
    }
  }

  /** Levels of a cell, and of the dots right of it and below it that its windows reach. */
  #lookAt(codes: Uint16Array, cell: number): void {
    const { levels, width, height } = this.#options;
    const seen = this.#seen;
    const left = (cell % this.#columns) * CELL;
    const top = Math.floor(cell / this.#columns) * CELL;
    const right = Math.min(left + CELL + this.#reach, width);
    const bottom = Math.min(top + CELL + this.#reach, height);
    for (let y = top; y < bottom; y++)
      for (let x = left, at = (y - top) * SEEN; x < right; x++, at++) seen[at] = levels[codes[y * width + x]!]!;
  }

  /**
   * Of the first `count` of `dots` keep those that have been in no fine balanced pattern since they were here last, in the
   * picture of the latest step. Answers how many.
   */
  take(codes: Uint16Array, dots: Int32Array, count: number): number {
    if (this.#sizes.length === 0) return count;
    const takenAt = this.#takenAt;
    let kept = 0;
    for (let i = 0; i < count; i++) {
      const dot = dots[i]!;
      const sinceAt = takenAt[dot]!;
      takenAt[dot] = this.#pictures;
      if (!this.#isFine(codes, dot, sinceAt)) dots[kept++] = dot;
    }
    return kept;
  }

  #isFine(codes: Uint16Array, dot: number, sinceAt: number): boolean {
    const x = dot % this.#options.width;
    const y = (dot - x) / this.#options.width;
    for (const [level, upright] of this.#sizes)
      if (!hasMoved(dot, x, sinceAt, level) && !hasMoved(dot, y, sinceAt, upright))
        if (level.edge === 2 || this.#isInSquare(codes, x, y, level.edge / 2)) return true;
    return false;
  }

  /** What is balanced in windows of four dots and more may still be stripes that run aslant: whether a dot is in a square at all. */
  #isInSquare(codes: Uint16Array, x: number, y: number, most: number): boolean {
    const edge = Math.max(this.#runAt(codes, x, y, 1, 0, most), this.#runAt(codes, x, y, 0, 1, most));
    if (edge > most) return false;
    for (let top = y - edge + 1; top <= y; top++)
      for (let left = x - edge + 1; left <= x; left++)
        if (this.#isEven(codes, left, top, edge, this.#levelAt(codes, x, y))) return true;
    return false;
  }

  /** Dots of one level side by side, level or upright; Infinity if they are more than a square has. */
  #runAt(codes: Uint16Array, x: number, y: number, right: number, down: number, most: number): number {
    const level = this.#levelAt(codes, x, y);
    let run = 1;
    for (const way of [-1, 1])
      for (let k = way; run <= most && this.#levelAt(codes, x + k * right, y + k * down) === level; k += way) run++;
    return run <= most ? run : Number.POSITIVE_INFINITY;
  }

  #isEven(codes: Uint16Array, left: number, top: number, edge: number, level: number): boolean {
    for (let y = top; y < top + edge; y++)
      for (let x = left; x < left + edge; x++) if (this.#levelAt(codes, x, y) !== level) return false;
    return true;
  }

  /** NaN beside the picture. */
  #levelAt(codes: Uint16Array, x: number, y: number): number {
    const { levels, width, height } = this.#options;
    if (x < 0 || y < 0 || x >= width || y >= height) return Number.NaN;
    return levels[codes[y * width + x]!]!;
  }

  /** Windows that begin in the cell whose levels have been looked at. */
  #stepCell({ edge, step, leastMove, sums, movedAt }: Windows, cell: number): void {
    const { width, height } = this.#options;
    const seen = this.#seen;
    const isLevel = step === 1;
    const left = (cell % this.#columns) * CELL;
    const top = Math.floor(cell / this.#columns) * CELL;
    const columns = isLevel ? Math.min(CELL, width - edge + 1 - left) : CELL;
    const lines = isLevel ? CELL : Math.min(CELL, height - edge + 1 - top);
    const seenStep = isLevel ? 1 : SEEN;
    const reach = (edge - 1) * seenStep;
    for (let line = 0; line < lines; line++) {
      let window = (top + line) * width + left;
      for (let first = line * SEEN; first < line * SEEN + columns; first++, window++) {
        let sum = seen[first]!;
        for (let dot = first + seenStep; dot <= first + reach; dot += seenStep) sum += seen[dot]!;
        const move = sum - sums[window]!;
        if (move < leastMove && -move < leastMove) continue;
        sums[window] = sum;
        movedAt[window] = this.#pictures;
      }
    }
  }

  /** A copy that goes on by itself. */
  copy(): FineBalance {
    const copy = new FineBalance(this.#options);
    for (const [k, size] of this.#sizes.entries())
      for (const axis of [0, 1] as const) {
        copy.#sizes[k]![axis].sums.set(size[axis].sums);
        copy.#sizes[k]![axis].movedAt.set(size[axis].movedAt);
      }
    copy.#takenAt.set(this.#takenAt);
    copy.#pictures = this.#pictures;
    return copy;
  }
}

/** Windows of one size along one axis, each by the dot that it begins at. */
interface Windows {
  readonly edge: number;
  /** From a dot of a window to its next one. */
  readonly step: number;
  /** Least change of a sum that counts. */
  readonly leastMove: number;
  /** Sum of the levels when it moved last, and the number of the picture with which it did. */
  readonly sums: Float64Array;
  readonly movedAt: Uint32Array;
}

/** Whether a window that holds the dot, the `place`-th along the axis, has moved since. */
function hasMoved(dot: number, place: number, sinceAt: number, { edge, step, movedAt }: Windows): boolean {
  const first = dot - Math.min(place, edge - 1) * step;
  for (let window = dot; window >= first; window -= step) if (movedAt[window]! > sinceAt) return true;
  return false;
}

/** Windows of two squares, for squares of up to so many dots; squares that divide larger ones need no window of their own. */
function windowEdges(fineDots: number): number[] {
  const squares: number[] = [];
  for (let dots = fineDots; dots > 0; dots--) if (!squares.some((one) => one % dots === 0)) squares.push(dots);
  return squares.map((dots) => 2 * dots);
}
