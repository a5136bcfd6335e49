/** Columns of one level that are one column of the next. */
const FAN = 4;

/** Least and largest of any run of columns in logarithmic time, so that a sample that stands out is never skipped. */
export class MinMaxPyramid {
  readonly columns: number;
  /** The first is the curve itself. */
  readonly #levels: readonly Float32Array[];

  /** Shape: `pairs[column * 2 + 0|1]`, least and largest; not copied. */
  constructor(pairs: Float32Array) {
    this.columns = pairs.length / 2;
    const levels = [pairs];
    for (let level = pairs; level.length > 2 * FAN; ) {
      level = coarser(level);
      levels.push(level);
    }
    this.#levels = levels;
  }

  /** Least and largest of the columns [from, to), which must not be empty. */
  extremes(from: number, to: number): readonly [least: number, largest: number] {
    let [least, largest] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
    let [first, end] = [from, to];
    for (let k = 0; first < end; k++) {
      const level = this.#levels[k]!;
      const isTop = k === this.#levels.length - 1;
      const take = (column: number): void => {
        if (level[2 * column]! < least) least = level[2 * column]!;
        if (level[2 * column + 1]! > largest) largest = level[2 * column + 1]!;
      };
      while (first < end && (isTop || first % FAN !== 0)) take(first++);
      while (first < end && end % FAN !== 0) take(--end);
      first /= FAN;
      end /= FAN;
    }
    return [least, largest];
  }
}

function coarser(pairs: Float32Array): Float32Array {
  const columns = pairs.length / 2;
  const level = new Float32Array(2 * Math.ceil(columns / FAN));
  for (let at = 0; at * FAN < columns; at++) {
    let [least, largest] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
    for (let column = at * FAN; column < Math.min(columns, (at + 1) * FAN); column++) {
      least = Math.min(least, pairs[2 * column]!);
      largest = Math.max(largest, pairs[2 * column + 1]!);
    }
    level[2 * at] = least;
    level[2 * at + 1] = largest;
  }
  return level;
}
