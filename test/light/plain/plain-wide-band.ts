import type { LightModes } from '../../../src/light/light-modes.ts';
import { flushed } from '../../../src/light/light-modes.ts';
import type { ImpulseSum, RowPoles, RowRoom, RowTimes } from '../../../src/light/panel/panel.ts';
import { modulus, NO_PHASOR } from '../../../src/light/phasor.ts';
import { restoreNumber, type SavedState } from '../../../src/light/saved-state.ts';
import { firstTrueTick, type GuardOverTicks } from '../../../src/light/sensor/first-true.ts';
import type {
  Fading,
  Sensor,
  SensorContext,
  SensorPasses,
  SensorReading,
  SensorRows,
} from '../../../src/light/sensor/sensor.ts';
import type { ParameterValues } from '../../../src/references/sourced.ts';
import { exp } from '../../../src/units/exact-math.ts';
import { type Timing, ticksToSeconds } from '../../../src/units/timing.ts';
import { PlainDecays } from './plain-decays.ts';
import { type FilteredInstant, PlainFilteredLight } from './plain-filtered-light.ts';

/** Time constants of the baseline on its way up, s. Our choice: slow against a shot, quick enough after a bright sky. */
const BASELINE_TAU_S = 1;
const LIT_BASELINE_TAU_S = 10;
/** x must differ by this much from what it is compared with before the baseline's rule changes, cd/m2. Keeps rounding
 * from switching a steady state to and fro; a threshold is 10,000 times larger or more. Our choice. */
const BASELINE_DEADBAND_CDM2 = 1e-6;

/** Places of the kicks of the baseline's pole; place 0 is the low-pass's. */
const UNLIT_KICK = 1;
const LIT_KICK = 2;
/** Bounds keep this far from a guard, relative to what goes in: much more than rounding, much less than a dead band. */
const SLACK = 1e-12;

/**
 * Wide-band sensor: x = light through one pole; baseline b = min(b, x) at once, up towards x with 1 s, with 10 s while
 * lit; lit when x - b > threshold, unlit when x - b < threshold less hysteresis. No hold.
 *
 * Three ways to be: *following* (unlit, b = x, x not rising), *unlit* (b below x), *lit*. The guards between them are
 * committed at the first whole tick at which they hold. Power-on: a steady light, x = b, following.
 */
export class PlainWideBand implements Sensor {
  readonly #thresholdCdM2: number;
  readonly #releaseCdM2: number;
  readonly #unlitForm: PlainFilteredLight;
  readonly #litForm: PlainFilteredLight;
  readonly #guard: GuardOverTicks<FilteredInstant>;
  readonly poles: RowPoles;
  readonly rows: SensorRows | undefined;
  readonly #hasPasses: boolean;
  readonly #timing: Timing;
  #light: LightModes = { constantCdM2: 0, amplitudeCdM2: new Float64Array(), swingCdM2: NO_PHASOR };
  #x = 0;
  #b = 0;
  #isLit = false;
  #isFollowing = true;
  /** The latest tick up to which no guard was true, and the first at which one is. Known from the cut, never saved. */
  #clear: FilteredInstant;
  #found: FilteredInstant | undefined;

