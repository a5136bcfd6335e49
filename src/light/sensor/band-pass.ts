import type { Timing } from '../../units/timing.ts';
import { type Decays, type LightModes, type Turns, turnsOf } from '../light-modes.ts';
import { NO_PHASOR, type Phasor, product, quotient, realPart } from '../phasor.ts';

/** How the filter answers to one kind of light: in the output, and 90 degrees from it. */
interface Answer {
  readonly output: number;
  readonly quadrature: number;
}

/**
 * Second-order band-pass H(s) = (w0 / Q) s / (s^2 + (w0 / Q) s + w0^2) of light; gain 1 at w0 = 2 pi f0. Q > 1/2.
 *
 * Its state is one complex number z with z' = p z + r light, p = -a + i wd, a = w0 / 2Q, wd = w0 sqrt(1 - 1/4Q^2); the
 * output is the real part of z. Closed form from the last cut on: z = what the light's constant part, modes and
 * oscillation force + `ring` e^(p t). The real and the imaginary part of what e^(s t) forces have the gains H(s) and
 * (w0 / Q) (a s + w0^2) / wd / (s^2 + (w0 / Q) s + w0^2).
 * Checked against the matrices and gains of the state-space form x' = [[-w0/Q, -w0], [w0, 0]] x + [w0/Q, 0] light.
 */
export class BandPass {
  /** p, 1/s. */
  readonly pole: Phasor;
  /** Upper bound of the size of the output's answer to an impulse of 1, 1/s. */
  readonly impulsePerS: number;
  /** e^(p t). */
  readonly turns: Turns;
  /** How the light's modes decay and its oscillation turns. */
  readonly modes: Decays;
  readonly swing: Turns | undefined;
  /** H(-1 / tau) of each mode of the light. */
  readonly modeGain: Float64Array;
  /** H(i w) of the light's oscillation, and its w. */
  readonly swingGain: Phasor = NO_PHASOR;
  readonly swingRadPerS: number = 0;
  readonly #modeQuadrature: Float64Array;
  readonly #swingQuadrature: Phasor = NO_PHASOR;
  readonly #constantQuadrature: number;
  #light: LightModes | undefined;
  #ring: Phasor = NO_PHASOR;

  constructor(modes: Decays, timing: Timing, f0Hz: number, q: number, swing?: Turns) {
    const w0 = 2 * Math.PI * f0Hz;
    const alpha = w0 / (2 * q);
    const wd = w0 * Math.sqrt(1 - 1 / (4 * q * q));
    this.pole = { re: -alpha, im: wd };
    this.turns = turnsOf(wd / (2 * Math.PI), 1 / alpha, timing);
    this.modes = modes;
    this.swing = swing;
    this.impulsePerS = (2 * alpha * w0) / wd;

    const answer = (s: number): Answer => {
      const divisor = s * s + 2 * alpha * s + w0 * w0;
      return {
        output: (2 * alpha * s) / divisor,
        quadrature: (2 * alpha * (alpha * s + w0 * w0)) / (wd * divisor),
      };
    };
    this.modeGain = modes.tauS.map((tau) => answer(-1 / tau).output);
    this.#modeQuadrature = modes.tauS.map((tau) => answer(-1 / tau).quadrature);
    this.#constantQuadrature = answer(0).quadrature;
    if (swing === undefined) return;
    const w = 2 * Math.PI * swing.frequencyHz;
    this.swingRadPerS = w;
    const divisor = { re: w0 * w0 - w * w, im: 2 * alpha * w };
    this.swingGain = quotient({ re: 0, im: 2 * alpha * w }, divisor);
    this.#swingQuadrature = quotient({ re: (2 * alpha * w0 * w0) / wd, im: (2 * alpha * alpha * w) / wd }, divisor);
  }

  /** Free part of z at the last cut. */
  get ring(): Phasor {
    return this.#ring;
  }

  /** Start from this light and this z at a new cut. */
  rebase(light: LightModes, z: Phasor): void {
    this.#light = light;
    const forced = this.#forced(light.amplitudeCdM2, undefined, light.swingCdM2);
    this.#ring = { re: z.re - forced.re, im: z.im - forced.im };
  }

  /** z so many ticks after the cut. */
  at(ticks: number): Phasor {
    const light = this.#light!;
    const swing = this.swing === undefined ? NO_PHASOR : product(light.swingCdM2, this.swing.after(ticks));
    const forced = this.#forced(light.amplitudeCdM2, this.modes.after(ticks), swing);
    const ring = product(this.#ring, this.turns.after(ticks));
    return { re: forced.re + ring.re, im: forced.im + ring.im };
  }

  /**
   * Whether the answer to an impulse, (w0 / Q) e^(-a t) (cos wd t - (a / wd) sin wd t), is not negative for so long:
   * cos u >= 1 - u^2 / 2 and sin u <= u.
   */
  isPositiveFor(seconds: number): boolean {
    const turn = this.pole.im * seconds;
    return turn < 1 && (turn * turn) / 2 - (this.pole.re / this.pole.im) * turn < 1;
  }

  /** z after the constant part and the oscillation of this light have been there for ever. */
  steady({ constantCdM2, swingCdM2 }: LightModes): Phasor {
    return {
      re: realPart(this.swingGain, swingCdM2),
      im: constantCdM2 * this.#constantQuadrature + realPart(this.#swingQuadrature, swingCdM2),
    };
  }

  /** What a jump of the modes forces z to be; z itself does not jump, so the ring takes the opposite. */
  forcedBy(jump: Float64Array): Phasor {
    let [output, quadrature] = [0, 0];
    for (let m = 0; m < jump.length; m++) {
      output += this.modeGain[m]! * jump[m]!;
      quadrature += this.#modeQuadrature[m]! * jump[m]!;
    }
    return { re: output, im: quadrature };
  }

  #forced(amplitudes: Float64Array, decay: readonly number[] | undefined, swing: Phasor): Phasor {
    let output = realPart(this.swingGain, swing);
    let quadrature = this.#light!.constantCdM2 * this.#constantQuadrature + realPart(this.#swingQuadrature, swing);
    for (let m = 0; m < amplitudes.length; m++) {
      const mode = decay === undefined ? amplitudes[m]! : amplitudes[m]! * decay[m]!;
      output += this.modeGain[m]! * mode;
      quadrature += this.#modeQuadrature[m]! * mode;
    }
    return { re: output, im: quadrature };
  }
}
