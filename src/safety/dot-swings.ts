import { LevelSwings, type SwingRule } from './level-swings.ts';

/** Dots whose sort is not as in the picture before: the first `count` of `dots`. */
export interface ChangedDots {
  readonly dots: Int32Array;
  readonly count: number;
}

/** Opposing changes of one kind, followed dot by dot: pictures are codes, one a dot. */
export interface DotSwings {
  /** The first picture. */
  begin(codes: Uint16Array, timeS: number): void;
  /**
   * The next one, shown from `timeS` on. `turned` becomes the dots that make an opposing change, in the order
   * of `changed`; answers how many do. May be the array that the changed dots are in.
   */
  step(codes: Uint16Array, timeS: number, changed: ChangedDots, turned: Int32Array): number;
  /** The picture is as it was, at this time too. */
  hold(timeS: number): void;
  /** Direction of the latest change of a dot; 0 before the first. */
  directionAt(dot: number): number;
  /** A copy that goes on by itself. */
  copy(): DotSwings;
}

/** Changes of a level that every code has. */
export class LevelDots implements DotSwings {
  readonly #levels: Float64Array;
  readonly #rule: SwingRule;
  readonly #dots: number;
  readonly #swings: LevelSwings;

  /** `levels` by code. `swings`: those of one that is copied. */
  constructor(dots: number, levels: Float64Array, rule: SwingRule, swings = new LevelSwings(dots, rule)) {
    this.#dots = dots;
    this.#levels = levels;
    this.#rule = rule;
    this.#swings = swings;
  }

  begin(codes: Uint16Array, timeS: number): void {
    this.#swings.next(this.#levelsOf(codes), timeS);
  }

  #levelsOf(codes: Uint16Array): Float64Array {
    const levels = new Float64Array(this.#dots);
    for (let dot = 0; dot < levels.length; dot++) levels[dot] = this.#levels[codes[dot]!]!;
    return levels;
  }

  step(codes: Uint16Array, timeS: number, { dots, count }: ChangedDots, turned: Int32Array): number {
    const levels = this.#levels;
    const swings = this.#swings;
    // Where a change may take any time, what does not change need not be remembered.
    if (this.#rule.longestChangeS < Number.POSITIVE_INFINITY) swings.next(this.#levelsOf(codes), timeS);
    let found = 0;
    for (let i = 0; i < count; i++) {
      const dot = dots[i]!;
      if (swings.stepAt(dot, levels[codes[dot]!]!) !== 0) turned[found++] = dot;
    }
    return found;
  }

  hold(timeS: number): void {
    this.#swings.hold(timeS);
  }

  directionAt(dot: number): number {
    return this.#swings.directionAt(dot);
  }

  copy(): LevelDots {
    return new LevelDots(this.#dots, this.#levels, this.#rule, this.#swings.copy());
  }
}
