import { exp } from '../units/exact-math.ts';
import { type Timing, ticksToSeconds } from '../units/timing.ts';

/** Smaller values become 0 at cuts: a decaying mode must not end among the slow subnormal numbers. */
const SMALLEST = 1e-30;

export const flushed = (value: number): number => (Math.abs(value) < SMALLEST ? 0 : value);

/**
 * Light at the spot from the last cut on, cd/m2 as the sensor's spectral weights see it:
 * `constant + sum over m of amplitude[m] e^(-t / tau[m])`, t = time since the cut.
 */
export interface LightModes {
  constantCdM2: number;
  readonly amplitudeCdM2: Float64Array;
}

/** e^(-t / tau) of several time constants after a whole number of ticks; the latest answers are kept. */
export class Decays {
  readonly tauS: Float64Array;
  readonly #timing: Timing;
  readonly #keptTicks = new Float64Array(KEPT).fill(-1);
  readonly #kept: Float64Array[];

  constructor(tauS: Float64Array, timing: Timing) {
    this.tauS = tauS;
    this.#timing = timing;
    this.#kept = Array.from({ length: KEPT }, () => new Float64Array(tauS.length));
  }

  /** Shape: one factor per time constant; valid until the next call. */
  after(ticks: number): Float64Array {
    const slot = ticks % KEPT;
    const factors = this.#kept[slot]!;
    if (this.#keptTicks[slot] === ticks) return factors;
    const seconds = ticksToSeconds(this.#timing, ticks);
    for (let m = 0; m < factors.length; m++) factors[m] = exp(-seconds / this.tauS[m]!);
    this.#keptTicks[slot] = ticks;
    return factors;
  }
}

const KEPT = 64;
