import type { Timing } from '../../units/timing.ts';
import { Decays, type LightModes } from '../light-modes.ts';

/** Time constants closer than this, relative to each other, make the closed form lose its digits. Our choice. */
const CLOSEST_POLES = 1e-6;
/** Bound on the rounding of every sum below, relative to the sum of the magnitudes: 64 terms of 1 to 2 ulp. */
const ROUNDING = 4e-14;

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
  /** Sum of the magnitudes that went in, for the bound on rounding. */
  readonly magnitude: number;
}

/** Bounds over a span, rounding included. */
interface FilteredBounds {
  readonly driveMax: number;
  readonly aboveMin: number;
  readonly aboveMax: number;
}

/** `tauS`, moved up by twice `CLOSEST_POLES` wherever it would lie closer than `CLOSEST_POLES` to another. */
function keptApart(tauS: number, others: Iterable<number>): number {
  let moved = tauS;
  for (const other of [...others].sort((a, b) => a - b)) {
    if (Math.abs(moved / other - 1) < CLOSEST_POLES) moved = other * (1 + 2 * CLOSEST_POLES);
  }
  return moved;
}

/**
 * Light through a one-pole low-pass, x' = (light - x) / tau, and a baseline that follows it, b' = (x - b) / tauB.
 *
 * Closed form from the last cut on, with e(tau) = e^(-t / tau): light = c + sum a_m e(tau_m); x = c + sum g_m a_m e(tau_m)
 * + q e(tau) with g_m = tau_m / (tau_m - tau); x - b = sum k_m a_m e(tau_m) + j q e(tau) + r e(tauB) with
 * k_m = g_m tauB / (tauB - tau_m), j = tauB / (tauB - tau).
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
  #light: LightModes = { constantCdM2: 0, amplitudeCdM2: new Float64Array() };
  #pole = 0;
  #baselinePole = 0;

  constructor(modes: Decays, timing: Timing, tauS: number, baselineTauS: number) {
    this.#modes = modes;
    this.#rates = modes.tauS.map((tau) => 1 / tau);
    const tau = keptApart(tauS, modes.tauS);
    const tauB = keptApart(baselineTauS, [...modes.tauS, tau]);
    this.#tauS = tau;
    this.#baselineTauS = tauB;
    this.#poles = new Decays(Float64Array.of(tau, tauB), timing);
    this.#gain = modes.tauS.map((tauM) => tauM / (tauM - tau));
    this.#gainAbove = modes.tauS.map((tauM, m) => (this.#gain[m]! * tauB) / (tauB - tauM));
    this.#poleGainAbove = tauB / (tauB - tau);
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
    this.#light = light;
    this.#pole = x - light.constantCdM2 - filtered;
    this.#baselinePole = x - b - above - this.#poleGainAbove * this.#pole;
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
    const constant = this.#light.constantCdM2;
    return {
      ticks,
      x: constant + filtered + pole,
      drive: positive + negative - filtered - pole,
      above: aboveModes + this.#poleGainAbove * pole + baselinePole,
      positive,
      negative,
      positiveRate,
      negativeRate,
      magnitude: constant + magnitude + Math.abs(pole) + Math.abs(baselinePole),
    };
  }

  /**
   * Bounds on (from, to]. Each positive mode falls and each negative one rises, which bounds the light and its slope;
   * drive, x and x - b relax towards what drives them, which bounds them in turn.
   */
  bounds(from: FilteredInstant, to: FilteredInstant): FilteredBounds {
    const poles = this.#poles.after(to.ticks - from.ticks);
    const [decay, baselineDecay] = [poles[0]!, poles[1]!];
    const slopeMax = -to.positiveRate - from.negativeRate;
    const slopeMin = -from.positiveRate - to.negativeRate;
    const driveMax = relaxedMax(from.drive, slopeMax * this.#tauS, decay);
    const driveMin = relaxedMin(from.drive, slopeMin * this.#tauS, decay);

    const constant = this.#light.constantCdM2;
    let xMax = relaxedMax(from.x, constant + from.positive + to.negative, decay);
    let xMin = relaxedMin(from.x, constant + to.positive + from.negative, decay);
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
}

/** Largest value of something that starts at `value` and relaxes towards at most `goal`; `decay` is what is left. */
const relaxedMax = (value: number, goal: number, decay: number): number =>
  Math.max(value, goal + (value - goal) * decay);

const relaxedMin = (value: number, goal: number, decay: number): number =>
  Math.min(value, goal + (value - goal) * decay);
