import { type Timing, ticksToSeconds } from '../../units/timing.ts';
import { type Decays, decaysOf, type LightModes, type Turns } from '../light-modes.ts';
import type { RowTimes } from '../panel/panel.ts';
import {
  largestBetween,
  leastBetween,
  modulus,
  NO_PHASOR,
  type Phasor,
  product,
  quotient,
  realPart,
} from '../phasor.ts';
import { keptApart } from './kept-apart.ts';
import { ROUNDING, relaxedMax, relaxedMin } from './relaxation.ts';

/** One tick after the cut, cd/m2 (slopes cd/m2/s). */
export interface FilteredInstant {
  ticks: number;
  /** Filtered light x. */
  x: number;
  /** Light - x: positive while x rises. */
  drive: number;
  /** x - b. */
  above: number;
  /** The modes of the light with positive and with negative amplitude, summed apart, and the same times 1 / tau. */
  positive: number;
  negative: number;
  positiveRate: number;
  negativeRate: number;
  /** The light's oscillation. */
  swing: Phasor;
  /** Sum of the magnitudes that went in, for the bound on rounding. */
  magnitude: number;
}

/** Bounds over a span, rounding included. */
export interface FilteredBounds {
  driveMax: number;
  aboveMin: number;
  aboveMax: number;
}

/** Bounds of x as long as no impulse comes; see `boundsAlone`. */
interface AloneBounds {
  most: number;
  mostLater: number;
  least: number;
  leastLater: number;
  magnitude: number;
}

/** Storage for one instant; its numbers are no whole ones, so that engines store them as doubles from the start. */
export const filteredInstant = (): FilteredInstant => ({
  ticks: -0.5,
  x: 0.5,
  drive: 0.5,
  above: 0.5,
  positive: 0.5,
  negative: 0.5,
  positiveRate: 0.5,
  negativeRate: 0.5,
  swing: NO_PHASOR,
  magnitude: 0.5,
});

/** What becomes of an oscillation of 1 in x and in x - b. */
interface SwingGains {
  readonly x: Phasor;
  readonly above: Phasor;
}

function swingGains(swing: Turns, tauS: number, baselineTauS: number): SwingGains {
  const turnRadPerS = 2 * Math.PI * swing.frequencyHz;
  const x = quotient({ re: 1, im: 0 }, { re: 1, im: turnRadPerS * tauS });
  const perBaseline = { re: 0, im: turnRadPerS * baselineTauS };
  return {
    x,
    above: product(quotient(perBaseline, { re: 1, im: perBaseline.im }), x),
  };
}

/**
 * Light through a one-pole low-pass, x' = (light - x) / tau, and a baseline that follows it, b' = (x - b) / tauB.
 *
 * Closed form from the last cut on, with e(tau) = e^(-t / tau): light = c + sum a_m e(tau_m); x = c + sum g_m a_m e(tau_m)
 * + q e(tau) with g_m = tau_m / (tau_m - tau); x - b = sum k_m a_m e(tau_m) + j q e(tau) + r e(tauB) with
 * k_m = g_m tauB / (tauB - tau_m), j = tauB / (tauB - tau). An oscillation of the light has complex gains 1 / (1 + i w tau)
 * to x and i w tauB / (1 + i w tauB) from there to x - b.
 */
export class FilteredLight {
  readonly #modes: Decays;
  readonly #poles: Decays;
  /** 1 / tau of the modes, 1/s. */
  readonly #rates: Float64Array;
  readonly #tauS: number;
  readonly #baselineTauS: number;
  readonly #gain: Float64Array;
  readonly #gainAbove: Float64Array;
  readonly #poleGainAbove: number;
  readonly #timing: Timing;
  readonly #swing: Turns | undefined;
  readonly #swingGains: SwingGains | undefined;
  #light: LightModes = { constantCdM2: 0, amplitudeCdM2: new Float64Array(), swingCdM2: NO_PHASOR };
  readonly #bounds: FilteredBounds = { driveMax: 0.5, aboveMin: 0.5, aboveMax: 0.5 };
  readonly #scratch = filteredInstant();
  readonly #alone: AloneBounds = { most: 0.5, mostLater: 0.5, least: 0.5, leastLater: 0.5, magnitude: 0.5 };
  #swingSize = 0;
  /** The fast modes before this one are out; the fastest come first. */
  #firstLit = 0;
  #pole = 0;
  #baselinePole = 0;

