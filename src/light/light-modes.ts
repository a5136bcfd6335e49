import { cos, exp, sin } from '../units/exact-math.ts';
import { type Timing, ticksToSeconds } from '../units/timing.ts';
import type { Phasor } from './phasor.ts';

/** Smaller values become 0 at cuts: a decaying mode must not end among the slow subnormal numbers. */
const SMALLEST = 1e-30;

export const flushed = (value: number): number => (Math.abs(value) < SMALLEST ? 0 : value);

/**
 * Light at the spot from the last cut on, cd/m2 as the sensor's spectral weights see it:
 * `constant + sum over m of amplitude[m] e^(-t / tau[m]) + real part of swing e^(i w t)`, t = time since the cut.
 */
export interface LightModes {
  constantCdM2: number;
  readonly amplitudeCdM2: Float64Array;
  /** An oscillation that does not decay, as it stands at the cut; of the room. */
  swingCdM2: Phasor;
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

/**
 * e^((-1 / tau + 2 pi i f) t) after a whole number of ticks: what becomes of an oscillation of 1 that rings down (or does
 * not, with tau = Infinity); the latest answers are kept.
 */
export class Turns {
  readonly frequencyHz: number;
  readonly #tauS: number;
  readonly #timing: Timing;
  readonly #keptTicks = new Float64Array(KEPT).fill(-1);
  readonly #kept = Array.from({ length: KEPT }, () => ({ re: 0, im: 0 }));

  constructor(frequencyHz: number, tauS: number, timing: Timing) {
    this.frequencyHz = frequencyHz;
    this.#tauS = tauS;
    this.#timing = timing;
  }

  /** Number of turns after so many ticks; the rounding of `after` grows with it. */
  count(ticks: number): number {
    return this.frequencyHz * ticksToSeconds(this.#timing, ticks);
  }

  /** Valid until the next call. */
  after(ticks: number): Phasor {
    const slot = ticks % KEPT;
    const turn = this.#kept[slot]!;
    if (this.#keptTicks[slot] === ticks) return turn;
    const seconds = ticksToSeconds(this.#timing, ticks);
    const angle = angleOf(this.count(ticks));
    const size = exp(-seconds / this.#tauS);
    turn.re = size * cos(angle);
    turn.im = size * sin(angle);
    this.#keptTicks[slot] = ticks;
    return turn;
  }
}

/** The angle, 0..2 pi, of a number of turns, whole ones taken off. */
export const angleOf = (turns: number): number => 2 * Math.PI * (turns - Math.floor(turns));

const KEPT = 64;
