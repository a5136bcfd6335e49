import type { SpotWeights } from '../../../src/light/optics/optics.ts';
import { restoreArray, type SavedState } from '../../../src/light/saved-state.ts';
import type { Timing } from '../../../src/units/timing.ts';
import { PlainDecays } from './plain-decays.ts';

const BLACK_CODE = 0x0f;
/** Places of the two modes of the light. */
const RISE = 0;
const FALL = 1;

/**
 * The liquid-crystal cells within the spot, one per panel row and dot.
 *
 * Each relaxes to its target, with the rise's time constant if the target is brighter than the cell at that moment, else
 * with the fall's. A row is brought forward only when its codes change, so the state depends on changes alone. Before
 * the first picture all cells are black.
 */
export class PlainLcdCells {
  readonly #spot: SpotWeights;
  /** Luminance by code, cd/m2. */
  readonly #luminance: Float64Array;
  readonly #decays: PlainDecays;
  /** `[row * dotCount + dot]`: code shown; light at the row's last change and light that it goes to, cd/m2. */
  readonly #code: Uint16Array;
  readonly #value: Float64Array;
  readonly #target: Float64Array;
  /** By row: tick of the last change; weighted sums over its dots at that tick: targets, ways up (< 0), ways down. */
  readonly #changedTick: Float64Array;
  readonly #rowTarget: Float64Array;
  readonly #rowRise: Float64Array;
  readonly #rowFall: Float64Array;
  /** Where the light at the spot goes when nothing changes, cd/m2. */
  targetCdM2 = 0;

  constructor(spot: SpotWeights, luminance: Float64Array, tauS: Float64Array, timing: Timing) {
    this.#spot = spot;
    this.#luminance = luminance;
    this.#decays = new PlainDecays(tauS, timing);
    this.#code = new Uint16Array(spot.weight.length).fill(BLACK_CODE);
    this.#value = new Float64Array(spot.weight.length).fill(luminance[BLACK_CODE]!);
    this.#target = this.#value.slice();
    this.#changedTick = new Float64Array(spot.rowCount);
    this.#rowTarget = new Float64Array(spot.rowCount);
    this.#rowRise = new Float64Array(spot.rowCount);
    this.#rowFall = new Float64Array(spot.rowCount);
    for (let row = 0; row < spot.rowCount; row++) this.#sumRow(row);
    this.#sumTargets();
  }

  /** Whether `codes` from `firstCode` on differ from what the row shows. */
  isNew(row: number, codes: Uint16Array, firstCode: number): boolean {
    const { dotCount } = this.#spot;
    for (let dot = 0; dot < dotCount; dot++) {
      if (codes[firstCode + dot] !== this.#code[row * dotCount + dot]) return true;
    }
    return false;
  }

  /** Give the row new codes at `tick`. The two modes of the light, as they are at that tick, jump; their sum does not. */
  refresh(row: number, tick: number, codes: Uint16Array, firstCode: number, amplitudeCdM2: Float64Array): void {
    const decay = this.#decays.after(tick - this.#changedTick[row]!);
    const [rise, fall] = [decay[RISE]!, decay[FALL]!];
    const oldRise = this.#rowRise[row]! * rise;
    const oldFall = this.#rowFall[row]! * fall;
    const { dotCount } = this.#spot;
    for (let dot = 0; dot < dotCount; dot++) {
      const at = row * dotCount + dot;
      const way = this.#value[at]! - this.#target[at]!;
      const code = codes[firstCode + dot]!;
      this.#value[at] = this.#target[at]! + way * (way < 0 ? rise : fall);
      this.#code[at] = code;
      this.#target[at] = this.#luminance[code]!;
    }
    this.#changedTick[row] = tick;
    this.#sumRow(row);
    this.#sumTargets();
    amplitudeCdM2[RISE]! += this.#rowRise[row]! - oldRise;
    amplitudeCdM2[FALL]! += this.#rowFall[row]! - oldFall;
  }

  #sumRow(row: number): void {
    const { dotCount, weight } = this.#spot;
    let [target, rise, fall] = [0, 0, 0];
    for (let at = row * dotCount; at < (row + 1) * dotCount; at++) {
      const way = this.#value[at]! - this.#target[at]!;
      target += weight[at]! * this.#target[at]!;
      if (way < 0) rise += weight[at]! * way;
      else fall += weight[at]! * way;
    }
    this.#rowTarget[row] = target;
    this.#rowRise[row] = rise;
    this.#rowFall[row] = fall;
  }

  #sumTargets(): void {
    let leaves = 1;
    while (leaves < this.#rowTarget.length) leaves *= 2;
    const sumOf = (first: number, count: number): number =>
      count === 1 ? (this.#rowTarget[first] ?? 0) : sumOf(first, count / 2) + sumOf(first + count / 2, count / 2);
    this.targetCdM2 = sumOf(0, leaves);
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
    for (let row = 0; row < this.#rowTarget.length; row++) this.#sumRow(row);
    this.#sumTargets();
  }
}
