import { cos, exp, sin } from '../units/exact-math.ts';
import { type Timing, ticksToSeconds } from '../units/timing.ts';
import type { Phasor } from './phasor.ts';
import { SharedTables } from './shared-tables.ts';

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

/** After so many time constants nothing is left of an exponential: less than `SMALLEST` of it would be. */
export const LASTING_TIME_CONSTANTS = 70;

/** More than the ticks of a scanline; a power of two, so that the last bits of a number of ticks are its place. */
const KEPT = 4096;

/** e^(-t / tau) of several time constants after a whole number of ticks; the latest answers are kept. */
export class Decays {
  readonly tauS: Float64Array;
  readonly #timing: Timing;
  readonly #keptTicks = new Float64Array(KEPT).fill(-1);
  /** Plain lists: they are made faster than typed arrays of this length. */
  readonly #kept: (readonly number[] | undefined)[] = new Array(KEPT).fill(undefined);

  constructor(tauS: Float64Array, timing: Timing) {
    this.tauS = tauS;
    this.#timing = timing;
  }

  /** Shape: one factor per time constant; 0 after `LASTING_TIME_CONSTANTS` of them. */
  after(ticks: number): readonly number[] {
    const slot = ticks & (KEPT - 1);
    if (this.#keptTicks[slot] === ticks) return this.#kept[slot]!;
    return this.#compute(ticks, slot);
  }

  #compute(ticks: number, slot: number): readonly number[] {
    const seconds = ticksToSeconds(this.#timing, ticks);
    const { tauS } = this;
    const factors: number[] = [];
    for (let m = 0; m < tauS.length; m++) {
      const passed = seconds / tauS[m]!;
      factors.push(passed < LASTING_TIME_CONSTANTS ? exp(-passed) : 0);
    }
    this.#keptTicks[slot] = ticks;
    this.#kept[slot] = factors;
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
  readonly #kept: (Phasor | undefined)[] = new Array(KEPT).fill(undefined);

  constructor(frequencyHz: number, tauS: number, timing: Timing) {
    this.frequencyHz = frequencyHz;
    this.#tauS = tauS;
    this.#timing = timing;
  }

  /** Number of turns after so many ticks; the rounding of `after` grows with it. */
  count(ticks: number): number {
    return this.frequencyHz * ticksToSeconds(this.#timing, ticks);
  }

  after(ticks: number): Phasor {
    const slot = ticks & (KEPT - 1);
    if (this.#keptTicks[slot] === ticks) return this.#kept[slot]!;
    const seconds = ticksToSeconds(this.#timing, ticks);
    const angle = angleOf(this.count(ticks));
    const size = exp(-seconds / this.#tauS);
    const turn = { re: size * cos(angle), im: size * sin(angle) };
    this.#keptTicks[slot] = ticks;
    this.#kept[slot] = turn;
    return turn;
  }
}

/** Answers are shared by all light paths with the same values: most of them are asked for again in every picture. */
const decaysMade = new SharedTables<Decays>();
const turnsMade = new SharedTables<Turns>();

const clockOf = ({ masterNumerator, masterDenominator }: Timing): number[] => [masterNumerator, masterDenominator];

export const decaysOf = (tauS: Float64Array, timing: Timing): Decays =>
  decaysMade.of([...tauS, ...clockOf(timing)], () => new Decays(tauS, timing));

export const turnsOf = (frequencyHz: number, tauS: number, timing: Timing): Turns =>
  turnsMade.of([frequencyHz, tauS, ...clockOf(timing)], () => new Turns(frequencyHz, tauS, timing));

/** The angle, 0..2 pi, of a number of turns, whole ones taken off. */
export const angleOf = (turns: number): number => 2 * Math.PI * (turns - Math.floor(turns));
