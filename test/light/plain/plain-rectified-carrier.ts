import type { LightModes, Turns } from '../../../src/light/light-modes.ts';
import {
  difference,
  largestBetween,
  leastBetween,
  modulus,
  NO_PHASOR,
  type Phasor,
  product,
  quotient,
  realPart,
} from '../../../src/light/phasor.ts';
import type { BandPass } from '../../../src/light/sensor/band-pass.ts';
import { keptApart } from '../../../src/light/sensor/kept-apart.ts';
import { ROUNDING, relaxedMax, relaxedMin } from '../../../src/light/sensor/relaxation.ts';
import { type Timing, ticksToSeconds } from '../../../src/units/timing.ts';
import { PlainDecays } from './plain-decays.ts';

/** What the rectifier charges. */
export interface EnvelopeStore {
  readonly dropCdM2: number;
  readonly attackS: number;
  readonly releaseS: number;
}

/** One tick after the cut, cd/m2. */
export interface RectifiedInstant {
  readonly ticks: number;
  /** v, what the comparator sees. */
  readonly envelope: number;
  /** Carrier - drop - v: the store is charged while it is positive. */
  readonly excess: number;
  /** The decaying parts of the excess with positive and with negative sign, summed apart. */
  readonly positive: number;
  readonly negative: number;
  /** Its parts that turn, and how large they can be from here on. */
  readonly ring: number;
  readonly ringSize: number;
  readonly swing: number;
  readonly swingSize: number;
  /** Sum of the magnitudes that went in, for the bound on rounding. */
  readonly magnitude: number;
}

/** Bounds over a span, rounding included. */
interface RectifiedBounds {
  readonly excessMin: number;
  readonly excessMax: number;
  readonly envelopeMin: number;
  readonly envelopeMax: number;
}

/** What becomes of a light of 1, part by part. */
interface Gains {
  readonly constant: number;
  readonly modes: Float64Array;
  readonly ring: Phasor;
  readonly swing: Phasor;
}

/**
 * The envelope v of a carrier y, the output of a band-pass, behind a half-wave rectifier: in one of its two ways to be,
 *
 *   draining   v' = -v / release                             while y - drop <= v
 *   charging   v' = (y - drop - v) / attack - v / release    while y - drop > v
 *
 * v' is the same on both sides of the border, so the store does not chatter there. v is never negative, so the lower half
 * of the carrier is cut off. Both ways are linear and driven by what the band-pass adds up: modes, ring, oscillation.
 * While it charges, with 1 / tau = 1 / attack + 1 / release and g = tau / attack, a part Y e^(s t) of y makes
 * Y g / (1 + s tau) e^(s t) of v.
 */
export class PlainRectifiedCarrier {
  readonly #bandPass: BandPass;
  readonly #isCharging: boolean;
  readonly #timing: Timing;
  readonly #modes: PlainDecays;
  readonly #swing: Turns | undefined;
  /** Time constants: of this way to be, and of the release. */
  readonly #own: PlainDecays;
  readonly #attackS: number;
  readonly #releaseS: number;
  readonly #envelope: Gains;
  readonly #excess: Gains;
  readonly #excessRingSize: number;
  readonly #excessSwingSize: number;
  readonly #ringRadPerS: number;
  #light: LightModes = { constantCdM2: 0, amplitudeCdM2: new Float64Array(), swingCdM2: NO_PHASOR };
  #ring: Phasor = NO_PHASOR;
  /** The part of v at the cut that is not forced. */
  #free = 0;

