// Light and sensors stepped by single ticks, straight from the definitions with Math.exp: slow, obvious, and apart from the
// code under test. The expected flips of the brute-force tests come from here.

import type { PictureHistory } from '../../src/picture/picture.ts';
import { linearPrimaries } from '../../src/references/palette.ts';
import { PHOSPHORS } from '../../src/references/phosphor.ts';
import { type Timing, ticksPerFrame, ticksPerLine, ticksToSeconds } from '../../src/units/timing.ts';

export interface Element {
  readonly row: number;
  readonly dot: number;
  readonly weight: number;
}

interface Place {
  readonly x: number;
  readonly y: number;
}

/** The Gaussian spot on a lattice of `rows` x 256 elements, off-screen ones left out after normalising. */
export function spotElements(aim: Place, radius: number, rows: number): Element[] {
  const sigma = radius / Math.sqrt(2 * Math.log(2));
  const all: Element[] = [];
  let total = 0;
  for (let row = -rows; row < 2 * rows; row++) {
    const dy = ((row + 0.5) * 240) / rows - aim.y;
    if (Math.abs(dy) > 2 * radius) continue;
    for (let dot = -256; dot < 512; dot++) {
      const dx = dot + 0.5 - aim.x;
      if (Math.abs(dx) > 2 * radius) continue;
      const weight = Math.exp(-(dx * dx + dy * dy) / (2 * sigma * sigma));
      total += weight;
      all.push({ row, dot, weight });
    }
  }
  const onScreen = all.filter(({ row, dot }) => row >= 0 && row < rows && dot >= 0 && dot < 256);
  return onScreen.map(({ row, dot, weight }) => ({ row, dot, weight: weight / total }));
}

/** Weights of the primaries, red, green, blue. */
export type Weights = readonly [number, number, number];

const silicon: Weights = [0.252, 0.398, 0.35];

export const seen = (primaries: Float64Array, code: number, weights = silicon): number =>
  weights[0] * primaries[code * 3]! + weights[1] * primaries[code * 3 + 1]! + weights[2] * primaries[code * 3 + 2]!;

export interface Decay {
  readonly tauS: number;
  /** What is left after one tick. */
  readonly decay: number;
  amplitude: number;
}

/** Light from a tick to the next: constant part and decaying modes. A sensor that steps over the tick moves the modes on. */
export interface Shine {
  readonly constant: number;
  readonly modes: readonly Decay[];
}

/** To be asked for every tick from 0 on, once. */
export interface DenseLight {
  from(tick: number): Shine;
}

export interface Screen {
  readonly timing: Timing;
  readonly history: PictureHistory;
  readonly frames: number;
  readonly aim: Place;
  readonly radius: number;
  readonly white: number;
  readonly weights?: Weights;
}

export function denseTube(screen: Screen, phosphor: number): DenseLight {
  const { timing, history, frames, aim, radius, white, weights = silicon } = screen;
  const primaries = linearPrimaries(timing.swapsRedGreenEmphasis);
  const modes: Decay[] = [];
  const rise: { mode: Decay; primary: number; perS: number }[] = [];
  for (const [primary, terms] of PHOSPHORS[phosphor - 1]!.primaries.entries()) {
    for (const { amplitudePerS, tauS } of terms) {
      const mode = { tauS, decay: Math.exp(-ticksToSeconds(timing, 1) / tauS), amplitude: 0 };
      modes.push(mode);
      rise.push({ mode, primary, perS: amplitudePerS });
    }
  }
  const impulses = new Map<number, { code: number; weight: number }[]>();
  for (let n = 0; n < frames; n++) {
    const { codes, lineZeroTick } = history.get(n)!;
    for (const { row, dot, weight } of spotElements(aim, radius, 240)) {
      const tick = lineZeroTick + 4 * timing.dotDivider + row * ticksPerLine(timing) + dot * timing.dotDivider;
      impulses.set(tick, [...(impulses.get(tick) ?? []), { code: codes[row * 256 + dot]!, weight }]);
    }
  }
  const area = white * ticksToSeconds(timing, ticksPerFrame(timing));
  return {
    from(tick) {
      for (const { code, weight } of impulses.get(tick) ?? []) {
        for (const { mode, primary, perS } of rise) {
          mode.amplitude += area * weight * weights[primary]! * primaries[code * 3 + primary]! * perS;
        }
      }
      return { constant: 0, modes };
    },
  };
}

