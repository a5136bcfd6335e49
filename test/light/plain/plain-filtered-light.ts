import type { LightModes, Turns } from '../../../src/light/light-modes.ts';
import type { RowTimes } from '../../../src/light/panel/panel.ts';
import {
  largestBetween,
  leastBetween,
  modulus,
  NO_PHASOR,
  type Phasor,
  product,
  quotient,
  realPart,
} from '../../../src/light/phasor.ts';
import { keptApart } from '../../../src/light/sensor/kept-apart.ts';
import { ROUNDING, relaxedMax, relaxedMin } from '../../../src/light/sensor/relaxation.ts';
import { type Timing, ticksToSeconds } from '../../../src/units/timing.ts';
import { PlainDecays } from './plain-decays.ts';

/** One tick after the cut, cd/m2 (slopes cd/m2/s). */
export interface FilteredInstant {
  readonly ticks: number;
  /** Filtered light x. */
  readonly x: number;
  /** Light - x: positive while x rises. */
  readonly drive: number;
  /** x - b. */
  readonly above: number;
  /** The modes of the light with positive and with negative amplitude, summed apart, and the same times 1 / tau. */
  readonly positive: number;
  readonly negative: number;
  readonly positiveRate: number;
  readonly negativeRate: number;
  /** The light's oscillation. */
  readonly swing: Phasor;
  /** Sum of the magnitudes that went in, for the bound on rounding. */
  readonly magnitude: number;
}

/** Bounds over a span, rounding included. */
interface FilteredBounds {
  readonly driveMax: number;
  readonly aboveMin: number;
  readonly aboveMax: number;
}

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
export class PlainFilteredLight {
  readonly #modes: PlainDecays;
  readonly #poles: PlainDecays;
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
  #swingSize = 0;
  #pole = 0;
  #baselinePole = 0;

