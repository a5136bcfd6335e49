import { FAILING_CHANGES } from './flash-profile.ts';
import { WINDOW_S } from './recent-changes.ts';

/** Changes within a second that are many though they pass, and how long they may be kept up: this much of so long, s. Our choice,
 * after the extended failure of an open-source analyser of 2023 (second hand). */
const MANY_CHANGES = 4;
const HELD_S = 4;
const SPAN_S = 5;
/** A sequence of flashes that is longer may be a risk even when it complies, s. Source: ITU-R BT.1702-3 (11/2023), second hand. */
const LONG_S = 5;
/** A sequence goes on while there is a flash in each second. Our choice. */
const FLASH = 2;

/** Counts that make a difference to it, the largest first. */
export const LOAD_STEPS = [FAILING_CHANGES, MANY_CHANGES, FLASH] as const;

/** Flashes that call for care even where they comply. */
export interface LoadFound {
  readonly kind: 'kept up' | 'long';
  /** Some second of it has more changes than pass. */
  readonly isAbove: boolean;
  readonly fromS: number;
  readonly toS: number;
}

/** Watches how long flashes go on, whatever their count is. */
export class FlashLoad {
  /** Stretches with many changes. */
  #many: { fromS: number; toS: number; most: number }[] = [];
  #isMany = false;
  #latestS = Number.NEGATIVE_INFINITY;
  #beganS: number | undefined;
  /** The largest count since then. */
  #most = 0;
  #keptUp: LoadFound | undefined;
  #long: LoadFound | undefined;

  /** Opposing changes within the second that ends at `timeS`, by whatever way of counting has most. */
  push(changes: number, timeS: number): void {
    // What is played once more has been heard.
    if (timeS < this.#latestS) return;
    this.#followMany(changes, timeS);
    // Nothing changed between frames: a second later the count was 0.
    if (timeS - this.#latestS > WINDOW_S) this.#beganS = undefined;
    this.#latestS = timeS;
    if (changes < FLASH) this.#beganS = undefined;
    else {
      this.#most = this.#beganS === undefined ? changes : Math.max(this.#most, changes);
      this.#beganS ??= timeS;
      const lastS = this.#long === undefined ? 0 : this.#long.toS - this.#long.fromS;
      const isLonger = timeS - this.#beganS > Math.max(LONG_S, lastS);
      if (isLonger) this.#long = { kind: 'long', isAbove: isAbove(this.#most), fromS: this.#beganS, toS: timeS };
    }
  }

  #followMany(changes: number, timeS: number): void {
    const isMany = changes >= MANY_CHANGES;
    const latest = this.#many[this.#many.length - 1];
    if (this.#isMany && latest !== undefined) latest.toS = Math.min(timeS, this.#latestS + WINDOW_S);
    if (isMany && latest?.toS === timeS) latest.most = Math.max(latest.most, changes);
    else if (isMany) this.#many.push({ fromS: timeS, toS: timeS, most: changes });
    this.#isMany = isMany;
    const first = timeS - SPAN_S;
    this.#many = this.#many.filter(({ toS }) => toS >= first);
    const held = this.#many.reduce((sum, { fromS, toS }) => sum + toS - Math.max(first, fromS), 0);
    if (held >= HELD_S) this.#keepUp(Math.max(0, first), timeS);
  }

  /** The first such stretch is told; it goes on as long as no 5 s without it have come between. */
  #keepUp(fromS: number, toS: number): void {
    const before = this.#keptUp;
    if (before !== undefined && fromS > before.toS) return;
    const most = Math.max(...this.#many.map((stretch) => stretch.most));
    this.#keptUp = {
      kind: 'kept up',
      isAbove: before?.isAbove === true || isAbove(most),
      fromS: before?.fromS ?? fromS,
      toS,
    };
  }

  get found(): LoadFound[] {
    return [this.#keptUp, this.#long].flatMap((one) => (one === undefined ? [] : [one]));
  }
}

const isAbove = (changes: number): boolean => changes >= FAILING_CHANGES;
