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

/** Flashes that comply and yet call for care. */
export interface LoadFound {
  readonly kind: 'kept up' | 'long';
  readonly fromS: number;
  readonly toS: number;
}

/** Watches how long flashes go on, whatever their count is. */
export class FlashLoad {
  /** Stretches with many changes. */
  #many: { fromS: number; toS: number }[] = [];
  #isMany = false;
  #latestS = Number.NEGATIVE_INFINITY;
  #beganS: number | undefined;
  #keptUp: LoadFound | undefined;
  #long: LoadFound | undefined;

  /** Opposing changes within the second that ends at `timeS`. */
  push(changes: number, timeS: number): void {
    this.#followMany(changes >= MANY_CHANGES, timeS);
    // Nothing changed between frames: a second later the count was 0.
    if (timeS - this.#latestS > WINDOW_S) this.#beganS = undefined;
    this.#latestS = timeS;
    if (changes < FLASH) this.#beganS = undefined;
    else {
      this.#beganS ??= timeS;
      const lastS = this.#long === undefined ? 0 : this.#long.toS - this.#long.fromS;
      const isLonger = timeS - this.#beganS > Math.max(LONG_S, lastS);
      if (isLonger) this.#long = { kind: 'long', fromS: this.#beganS, toS: timeS };
    }
  }

  #followMany(isMany: boolean, timeS: number): void {
    const latest = this.#many[this.#many.length - 1];
    if (this.#isMany && latest !== undefined) latest.toS = Math.min(timeS, this.#latestS + WINDOW_S);
    if (isMany && latest?.toS !== timeS) this.#many.push({ fromS: timeS, toS: timeS });
    this.#isMany = isMany;
    const first = timeS - SPAN_S;
    this.#many = this.#many.filter(({ toS }) => toS >= first);
    const held = this.#many.reduce((sum, { fromS, toS }) => sum + toS - Math.max(first, fromS), 0);
    if (this.#keptUp === undefined && held >= HELD_S)
      this.#keptUp = { kind: 'kept up', fromS: Math.max(0, first), toS: timeS };
  }

  get found(): LoadFound[] {
    return [this.#keptUp, this.#long].flatMap((one) => (one === undefined ? [] : [one]));
  }
}