  constructor(values: ParameterValues, { timing, decays, swing }: SensorContext) {
    this.#thresholdCdM2 = values['thresholdCdM2']!;
    this.#releaseCdM2 = this.#thresholdCdM2 * (1 - values['hysteresis01']!);
    const tauS = 1 / (2 * Math.PI * values['cornerHz']!);
    const modes = new PlainDecays(decays.tauS, timing);
    this.#unlitForm = new PlainFilteredLight(modes, timing, tauS, BASELINE_TAU_S, swing);
    this.#litForm = new PlainFilteredLight(modes, timing, tauS, LIT_BASELINE_TAU_S, swing);
    this.#timing = timing;
    this.#clear = this.#unlitForm.at(0);
    this.poles = {
      key: [],
      kickCount: 3,
      kick: (kicks, ticks, jump) => {
        this.#unlitForm.kick(kicks, UNLIT_KICK, ticks, jump);
        this.#litForm.kick(kicks, LIT_KICK, ticks, jump);
      },
      perExposure: 1 / this.#unlitForm.tauS,
      filtered: (jump, kicks) => this.#unlitForm.kicked(jump, kicks, UNLIT_KICK).x,
      filteredAfter: (ticks, jump, kicks) => this.#unlitForm.filteredAfter(ticks, jump, kicks),
      mostAfter: (ticks, filtered, jump) => this.#unlitForm.mostAfter(ticks, filtered, jump),
    };
    this.rows = swing === undefined ? { poles: this.poles, room: (times) => this.#roomOfRows(times) } : undefined;
    this.#hasPasses = swing === undefined;
    this.#guard = {
      at: (ticks) => this.#form.at(ticks),
      isTrue: (instant) => this.#isTrue(instant),
      mayBeTrue: (from, to) => this.#mayBeTrue(from, to),
    };
  }

  get isLit(): boolean {
    return this.#isLit;
  }