  constructor(modes: Decays, timing: Timing, tauS: number, baselineTauS: number, swing?: Turns) {
    this.#modes = modes;
    this.#timing = timing;
    this.#rates = modes.tauS.map((tau) => 1 / tau);
    const tau = keptApart(tauS, modes.tauS);
    const tauB = keptApart(baselineTauS, [...modes.tauS, tau]);
    this.#tauS = tau;
    this.#baselineTauS = tauB;
    this.#poles = decaysOf(Float64Array.of(tau, tauB), timing);
    this.#gain = modes.tauS.map((tauM) => tauM / (tauM - tau));
    this.#gainAbove = modes.tauS.map((tauM, m) => (this.#gain[m]! * tauB) / (tauB - tauM));
    this.#poleGainAbove = tauB / (tauB - tau);
    this.#swing = swing;
    this.#swingGains = swing && swingGains(swing, tau, tauB);
  }

  /** x after the constant part and the oscillation of this light have been there for ever. */
  steady({ constantCdM2, swingCdM2 }: LightModes): number {
    return this.#swingGains === undefined ? constantCdM2 : constantCdM2 + realPart(this.#swingGains.x, swingCdM2);
  }

  /** Start from this light and these values at a new cut. Leaves in `into` what `at(0)` answers there. */
  rebase(light: LightModes, x: number, b: number, into = this.#scratch): void {
    const amplitudes = light.amplitudeCdM2;
    let firstLit = 0;
    while (amplitudes[firstLit] === 0) firstLit++;
    this.#firstLit = firstLit;
    this.#light = light;
    if (this.#swing !== undefined) this.#swingSize = modulus(light.swingCdM2);
    this.#sumLight(0, into);
    this.#pole = x - light.constantCdM2 - into.x;
    this.#baselinePole = x - b - into.above - this.#poleGainAbove * this.#pole;
    this.#addPoles(into, this.#pole, this.#baselinePole);
  }

  get tauS(): number {
    return this.#tauS;
  }

  get baselineTauS(): number {
    return this.#baselineTauS;
  }

  /** Carry the kicks of the pole and of the baseline's pole on and add those of a jump of the modes: x and b do not jump. */
  kick(kicks: Float64Array, place: number, ticks: number, jump: Float64Array): void {
    const poles = this.#poles.after(ticks);
    let filtered = 0;
    let above = 0;
    for (let m = 0; m < jump.length; m++) {
      filtered += this.#gain[m]! * jump[m]!;
      above += this.#gainAbove[m]! * jump[m]!;
    }
    kicks[0] = place === 1 ? kicks[0]! * poles[0]! - filtered : kicks[0]!;
    kicks[place] = kicks[place]! * poles[1]! - above + this.#poleGainAbove * filtered;
  }

  /** x so many ticks after the cut. */
  xAfter(ticks: number): number {
    const decay = this.#modes.after(ticks);
    const amplitudes = this.#light.amplitudeCdM2;
    const gain = this.#gain;
    let filtered = 0;
    for (let m = this.#firstLeft(decay); m < decay.length; m++) filtered += gain[m]! * (amplitudes[m]! * decay[m]!);
    return this.#light.constantCdM2 + filtered + this.#pole * this.#poles.after(ticks)[0]!;
  }

  /** The modes before this one are out, or will be after such a decay. */
  #firstLeft(decay: readonly number[]): number {
    let first = this.#firstLit;
    while (decay[first] === 0) first++;
    return first;
  }

  /** What is left of a difference of the baseline from x after so many ticks. */
  baselineLeft(ticks: number): number {
    return this.#poles.after(ticks)[1]!;
  }

  /** x some ticks after the last of some impulses, if nothing was there before. */
  filteredAfter(ticks: number, jump: Float64Array, kicks: Float64Array): number {
    const decay = this.#modes.after(ticks);
    const gain = this.#gain;
    let filtered = 0;
    for (let m = 0; m < jump.length; m++) filtered += gain[m]! * jump[m]! * decay[m]!;
    return filtered + kicks[0]! * this.#poles.after(ticks)[0]!;
  }

  /** x at the last of some impulses, if nothing was there before. */
  filteredOf(jump: Float64Array, kicks: Float64Array): number {
    const gain = this.#gain;
    let filtered = 0;
    for (let m = 0; m < jump.length; m++) filtered += gain[m]! * jump[m]!;
    return filtered + kicks[0]!;
  }

  /**
   * Upper bound from `ticks` after the last impulse on: the slow modes fall from where they are, and what x has beside
   * them falls as fast as the pole, at most together with all that the fast modes have still to give.
   */
  mostAfter(ticks: number, filtered: number, jump: Float64Array): number {
    const gain = this.#gain;
    let slow = 0;
    let fast = 0;
    for (let m = 0; m < jump.length; m++) {
      const part = gain[m]! * jump[m]!;
      if (part > 0) slow += part;
      else fast -= part;
    }
    return slow + Math.max(0, filtered - slow + fast) * this.#poles.after(ticks)[0]!;
  }

  /**
   * Bounds of x when no impulse comes, the modes not negative and without an oscillation: upper from the cut and from
   * `first` on, lower up to `firstEnd` and from `first` up to `end`. The slow modes make some of x, which falls; the rest
   * falls as fast as the pole, at most together with all that the fast modes have still to give. Light that only falls
   * lets x rise and then fall, so x is least at an end of a span. The answer is valid until the next call.
   */
  boundsAlone({ first, firstEnd, end }: RowTimes, x: number): AloneBounds {
    const amplitudes = this.#light.amplitudeCdM2;
    const gain = this.#gain;
    const atFirst = this.#modes.after(first);
    const atFirstEnd = this.#modes.after(firstEnd);
    const atEnd = this.#modes.after(end);
    let slow = 0;
    let fast = 0;
    let slowFirst = 0;
    let filteredFirst = 0;
    let filteredFirstEnd = 0;
    let filteredEnd = 0;
    for (let m = 0; m < gain.length; m++) {
      const part = gain[m]! * amplitudes[m]!;
      filteredFirst += part * atFirst[m]!;
      filteredFirstEnd += part * atFirstEnd[m]!;
      filteredEnd += part * atEnd[m]!;
      if (part > 0) {
        slow += part;
        slowFirst += part * atFirst[m]!;
      } else fast -= part;
    }
    const constant = this.#light.constantCdM2;
    const beside = Math.max(0, x - constant - slow + fast);
    const lasting = this.#poles.after(first)[0]!;
    const bounds = this.#alone;
    bounds.most = constant + slow + beside;
    bounds.mostLater = constant + slowFirst + beside * lasting;
    bounds.least = Math.min(x, constant + filteredFirstEnd + this.#pole * this.#poles.after(firstEnd)[0]!);
    bounds.leastLater = Math.min(
      constant + filteredFirst + this.#pole * lasting,
      constant + filteredEnd + this.#pole * this.#poles.after(end)[0]!,
    );
    bounds.magnitude = constant + slow + fast + Math.abs(x);
    return bounds;
  }

  /** x and x - b so many ticks after the cut, with impulses on the way that come to this at the end; valid until the next call. */
  through(ticks: number, jump: Float64Array, kicks: Float64Array, place: number): FilteredInstant {
    const gain = this.#gain;
    const gainAbove = this.#gainAbove;
    const instant = this.at(ticks, this.#scratch);
    let filtered = 0;
    let above = 0;
    for (let m = 0; m < jump.length; m++) {
      filtered += gain[m]! * jump[m]!;
      above += gainAbove[m]! * jump[m]!;
    }
    const kick = kicks[0]!;
    instant.x += filtered + kick;
    instant.above += above + this.#poleGainAbove * kick + kicks[place]!;
    return instant;
  }

  /** The instant so many ticks after the cut, in `into`. */
  at(ticks: number, into = filteredInstant()): FilteredInstant {
    this.#sumLight(ticks, into);
    const poles = this.#poles.after(ticks);
    this.#addPoles(into, this.#pole * poles[0]!, this.#baselinePole * poles[1]!);
    return into;
  }

  /** Leaves in `into` the light there and what it makes of x and x - b for itself, without the constant part. */
  #sumLight(ticks: number, into: FilteredInstant): void {
    const decay = this.#modes.after(ticks);
    const amplitudes = this.#light.amplitudeCdM2;
    const gain = this.#gain;
    const gainAbove = this.#gainAbove;
    const rates = this.#rates;
    let filtered = 0;
    let above = 0;
    let magnitude = 0;
    let positive = 0;
    let negative = 0;
    let positiveRate = 0;
    let negativeRate = 0;
    for (let m = this.#firstLeft(decay); m < decay.length; m++) {
      const mode = amplitudes[m]! * decay[m]!;
      const lowPassed = gain[m]! * mode;
      filtered += lowPassed;
      above += gainAbove[m]! * mode;
      magnitude += Math.abs(mode) + Math.abs(lowPassed);
      if (mode > 0) {
        positive += mode;
        positiveRate += mode * rates[m]!;
      } else {
        negative += mode;
        negativeRate += mode * rates[m]!;
      }
    }
    let swing = NO_PHASOR;
    if (this.#swing !== undefined) {
      swing = product(this.#light.swingCdM2, this.#swing.after(ticks));
      filtered += realPart(this.#swingGains!.x, swing);
      above += realPart(this.#swingGains!.above, swing);
      magnitude += this.#swingSize * (3 + this.#swing.count(ticks));
    }
    into.ticks = ticks;
    into.x = filtered;
    into.above = above;
    into.positive = positive;
    into.negative = negative;
    into.positiveRate = positiveRate;
    into.negativeRate = negativeRate;
    into.swing = swing;
    into.magnitude = magnitude;
  }

  /** Adds what the poles make of it, and the constant part. */
  #addPoles(into: FilteredInstant, pole: number, baselinePole: number): void {
    const constant = this.#light.constantCdM2;
    const filtered = into.x;
    into.x = constant + filtered + pole;
    into.drive = into.positive + into.negative + into.swing.re - filtered - pole;
    into.above = into.above + this.#poleGainAbove * pole + baselinePole;
    into.magnitude = constant + into.magnitude + Math.abs(pole) + Math.abs(baselinePole);
  }

  /**
   * Bounds on (from, to]. Each positive mode falls and each negative one rises, and the oscillation stays near its chord,
   * which bounds the light and its slope; drive, x and x - b relax towards what drives them, which bounds them in turn.
   * The answer is valid until the next call.
   */
  bounds(from: FilteredInstant, to: FilteredInstant): FilteredBounds {
    const poles = this.#poles.after(to.ticks - from.ticks);
    const decay = poles[0]!;
    const baselineDecay = poles[1]!;
    const swing = this.#swingBounds(from, to);
    const slopeMax = -to.positiveRate - from.negativeRate + swing.slopeMax;
    const slopeMin = -from.positiveRate - to.negativeRate + swing.slopeMin;
    const driveMax = relaxedMax(from.drive, slopeMax * this.#tauS, decay);
    const driveMin = relaxedMin(from.drive, slopeMin * this.#tauS, decay);

    const constant = this.#light.constantCdM2;
    let xMax = relaxedMax(from.x, constant + from.positive + to.negative + swing.max, decay);
    let xMin = relaxedMin(from.x, constant + to.positive + from.negative + swing.min, decay);
    if (driveMin >= 0) {
      xMin = from.x;
      xMax = to.x;
    } else if (driveMax <= 0) {
      xMin = to.x;
      xMax = from.x;
    }
    const b = from.x - from.above;
    const perTau = this.#baselineTauS / this.#tauS;
    const slack = ROUNDING * (from.magnitude + to.magnitude);
    const bounds = this.#bounds;
    bounds.driveMax = driveMax + slack;
    bounds.aboveMax =
      slack +
      Math.min(xMax - relaxedMin(b, xMin, baselineDecay), relaxedMax(from.above, driveMax * perTau, baselineDecay));
    bounds.aboveMin =
      -slack +
      Math.max(xMin - relaxedMax(b, xMax, baselineDecay), relaxedMin(from.above, driveMin * perTau, baselineDecay));
    return bounds;
  }

  /** The same from an instant on for ever, if no cut comes and the light has no oscillation. */
  boundsForEver(from: FilteredInstant): FilteredBounds {
    const driveMax = Math.max(from.drive, -from.negativeRate * this.#tauS);
    const driveMin = Math.min(from.drive, -from.positiveRate * this.#tauS);
    const constant = this.#light.constantCdM2;
    const xMax = driveMax <= 0 ? from.x : Math.max(from.x, constant + from.positive);
    const xMin = driveMin >= 0 ? from.x : Math.min(from.x, constant + from.negative);
    const b = from.x - from.above;
    const perTau = this.#baselineTauS / this.#tauS;
    const slack = 2 * ROUNDING * from.magnitude;
    const bounds = this.#bounds;
    bounds.driveMax = driveMax + slack;
    bounds.aboveMax = slack + Math.min(xMax - Math.min(b, xMin), Math.max(from.above, driveMax * perTau));
    bounds.aboveMin = -slack + Math.max(xMin - Math.max(b, xMax), Math.min(from.above, driveMin * perTau));
    return bounds;
  }

  /** Bounds of the light's oscillation and of its slope. */
  #swingBounds({ ticks, swing: from }: FilteredInstant, { ticks: end, swing: to }: FilteredInstant): SwingBounds {
    if (this.#swing === undefined) return NO_SWING;
    const radPerS = 2 * Math.PI * this.#swing.frequencyHz;
    const turnRad = radPerS * ticksToSeconds(this.#timing, end - ticks);
    const size = this.#swingSize;
    return {
      max: largestBetween(from.re, to.re, size, turnRad),
      min: leastBetween(from.re, to.re, size, turnRad),
      slopeMax: radPerS * largestBetween(-from.im, -to.im, size, turnRad),
      slopeMin: radPerS * leastBetween(-from.im, -to.im, size, turnRad),
    };
  }
}

interface SwingBounds {
  readonly max: number;
  readonly min: number;
  readonly slopeMax: number;
  readonly slopeMin: number;
}

const NO_SWING: SwingBounds = { max: 0, min: 0, slopeMax: 0, slopeMin: 0 };