  constructor(modes: PlainDecays, timing: Timing, tauS: number, baselineTauS: number, swing?: Turns) {
    this.#modes = modes;
    this.#timing = timing;
    this.#rates = modes.tauS.map((tau) => 1 / tau);
    const tau = keptApart(tauS, modes.tauS);
    const tauB = keptApart(baselineTauS, [...modes.tauS, tau]);
    this.#tauS = tau;
    this.#baselineTauS = tauB;
    this.#poles = new PlainDecays(Float64Array.of(tau, tauB), timing);
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

  /** Start from this light and these values at a new cut. */
  rebase(light: LightModes, x: number, b: number): void {
    let filtered = 0;
    let above = 0;
    for (let m = 0; m < this.#gain.length; m++) {
      const amplitude = light.amplitudeCdM2[m]!;
      filtered += this.#gain[m]! * amplitude;
      above += this.#gainAbove[m]! * amplitude;
    }
    if (this.#swingGains !== undefined) {
      filtered += realPart(this.#swingGains.x, light.swingCdM2);
      above += realPart(this.#swingGains.above, light.swingCdM2);
      this.#swingSize = modulus(light.swingCdM2);
    }
    this.#light = light;
    this.#pole = x - light.constantCdM2 - filtered;
    this.#baselinePole = x - b - above - this.#poleGainAbove * this.#pole;
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
    let [filtered, above] = [0, 0];
    for (let m = 0; m < jump.length; m++) {
      filtered += this.#gain[m]! * jump[m]!;
      above += this.#gainAbove[m]! * jump[m]!;
    }
    kicks[0] = place === 1 ? kicks[0]! * poles[0]! - filtered : kicks[0]!;
    kicks[place] = kicks[place]! * poles[1]! - above + this.#poleGainAbove * filtered;
  }

  /** What impulses have made of x and of x - b by the last of them. */
  kicked(jump: Float64Array, kicks: Float64Array, place: number): { readonly x: number; readonly above: number } {
    let [filtered, above] = [0, 0];
    for (let m = 0; m < jump.length; m++) {
      filtered += this.#gain[m]! * jump[m]!;
      above += this.#gainAbove[m]! * jump[m]!;
    }
    return { x: filtered + kicks[0]!, above: above + this.#poleGainAbove * kicks[0]! + kicks[place]! };
  }

  filteredAfter(ticks: number, jump: Float64Array, kicks: Float64Array): number {
    return this.#filtered(jump, this.#modes.after(ticks)) + kicks[0]! * this.#poles.after(ticks)[0]!;
  }

  #filtered(amplitudes: Float64Array, decay: Float64Array): number {
    return amplitudes.reduce((sum, amplitude, m) => sum + this.#gain[m]! * amplitude * decay[m]!, 0);
  }

  /** Parts of x by mode, those of slow and of fast modes summed apart. */
  #parts(amplitudes: Float64Array, decay?: Float64Array): { readonly slow: number; readonly fast: number } {
    let [slow, fast] = [0, 0];
    for (let m = 0; m < amplitudes.length; m++) {
      const part = this.#gain[m]! * amplitudes[m]!;
      if (part > 0) slow += decay === undefined ? part : part * decay[m]!;
      else fast -= part;
    }
    return { slow, fast };
  }

  mostAfter(ticks: number, filtered: number, jump: Float64Array): number {
    const { slow, fast } = this.#parts(jump);
    return slow + Math.max(0, filtered - slow + fast) * this.#poles.after(ticks)[0]!;
  }

  boundsAlone({ first, firstEnd, end }: RowTimes, x: number) {
    const amplitudes = this.#light.amplitudeCdM2;
    const { slow, fast } = this.#parts(amplitudes);
    const constant = this.#light.constantCdM2;
    const beside = Math.max(0, x - constant - slow + fast);
    const alone = (ticks: number): number =>
      constant + this.#filtered(amplitudes, this.#modes.after(ticks)) + this.#pole * this.#poles.after(ticks)[0]!;
    return {
      most: constant + slow + beside,
      mostLater:
        constant + this.#parts(amplitudes, this.#modes.after(first)).slow + beside * this.#poles.after(first)[0]!,
      least: Math.min(x, alone(firstEnd)),
      leastLater: Math.min(alone(first), alone(end)),
      magnitude: constant + slow + fast + Math.abs(x),
    };
  }

  at(ticks: number): FilteredInstant {
    const decay = this.#modes.after(ticks);
    const amplitudes = this.#light.amplitudeCdM2;
    let [filtered, aboveModes, magnitude] = [0, 0, 0];
    let [positive, negative, positiveRate, negativeRate] = [0, 0, 0, 0];
    for (let m = 0; m < decay.length; m++) {
      const mode = amplitudes[m]! * decay[m]!;
      const lowPassed = this.#gain[m]! * mode;
      filtered += lowPassed;
      aboveModes += this.#gainAbove[m]! * mode;
      magnitude += Math.abs(mode) + Math.abs(lowPassed);
      if (mode > 0) {
        positive += mode;
        positiveRate += mode * this.#rates[m]!;
      } else {
        negative += mode;
        negativeRate += mode * this.#rates[m]!;
      }
    }
    const poles = this.#poles.after(ticks);
    const pole = this.#pole * poles[0]!;
    const baselinePole = this.#baselinePole * poles[1]!;
    let swing = NO_PHASOR;
    if (this.#swing !== undefined) {
      swing = product(this.#light.swingCdM2, this.#swing.after(ticks));
      filtered += realPart(this.#swingGains!.x, swing);
      aboveModes += realPart(this.#swingGains!.above, swing);
      magnitude += this.#swingSize * (3 + this.#swing.count(ticks));
    }
    const constant = this.#light.constantCdM2;
    return {
      ticks,
      x: constant + filtered + pole,
      drive: positive + negative + swing.re - filtered - pole,
      above: aboveModes + this.#poleGainAbove * pole + baselinePole,
      positive,
      negative,
      positiveRate,
      negativeRate,
      swing,
      magnitude: constant + magnitude + Math.abs(pole) + Math.abs(baselinePole),
    };
  }

  /**
   * Bounds on (from, to]. Each positive mode falls and each negative one rises, and the oscillation stays near its chord,
   * which bounds the light and its slope; drive, x and x - b relax towards what drives them, which bounds them in turn.
   */
  bounds(from: FilteredInstant, to: FilteredInstant): FilteredBounds {
    const poles = this.#poles.after(to.ticks - from.ticks);
    const [decay, baselineDecay] = [poles[0]!, poles[1]!];
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
    return {
      driveMax: driveMax + slack,
      aboveMax:
        slack +
        Math.min(xMax - relaxedMin(b, xMin, baselineDecay), relaxedMax(from.above, driveMax * perTau, baselineDecay)),
      aboveMin:
        -slack +
        Math.max(xMin - relaxedMax(b, xMax, baselineDecay), relaxedMin(from.above, driveMin * perTau, baselineDecay)),
    };
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