export interface DenseLcdSettings {
  readonly rows: number;
  readonly riseMs: number;
  readonly fallMs: number;
  readonly black: number;
  readonly pwmHz?: number;
  readonly pwmDuty01?: number;
  readonly pwmPhase01?: number;
}

/** An LCD whose scan takes 16 ms. Every cell is moved on by every tick, in the dark too. */
export function denseLcd(screen: Screen, settings: DenseLcdSettings): DenseLight & { readonly steady: number } {
  const { timing, history, frames, aim, radius, white, weights = silicon } = screen;
  const { rows, riseMs, fallMs, black, pwmHz = 0, pwmDuty01 = 1, pwmPhase01 = 0 } = settings;
  const primaries = linearPrimaries(timing.swapsRedGreenEmphasis);
  const clock = timing.masterNumerator / timing.masterDenominator;
  const tauS = { rise: riseMs / 1000 / Math.log(9), fall: fallMs / 1000 / Math.log(9) };
  const [rise, fall] = [Math.exp(-1 / clock / tauS.rise), Math.exp(-1 / clock / tauS.fall)];
  const cells = spotElements(aim, radius, rows).map((element) => ({ ...element, value: black, target: black }));
  const scanTicks = Math.round(0.016 * clock);
  const refreshed = new Map<number, { n: number; row: number }>();
  for (let n = 0; n < frames; n++) {
    for (const row of new Set(cells.map((cell) => cell.row))) {
      const start = history.get(n)!.lineZeroTick + 4 * timing.dotDivider + ticksPerLine(timing);
      refreshed.set(start + Math.round((row * scanTicks) / rows), { n, row });
    }
  }
  const isOn = (tick: number): boolean => {
    const turns = (tick * pwmHz) / clock + pwmPhase01;
    return pwmHz === 0 || turns - Math.floor(turns) < pwmDuty01;
  };
  return {
    steady: cells.reduce((sum, { weight }) => sum + weight * black, 0),
    from(tick) {
      const refresh = refreshed.get(tick);
      if (refresh !== undefined) {
        const line = Math.floor((refresh.row * 240) / rows);
        for (const cell of cells) {
          if (cell.row !== refresh.row) continue;
          const code = history.get(refresh.n)!.codes[line * 256 + cell.dot]!;
          cell.target = black + (white - black) * seen(primaries, code, weights);
        }
      }
      const up = { tauS: tauS.rise, decay: rise, amplitude: 0 };
      const down = { tauS: tauS.fall, decay: fall, amplitude: 0 };
      let constant = 0;
      for (const cell of cells) {
        const way = cell.value - cell.target;
        constant += cell.weight * cell.target;
        if (way < 0) up.amplitude += cell.weight * way;
        else down.amplitude += cell.weight * way;
        cell.value = cell.target + way * (way < 0 ? rise : fall);
      }
      return isOn(tick) ? { constant, modes: [up, down] } : { constant: 0, modes: [] };
    },
  };
}

export interface DenseLamp {
  readonly meanCdM2: number;
  readonly percentFlicker: number;
  readonly mainsHz: number;
  readonly phase01: number;
}

/** Room light in the middle of a tick. */
export const lampLight = ({ meanCdM2, percentFlicker, mainsHz, phase01 }: DenseLamp, timing: Timing, tick: number) =>
  meanCdM2 *
  (1 + (percentFlicker / 100) * Math.cos(2 * Math.PI * (2 * mainsHz * ticksToSeconds(timing, tick + 0.5) + phase01)));

export interface DenseSensor {
  readonly flips: number[];
  /** From `tick` to `tick` + 1; the modes are moved on too. */
  step(tick: number, shine: Shine): void;
}