  constructor(bandPass: BandPass, isCharging: boolean, store: EnvelopeStore, timing: Timing) {
    const { modes, swing } = bandPass;
    this.#bandPass = bandPass;
    this.#isCharging = isCharging;
    this.#timing = timing;
    this.#modes = new PlainDecays(modes.tauS, timing);
    this.#swing = swing;
    this.#releaseS = store.releaseS;
    const tau = isCharging ? keptApart(1 / (1 / store.attackS + 1 / store.releaseS), modes.tauS) : store.releaseS;
    this.#attackS = isCharging ? 1 / (1 / tau - 1 / store.releaseS) : Number.POSITIVE_INFINITY;
    this.#own = new PlainDecays(Float64Array.of(tau, store.releaseS), timing);
    const g = tau / this.#attackS;
    const onePole = (gain: Phasor, s: Phasor): Phasor =>
      quotient({ re: g * gain.re, im: g * gain.im }, { re: 1 + s.re * tau, im: s.im * tau });
    this.#envelope = {
      constant: -store.dropCdM2 * g,
      modes: bandPass.modeGain.map((gain, m) => (g * gain) / (1 - tau / modes.tauS[m]!)),
      ring: onePole({ re: 1, im: 0 }, bandPass.pole),
      swing: onePole(bandPass.swingGain, { re: 0, im: bandPass.swingRadPerS }),
    };
    this.#excess = {
      constant: -store.dropCdM2 - this.#envelope.constant,
      modes: bandPass.modeGain.map((gain, m) => gain - this.#envelope.modes[m]!),
      ring: difference({ re: 1, im: 0 }, this.#envelope.ring),
      swing: difference(bandPass.swingGain, this.#envelope.swing),
    };
    this.#excessRingSize = modulus(this.#excess.ring);
    this.#excessSwingSize = modulus(this.#excess.swing);
    this.#ringRadPerS = modulus(bandPass.pole);
  }

  /** Start from this light and this v at a new cut, at which the band-pass has been rebased. */
  rebase(light: LightModes, envelope: number): void {
    this.#light = light;
    this.#ring = this.#bandPass.ring;
    const { constant, modes, ring, swing } = this.#envelope;
    let forced = constant + realPart(ring, this.#ring) + realPart(swing, light.swingCdM2);
    for (let m = 0; m < modes.length; m++) forced += modes[m]! * light.amplitudeCdM2[m]!;
    this.#free = envelope - forced;
  }

  /** Carry the kick of the free part on and add that of a jump of the modes, which kicks the ring too: v does not jump. */
  kick(free: number, ticks: number, jump: Float64Array, ringKick: Phasor): number {
    return free * this.#own.after(ticks)[0]! - this.#forcedBy(jump, ringKick);
  }

  /** What impulses have made of v by the last of them. */
  kicked(jump: Float64Array, ringKick: Phasor, free: number): number {
    return this.#forcedBy(jump, ringKick) + free;
  }

  #forcedBy(jump: Float64Array, ringKick: Phasor): number {
    const { modes, ring } = this.#envelope;
    let forced = realPart(ring, ringKick);
    for (let m = 0; m < jump.length; m++) forced += modes[m]! * jump[m]!;
    return forced;
  }

  /**
   * Exposure that may be added to the light within this time until the excess may leave its side, if these are its bounds
   * without it. The band-pass answers with its answer to an impulse at most; while it charges, v follows that up.
   */
  allowance({ excessMin, excessMax }: RectifiedBounds, seconds: number, deadbandCdM2: number): number {
    const perExposure = this.#bandPass.impulsePerS;
    if (!this.#isCharging) return (deadbandCdM2 - excessMax) / perExposure;
    return excessMin / (perExposure * this.#chargeShare(seconds));
  }

  /** Most that v, or the excess the other way, moves for an output of 1 within this time. */
  #chargeShare(seconds: number): number {
    return seconds / this.#attackS + (this.#bandPass.isPositiveFor(seconds) ? 0 : 1);
  }

  /** Exposure that may be added until v may be so far from where it would be without it. */
  envelopeAllowance(distance: number, seconds: number): number {
    return this.#isCharging
      ? distance / (this.#bandPass.impulsePerS * (seconds / this.#attackS))
      : Number.POSITIVE_INFINITY;
  }

  at(ticks: number): RectifiedInstant {
    const { constant, ring: ringGain, swing: swingGain } = this.#envelope;
    const ringing = product(this.#ring, this.#bandPass.turns.after(ticks));
    const swinging = this.#swing === undefined ? NO_PHASOR : product(this.#light.swingCdM2, this.#swing.after(ticks));
    const ringSize = modulus(ringing);
    const swingSize = modulus(swinging);
    let envelope = constant + realPart(ringGain, ringing) + realPart(swingGain, swinging);
    let magnitude = Math.abs(constant) + 2 * ringSize + swingSize * (2 + (this.#swing?.count(ticks) ?? 0));

    const decay = this.#modes.after(ticks);
    const amplitudes = this.#light.amplitudeCdM2;
    let [positive, negative] = [0, 0];
    for (let m = 0; m < decay.length; m++) {
      const mode = amplitudes[m]! * decay[m]!;
      const toEnvelope = this.#envelope.modes[m]! * mode;
      const toExcess = this.#excess.modes[m]! * mode;
      envelope += toEnvelope;
      magnitude += Math.abs(toEnvelope);
      if (toExcess > 0) positive += toExcess;
      else negative += toExcess;
    }
    const free = this.#free * this.#own.after(ticks)[0]!;
    if (free < 0) positive -= free;
    else negative -= free;
    const ring = realPart(this.#excess.ring, ringing);
    const swing = realPart(this.#excess.swing, swinging);
    return {
      ticks,
      envelope: envelope + free,
      excess: this.#excess.constant + positive + negative + ring + swing,
      positive,
      negative,
      ring,
      ringSize: this.#excessRingSize * ringSize,
      swing,
      swingSize: this.#excessSwingSize * swingSize,
      magnitude: magnitude + Math.abs(this.#excess.constant) + positive - negative,
    };
  }

  /**
   * Bounds on (from, to]. Each positive decaying part falls, each negative one rises, and what turns stays near its
   * chord: that bounds the excess. v falls while it drains, and relaxes towards excess x release / attack while it charges.
   */
  bounds(from: RectifiedInstant, to: RectifiedInstant): RectifiedBounds {
    const slack = ROUNDING * (from.magnitude + to.magnitude);
    const seconds = ticksToSeconds(this.#timing, to.ticks - from.ticks);
    const ringRad = this.#ringRadPerS * seconds;
    const swingRad = this.#bandPass.swingRadPerS * seconds;
    const excessMax =
      this.#excess.constant +
      from.positive +
      to.negative +
      largestBetween(from.ring, to.ring, from.ringSize, ringRad) +
      largestBetween(from.swing, to.swing, from.swingSize, swingRad) +
      slack;
    const excessMin =
      this.#excess.constant +
      to.positive +
      from.negative +
      leastBetween(from.ring, to.ring, from.ringSize, ringRad) +
      leastBetween(from.swing, to.swing, from.swingSize, swingRad) -
      slack;
    if (!this.#isCharging) return { excessMin, excessMax, envelopeMin: to.envelope, envelopeMax: from.envelope };
    const decay = this.#own.after(to.ticks - from.ticks)[1]!;
    const perAttack = this.#releaseS / this.#attackS;
    return {
      excessMin,
      excessMax,
      envelopeMin: relaxedMin(from.envelope, excessMin * perAttack, decay) - slack,
      envelopeMax: relaxedMax(from.envelope, excessMax * perAttack, decay) + slack,
    };
  }
}
