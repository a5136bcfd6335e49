import { exp } from '../../../src/units/exact-math.ts';
import { type Timing, ticksToSeconds } from '../../../src/units/timing.ts';

/** e^(-t / tau) of several time constants after a whole number of ticks, computed anew each time. */
export class PlainDecays {
  readonly tauS: Float64Array;
  readonly #timing: Timing;

  constructor(tauS: Float64Array, timing: Timing) {
    this.tauS = tauS;
    this.#timing = timing;
  }

  after(ticks: number): Float64Array {
    return this.tauS.map((tau) => exp(-ticksToSeconds(this.#timing, ticks) / tau));
  }
}