/** Wide-band: exact low-pass of the modes; baseline and threshold applied at every tick. */
export class DenseWideBand implements DenseSensor {
  readonly flips: number[] = [];
  x: number;
  b: number;
  #isLit = false;
  readonly #threshold: number;
  readonly #tau: number;
  readonly #pole: number;
  readonly #baseline: { readonly lit: number; readonly unlit: number };

  constructor(timing: Timing, cornerHz: number, threshold: number, steady: number) {
    const dt = ticksToSeconds(timing, 1);
    this.x = steady;
    this.b = steady;
    this.#threshold = threshold;
    this.#tau = 1 / (2 * Math.PI * cornerHz);
    this.#pole = Math.exp(-dt / this.#tau);
    this.#baseline = { lit: 1 - Math.exp(-dt / 10), unlit: 1 - Math.exp(-dt) };
  }

  step(tick: number, { constant, modes }: Shine): void {
    const before = this.x;
    this.x = constant + (this.x - constant) * this.#pole;
    for (const mode of modes) {
      this.x += (mode.amplitude * mode.tauS * (mode.decay - this.#pole)) / (mode.tauS - this.#tau);
      mode.amplitude *= mode.decay;
    }
    const rise = this.#isLit ? this.#baseline.lit : this.#baseline.unlit;
    this.b = Math.min(this.b + ((before + this.x) / 2 - this.b) * rise, this.x);
    const above = this.x - this.b;
    if (!(this.#isLit ? above < 0.8 * this.#threshold : above > this.#threshold)) return;
    this.#isLit = !this.#isLit;
    this.flips.push(tick + 1);
  }
}

export interface DenseLineRateSettings {
  readonly f0Hz: number;
  readonly q: number;
  readonly dropCdM2: number;
  readonly attackUs: number;
  readonly releaseMs: number;
  readonly thresholdCdM2: number;
  readonly hysteresis01: number;
  readonly holdMs: number;
}

/** A mode of 1: what is left of it after a step, and the x1 and x2 that it forces. */
interface ForcedMode {
  readonly decay: number;
  readonly first: number;
  readonly second: number;
}

/** A step of fixed length through band-pass and store. */
class LineRateStep {
  readonly #settings: DenseLineRateSettings;
  readonly #h: number;
  readonly #w0: number;
  readonly #matrix: readonly [number, number, number, number];
  readonly #drained: number;
  readonly #tau: number;
  readonly #charged: number;
  readonly #forced = new Map<number, ForcedMode>();
  first = 0;
  second = 0;
  envelope = 0;

  constructor(settings: DenseLineRateSettings, h: number) {
    const { f0Hz, q, attackUs, releaseMs } = settings;
    this.#settings = settings;
    this.#h = h;
    this.#w0 = 2 * Math.PI * f0Hz;
    const alpha = this.#w0 / 2 / q;
    const wd = this.#w0 * Math.sqrt(1 - 1 / (4 * q * q));
    const [e, c, s] = [Math.exp(-alpha * h), Math.cos(wd * h), Math.sin(wd * h)];
    this.#matrix = [
      e * (c - (alpha * s) / wd),
      (-e * this.#w0 * s) / wd,
      (e * this.#w0 * s) / wd,
      e * (c + (alpha * s) / wd),
    ];
    this.#drained = Math.exp(-h / (releaseMs / 1000));
    this.#tau = 1 / (1e6 / attackUs + 1000 / releaseMs);
    this.#charged = Math.exp(-h / this.#tau);
  }

  /** `share` = what is left of each mode's amplitude when the step begins, by its place in `modes`. */
  run(constant: number, modes: readonly Decay[], share: Float64Array, isCharging: boolean): void {
    const steady = constant / this.#settings.q;
    let [first, second, nextFirst, nextSecond] = [0, steady, 0, steady];
    for (let m = 0; m < modes.length; m++) {
      const { tauS, amplitude } = modes[m]!;
      if (amplitude === 0) continue;
      const mode = this.#modeOf(tauS);
      const now = amplitude * share[m]!;
      share[m]! *= mode.decay;
      first += now * mode.first;
      second += now * mode.second;
      nextFirst += now * mode.decay * mode.first;
      nextSecond += now * mode.decay * mode.second;
    }
    const [a, b, c, d] = this.#matrix;
    const free = [this.first - first, this.second - second] as const;
    const carrier = a * free[0] + b * free[1] + nextFirst;
    this.second = c * free[0] + d * free[1] + nextSecond;
    this.envelope = isCharging ? this.#charge(this.first, carrier) : this.envelope * this.#drained;
    this.first = carrier;
  }

  #modeOf(tauS: number): ForcedMode {
    const known = this.#forced.get(tauS);
    if (known !== undefined) return known;
    const s = -1 / tauS;
    const perQ = this.#w0 / this.#settings.q;
    const first = (perQ * s) / (s * s + perQ * s + this.#w0 ** 2);
    const made = { decay: Math.exp(-this.#h / tauS), first, second: (this.#w0 * first) / s };
    this.#forced.set(tauS, made);
    return made;
  }

  /** The store after the step, with a carrier that goes straight from one value to the other. */
  #charge(from: number, to: number): number {
    const { dropCdM2, attackUs } = this.#settings;
    const gain = (this.#tau * 1e6) / attackUs;
    const [start, end] = [(from - dropCdM2) * gain, (to - dropCdM2) * gain];
    const behind = (this.#tau * (end - start)) / this.#h;
    return end - behind + (this.envelope - start + behind) * this.#charged;
  }
}

/** Steps to a tick while the store is charged. */
const PARTS = 4;

/**
 * Line-rate: the band-pass in state-space form, x' = [[-w0/Q, -w0], [w0, 0]] x + [w0/Q, 0] light, by its matrix
 * exponential and the exact response to each mode; the store with a carrier that is straight over a quarter of a tick;
 * rectifier, comparator and hold looked at once a tick.
 */
export class DenseLineRate implements DenseSensor {
  readonly flips: number[] = [];
  carrier = 0;
  envelope = 0;
  #second: number;
  #isCharging = false;
  #isHigh = false;
  #isLit = false;
  #holdEnd = Number.NEGATIVE_INFINITY;
  readonly #settings: DenseLineRateSettings;
  readonly #holdTicks: number;
  readonly #tickStep: LineRateStep;
  readonly #partStep: LineRateStep;
  readonly #share = new Float64Array(64);

  constructor(timing: Timing, settings: DenseLineRateSettings, steady: number) {
    this.#settings = settings;
    this.#holdTicks = Math.round(((settings.holdMs / 1000) * timing.masterNumerator) / timing.masterDenominator);
    const dt = ticksToSeconds(timing, 1);
    this.#tickStep = new LineRateStep(settings, dt);
    this.#partStep = new LineRateStep(settings, dt / PARTS);
    this.#second = steady / settings.q;
  }

  step(tick: number, { constant, modes }: Shine): void {
    const step = this.#isCharging ? this.#partStep : this.#tickStep;
    step.first = this.carrier;
    step.second = this.#second;
    step.envelope = this.envelope;
    this.#share.fill(1);
    for (let i = 0; i < (this.#isCharging ? PARTS : 1); i++) {
      step.run(constant, modes, this.#share, this.#isCharging);
    }
    this.carrier = step.first;
    this.#second = step.second;
    this.envelope = step.envelope;
    for (const mode of modes) mode.amplitude *= mode.decay;
    this.#look(tick + 1);
  }

  #look(tick: number): void {
    const { dropCdM2, thresholdCdM2, hysteresis01 } = this.#settings;
    if (!this.#isHigh && this.envelope > thresholdCdM2) this.#isHigh = true;
    else if (this.#isHigh && this.envelope < thresholdCdM2 * (1 - hysteresis01)) {
      this.#isHigh = false;
      this.#holdEnd = tick + this.#holdTicks;
    }
    const excess = this.carrier - dropCdM2 - this.envelope;
    this.#isCharging = this.#isCharging ? excess >= 0 : excess > 1e-6;
    const isLit = this.#isHigh || tick < this.#holdEnd;
    if (isLit !== this.#isLit) this.flips.push(tick);
    this.#isLit = isLit;
  }
}
