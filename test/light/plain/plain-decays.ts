import { LASTING_TIME_CONSTANTS } from '../../../src/light/light-modes.ts';
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
    const seconds = ticksToSeconds(this.#timing, ticks);
    return this.tauS.map((tau) => (seconds / tau < LASTING_TIME_CONSTANTS ? exp(-(seconds / tau)) : 0));
  }
}
