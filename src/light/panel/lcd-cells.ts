import type { Timing } from '../../units/timing.ts';
import { type Decays, decaysOf } from '../light-modes.ts';
import type { SpotWeights } from '../optics/optics.ts';
import { PairwiseSum } from '../pairwise-sum.ts';
import { restoreArray, type SavedState } from '../saved-state.ts';

const BLACK_CODE = 0x0f;
/** Places of the two modes of the light. */
const RISE = 0;
const FALL = 1;

/** What is known of two rows one above the other. The first row has none above it. */
const UNLIKE = 0;
const ALIKE = 1;
const NOT_COMPARED = 2;

/**
 * The liquid-crystal cells within the spot, one per panel row and dot.
 *
 * Each relaxes to its target, with the rise's time constant if the target is brighter than the cell at that moment, else
 * with the fall's. A row is brought forward only when its codes change, so the state depends on changes alone. Before
 * the first picture all cells are black.
 */
export class LcdCells {
  readonly #spot: SpotWeights;
  /** Luminance by code, cd/m2. */
  readonly #luminance: Float64Array;
  readonly #decays: Decays;
  /** `[row * dotCount + dot]`: code shown; light at the row's last change and light that it goes to, cd/m2. */
  readonly #code: Uint16Array;
  /** By row: whether it shows the same codes as the one above. */
  readonly #likeness: Uint8Array;
  readonly #value: Float64Array;
  readonly #target: Float64Array;
  /** By row: tick of the last change; weighted sums over its dots at that tick: targets, ways up (< 0), ways down. */
  readonly #changedTick: Float64Array;
  readonly #rowTarget: PairwiseSum;
  readonly #rowRise: Float64Array;
  readonly #rowFall: Float64Array;
  constructor(spot: SpotWeights, luminance: Float64Array, tauS: Float64Array, timing: Timing) {
    this.#spot = spot;
    this.#luminance = luminance;
    this.#decays = decaysOf(tauS, timing);
    this.#code = new Uint16Array(spot.weight.length).fill(BLACK_CODE);
    this.#value = new Float64Array(spot.weight.length).fill(luminance[BLACK_CODE]!);
    this.#target = this.#value.slice();
    this.#likeness = new Uint8Array(spot.rowCount).fill(NOT_COMPARED, 1);
    this.#changedTick = new Float64Array(spot.rowCount);
    this.#rowTarget = new PairwiseSum(spot.rowCount);
    this.#rowRise = new Float64Array(spot.rowCount);
    this.#rowFall = new Float64Array(spot.rowCount);
    for (let row = 0; row < spot.rowCount; row++) this.#sumRow(row);
  }

  /** Where the light at the spot goes when nothing changes, cd/m2. */
  get targetCdM2(): number {
    return this.#rowTarget.sum;
  }

  /** Whether the row shows the same codes as the one above it. */
  isLikeAbove(row: number): boolean {
    const likeness = this.#likeness[row]!;
    if (likeness !== NOT_COMPARED) return likeness === ALIKE;
    const isAlike = !this.isNew(row, this.#code, (row - 1) * this.#spot.dotCount);
    this.#likeness[row] = isAlike ? ALIKE : UNLIKE;
    return isAlike;
  }

  /** Whether `codes` from `firstCode` on differ from what the row shows. */
  isNew(row: number, codes: Uint16Array, firstCode: number): boolean {
    const { dotCount } = this.#spot;
    const shown = this.#code;
    for (let dot = 0, at = row * dotCount; dot < dotCount; dot++, at++) {
      if (codes[firstCode + dot] !== shown[at]) return true;
    }
    return false;
  }

  /** Give the row new codes at `tick`. The two modes of the light, as they are at that tick, jump; their sum does not. */
  refresh(row: number, tick: number, codes: Uint16Array, firstCode: number, amplitudeCdM2: Float64Array): void {
    const decay = this.#decays.after(tick - this.#changedTick[row]!);
    const rise = decay[RISE]!;
    const fall = decay[FALL]!;
    const oldRise = this.#rowRise[row]! * rise;
    const oldFall = this.#rowFall[row]! * fall;
    const { dotCount, weight } = this.#spot;
    const value = this.#value;
    const target = this.#target;
    const shown = this.#code;
    const luminance = this.#luminance;
    let sumTarget = 0;
    let sumRise = 0;
    let sumFall = 0;
    for (let dot = 0, at = row * dotCount; dot < dotCount; dot++, at++) {
      const way = value[at]! - target[at]!;
      const now = target[at]! + way * (way < 0 ? rise : fall);
      const code = codes[firstCode + dot]!;
      const goal = luminance[code]!;
      value[at] = now;
      shown[at] = code;
      target[at] = goal;
      // As `#sumRow` adds them up.
      const newWay = now - goal;
      sumTarget += weight[at]! * goal;
      if (newWay < 0) sumRise += weight[at]! * newWay;
      else sumFall += weight[at]! * newWay;
    }
    this.#rowTarget.set(row, sumTarget);
    this.#rowRise[row] = sumRise;
    this.#rowFall[row] = sumFall;
    if (row > 0) this.#likeness[row] = NOT_COMPARED;
    if (row + 1 < this.#likeness.length) this.#likeness[row + 1] = NOT_COMPARED;
    this.#changedTick[row] = tick;
    amplitudeCdM2[RISE]! += this.#rowRise[row]! - oldRise;
    amplitudeCdM2[FALL]! += this.#rowFall[row]! - oldFall;
  }

  #sumRow(row: number): void {
    const { dotCount, weight } = this.#spot;
    const value = this.#value;
    const goal = this.#target;
    let target = 0;
    let rise = 0;
    let fall = 0;
    for (let at = row * dotCount; at < (row + 1) * dotCount; at++) {
      const way = value[at]! - goal[at]!;
      target += weight[at]! * goal[at]!;
      if (way < 0) rise += weight[at]! * way;
      else fall += weight[at]! * way;
    }
    this.#rowTarget.set(row, target);
    this.#rowRise[row] = rise;
    this.#rowFall[row] = fall;
  }

  save(): SavedState {
    return {
      code: this.#code.slice(),
      value: this.#value.slice(),
      target: this.#target.slice(),
      changedTick: this.#changedTick.slice(),
    };
  }

  load(state: SavedState): void {
    restoreArray(this.#code, state, 'code');
    restoreArray(this.#value, state, 'value');
    restoreArray(this.#target, state, 'target');
    restoreArray(this.#changedTick, state, 'changedTick');
    for (let row = 0; row < this.#spot.rowCount; row++) this.#sumRow(row);
    this.#likeness.fill(NOT_COMPARED, 1);
  }
}