  get passes(): SensorPasses | undefined {
    const cut = this.#form.at(0);
    if (!this.#hasPasses || !this.#isFollowing || cut.drive > 0) return undefined;
    const form = this.#unlitForm;
    const slack = SLACK * (cut.magnitude + this.#thresholdCdM2);
    const xAfter = (ticks: number): number => form.at(ticks).x;
    return {
      poles: this.poles,
      room: (ticks) => this.#thresholdCdM2 - slack - (this.#x - xAfter(ticks)),
      isLikeBefore: (top, { first, settled, end, filtered, least, lateExposure }) => {
        const left = exp(-ticksToSeconds(this.#timing, end - first) / form.baselineTauS);
        const byLateLight = (lateExposure - form.tauS * filtered) / form.baselineTauS;
        const fall = xAfter(top + settled) - xAfter(top + end);
        return Math.min(byLateLight, least) * left + fall * left - filtered > BASELINE_DEADBAND_CDM2 + slack;
      },
      advance: (top, { end, filtered }) => {
        this.#x = flushed(xAfter(top + end) + filtered);
        this.#b = this.#x;
      },
    };
  }

  get #form(): PlainFilteredLight {
    return this.#isLit ? this.#litForm : this.#unlitForm;
  }

  #isTrue({ drive, above }: FilteredInstant): boolean {
    if (this.#isFollowing) return drive > BASELINE_DEADBAND_CDM2;
    if (this.#isLit) return above < this.#releaseCdM2;
    return above > this.#thresholdCdM2 || above < -BASELINE_DEADBAND_CDM2;
  }

  #mayBeTrue(from: FilteredInstant, to: FilteredInstant): boolean {
    const { driveMax, aboveMin, aboveMax } = this.#form.bounds(from, to);
    if (this.#isFollowing) return driveMax > BASELINE_DEADBAND_CDM2;
    if (this.#isLit) return aboveMin < this.#releaseCdM2;
    return aboveMax > this.#thresholdCdM2 || aboveMin < -BASELINE_DEADBAND_CDM2;
  }

  powerOn(light: LightModes): void {
    this.#x = this.#unlitForm.steady(light);
    this.#b = this.#x;
    this.#isLit = false;
    this.#isFollowing = true;
    this.rebase(light);
  }

  nextGuard(span: number): number {
    if (this.#found === undefined && span > this.#clear.ticks) {
      const to = this.#form.at(span);
      const ticks = firstTrueTick(this.#guard, this.#clear, to);
      if (ticks === Number.POSITIVE_INFINITY) this.#clear = to;
      else this.#found = this.#form.at(ticks);
    }
    return this.#found !== undefined && this.#found.ticks <= span ? this.#found.ticks : Number.POSITIVE_INFINITY;
  }

  readingAfter(ticks: number): SensorReading {
    const known = this.#found ?? this.#clear;
    const { x, above } = known.ticks === ticks ? known : this.#form.at(ticks);
    return { x, b: this.#isFollowing ? x : x - above };
  }

  advance(ticks: number): void {
    const { x, b } = this.readingAfter(ticks);
    this.#x = flushed(x);
    this.#b = flushed(b);
  }

  allowance(ticks: number, { emittedS, lasting }: Fading): number {
    if (this.#isFollowing) return -1;
    const { constantCdM2, amplitudeCdM2, swingCdM2 } = this.#light;
    const [tau, tauB] = [this.#form.tauS, this.#form.baselineTauS];
    const seconds = ticksToSeconds(this.#timing, ticks);
    const swing = modulus(swingCdM2);
    let exposure = (constantCdM2 + swing) * seconds;
    let least = constantCdM2 - swing;
    for (let m = 0; m < amplitudeCdM2.length; m++) {
      exposure += amplitudeCdM2[m]! * emittedS[m]!;
      least += amplitudeCdM2[m]! * lasting[m]!;
    }
    const [x, b] = [this.#x, this.#b];
    const slack = SLACK * (Math.abs(x) + Math.abs(b) + this.#thresholdCdM2);
    const xMin = x - (Math.max(0, x - least) * seconds) / tau;
    const floor = (this.#isLit ? this.#releaseCdM2 : -BASELINE_DEADBAND_CDM2) + slack;
    if (xMin - b < floor) return -1;
    let xMax = b + ((xMin - b - floor) * tauB) / seconds;
    if (!this.#isLit) {
      const bMin = b - (Math.max(0, b - xMin) * seconds) / tauB;
      xMax = Math.min(xMax, bMin + this.#thresholdCdM2 - slack);
    }
    return (xMax - Math.max(0, x)) * tau - exposure;
  }

  #roomOfRows(times: RowTimes): RowRoom | undefined {
    if (this.#isFollowing) return undefined;
    const { most, mostLater, least, leastLater, magnitude } = this.#form.boundsAlone(times, this.#x);
    const [threshold, b] = [this.#thresholdCdM2, this.#b];
    const slack = SLACK * (magnitude + Math.abs(b) + threshold);
    const reach = this.#isLit ? 1000 * threshold : threshold;
    const rise = (ticks: number): number => (reach / this.#form.baselineTauS) * ticksToSeconds(this.#timing, ticks);
    const low = b + (this.#isLit ? this.#releaseCdM2 : -BASELINE_DEADBAND_CDM2) + slack;
    const high = b + (this.#isLit ? reach : threshold - BASELINE_DEADBAND_CDM2) - slack;
    if (least < low + rise(times.firstEnd) || most > high) return undefined;
    return { most: high - mostLater, least: low + rise(times.end) - leastLater };
  }

  advanceThrough(ticks: number, { jumpCdM2, kicks }: Pick<ImpulseSum, 'jumpCdM2' | 'kicks'>): void {
    const free = this.#form.at(ticks);
    const kicked = this.#form.kicked(jumpCdM2, kicks, this.#isLit ? LIT_KICK : UNLIT_KICK);
    const x = free.x + kicked.x;
    this.#b = flushed(x - (free.above + kicked.above));
    this.#x = flushed(x);
  }

  settle(): void {
    const above = this.#found?.above;
    if (above === undefined) throw new Error('settled without a guard');
    if (this.#isFollowing) this.#isFollowing = false;
    else if (this.#isLit) this.#isLit = false;
    else if (above > this.#thresholdCdM2) this.#isLit = true;
    else {
      this.#isFollowing = true;
      this.#b = this.#x;
    }
  }

  rebase(light: LightModes): void {
    this.#light = light;
    this.#form.rebase(light, this.#x, this.#b);
    this.#clear = this.#form.at(0);
    this.#found = this.#isTrue(this.#clear) ? this.#clear : undefined;
  }

  save(): SavedState {
    return { x: this.#x, b: this.#b, isLit: Number(this.#isLit), isFollowing: Number(this.#isFollowing) };
  }

  load(state: SavedState): void {
    this.#x = restoreNumber(state, 'x');
    this.#b = restoreNumber(state, 'b');
    this.#isLit = restoreNumber(state, 'isLit') === 1;
    this.#isFollowing = restoreNumber(state, 'isFollowing') === 1;
  }
}
