/** When a change of a level counts. */
export interface SwingRule {
  readonly leastChange: number;
  /** A change by `leastChange` itself does not count. */
  readonly isStrict: boolean;
  readonly darkLimit: number;
  readonly leastContrast: number;
  readonly longestChangeS: number;
}

/** Slack of comparisons, so that a level that is equal but for rounding counts. Our choice. */
const SLACK = 1e-12;

/**
 * Opposing changes of many levels, each followed by itself: from an extreme by at least the rule's change, up (+1) and down
 * (-1) in turn. A slow ramp counts once, as do several steps in one direction; the change stands at the first frame at
 * which the rule is met. Definition of a change: WCAG 2.2, "general flash and red flash thresholds", note on the plot.
 */
export class LevelSwings {
  readonly #rule: SwingRule;
  /** Direction of the latest change; 0 before the first. */
  #direction: Int8Array;
  /** 1 while a change was too slow to count: a quick one that way still does. */
  #isSlow: Uint8Array;
  /** The extreme since then; before the first change both. */
  #low: Float64Array;
  #high: Float64Array;
  #hasBegun = false;
  /** The latest frames, of a rule that leaves out slow changes: as long ago as a change may take. */
  #recent: { readonly timeS: number; readonly levels: Float64Array }[] = [];

  constructor(count: number, rule: SwingRule) {
    this.#rule = rule;
    this.#direction = new Int8Array(count);
    this.#isSlow = new Uint8Array(count);
    this.#low = new Float64Array(count);
    this.#high = new Float64Array(count);
  }

  /** The levels at a time, s, and which of them are not as before. `changes[i]` of those becomes +1, -1 or 0. */
  step(levels: Float64Array, timeS: number, changes: Int8Array, changed: Int32Array): void {
    this.next(this.#leavesOutSlow ? levels.slice() : levels, timeS);
    for (const i of changed) changes[i] = this.stepAt(i, levels[i]!);
  }

  get #leavesOutSlow(): boolean {
    return this.#rule.longestChangeS < Number.POSITIVE_INFINITY;
  }

  /** The levels of the frame whose changes follow one by one; they stay as they are. */
  next(levels: Float64Array, timeS: number): void {
    if (!this.#hasBegun) this.#begin(levels);
    if (this.#leavesOutSlow) this.#remember(levels, timeS);
  }

  /** All levels are as they were, at this time too. */
  hold(timeS: number): void {
    const latest = this.#recent[this.#recent.length - 1];
    if (latest !== undefined) this.#remember(latest.levels, timeS);
  }

  #begin(levels: Float64Array): void {
    this.#hasBegun = true;
    this.#low.set(levels);
    this.#high.set(levels);
  }

  #remember(levels: Float64Array, timeS: number): void {
    const { longestChangeS } = this.#rule;
    this.#recent.push({ timeS, levels });
    const recent = this.#recent;
    // The frame before this one was shown until now, however long ago it began; so was, until the next, one that stood for long.
    const wasShown = ({ timeS: fromS }: { readonly timeS: number }, k: number): boolean => {
      const untilS = recent[k + 1]?.timeS ?? timeS;
      return timeS - (untilS - fromS > longestChangeS ? untilS : fromS) <= longestChangeS;
    };
    this.#recent = recent.filter((frame, k) => k >= recent.length - 2 || wasShown(frame, k));
  }

  /** The next level of one of them. */
  stepAt(i: number, level: number): -1 | 0 | 1 {
    const direction = this.#direction[i]!;
    // After a change up only the highest level since then matters, after one down only the lowest.
    if (direction <= 0) this.#low[i] = Math.min(this.#low[i]!, level);
    if (direction >= 0) this.#high[i] = Math.max(this.#high[i]!, level);
    if (direction <= 0 && this.#counts(this.#low[i]!, level)) return this.#turn(i, 1, level);
    if (direction >= 0 && this.#counts(level, this.#high[i]!)) return this.#turn(i, -1, level);
    if (this.#isSlow[i] === 1 && this.#isQuick(i, direction as 1 | -1, level)) {
      this.#isSlow[i] = 0;
      return direction as 1 | -1;
    }
    return 0;
  }

  #counts(low: number, high: number): boolean {
    const { leastChange, isStrict, darkLimit, leastContrast } = this.#rule;
    const change = high - low;
    if (change <= 0) return false;
    if (low < darkLimit) return isStrict ? change > leastChange : change >= leastChange - SLACK;
    return change / (high + low) >= leastContrast;
  }

  #turn(i: number, direction: 1 | -1, level: number): -1 | 0 | 1 {
    this.#direction[i] = direction;
    this.#low[i] = this.#high[i] = level;
    const isQuick = this.#isQuick(i, direction, level);
    this.#isSlow[i] = isQuick ? 0 : 1;
    return isQuick ? direction : 0;
  }

  /** The least change that counts was made within the time that a change may take. */
  #isQuick(i: number, direction: 1 | -1, level: number): boolean {
    if (!this.#leavesOutSlow) return true;
    return this.#recent.some(({ levels }) =>
      direction > 0 ? this.#counts(levels[i]!, level) : this.#counts(level, levels[i]!),
    );
  }

  /** Direction of the latest change of one of them, quick or not; 0 before the first. */
  directionAt(i: number): number {
    return this.#direction[i]!;
  }

  /** A copy that goes on by itself. */
  copy(): LevelSwings {
    const copy = new LevelSwings(0, this.#rule);
    copy.#direction = this.#direction.slice();
    copy.#isSlow = this.#isSlow.slice();
    copy.#low = this.#low.slice();
    copy.#high = this.#high.slice();
    copy.#recent = [...this.#recent];
    copy.#hasBegun = this.#hasBegun;
    return copy;
  }
}
