import { LatelightError } from '../../errors/latelight-error.ts';
import type { ParameterValues } from '../../references/sourced.ts';
import { type Timing, ticksToSeconds } from '../../units/timing.ts';
import { flushed, type LightModes } from '../light-modes.ts';
import type { ImpulseSum, RowPoles, RowRoom, RowTimes, SpectralWeights } from '../panel/panel.ts';
import { checkParameters } from '../parameters.ts';
import { modulus, NO_PHASOR } from '../phasor.ts';
import { restoreNumber, type SavedState } from '../saved-state.ts';
import { type FilteredBounds, type FilteredInstant, FilteredLight, filteredInstant } from './filtered-light.ts';
import { firstTrueTick, type GuardOverTicks, MOST_HALVINGS } from './first-true.ts';
import { SLACK } from './relaxation.ts';
import type { Fading, Sensor, SensorContext, SensorModel, SensorPasses, SensorReading, SensorRows } from './sensor.ts';
import { WIDE_BAND_SPEC } from './wide-band-spec.ts';

/** Time constants of the baseline on its way up, s. Our choice: slow against a shot, quick enough after a bright sky. */
const BASELINE_TAU_S = 1;
const LIT_BASELINE_TAU_S = 10;
/** x must differ by this much from what it is compared with before the baseline's rule changes, cd/m2. Keeps rounding
 * from switching a steady state to and fro; a threshold is 10,000 times larger or more. Our choice. */
const BASELINE_DEADBAND_CDM2 = 1e-6;

/** While lit, rows are taken together as long as x - b stays below so many thresholds. Our choice: the baseline hardly moves. */
const LIT_MOST_THRESHOLDS = 1000;

/** Tells this sensor's poles from those of others. */
const WIDE_BAND_KEY = 1;
/** Places of the kicks of the baseline's pole; place 0 is the low-pass's. */
const UNLIT_KICK = 1;
const LIT_KICK = 2;

/**
 * Wide-band sensor: x = light through one pole; baseline b = min(b, x) at once, up towards x with 1 s, with 10 s while
 * lit; lit when x - b > threshold, unlit when x - b < threshold less hysteresis. No hold.
 *
 * Three ways to be: *following* (unlit, b = x, x not rising), *unlit* (b below x), *lit*. The guards between them are
 * committed at the first whole tick at which they hold. Power-on: a steady light, x = b, following.
 */
class WideBandSensor implements Sensor {
  readonly #thresholdCdM2: number;
  readonly #releaseCdM2: number;
  readonly #unlitForm: FilteredLight;
  readonly #litForm: FilteredLight;
  readonly #guard: GuardOverTicks<FilteredInstant>;
  readonly poles: RowPoles;
  readonly #rows: SensorRows | undefined;
  readonly #passes: SensorPasses | undefined;
  readonly #timing: Timing;
  readonly #room = { most: 0.5, least: 0.5 };
  #light: LightModes = { constantCdM2: 0, amplitudeCdM2: new Float64Array(), swingCdM2: NO_PHASOR };
  #x = 0;
  #b = 0;
  #isLit = false;
  #isFollowing = true;
  /** What x comes to alone, and when. Known from the cut, never saved. */
  #aloneTicks = -1;
  #aloneX = 0.5;
  /** No guard will ever be true if no cut comes. Known from the cut, never saved. */
  #isClearForEver = false;
  /** The light has no oscillation. */
  readonly #isSteady: boolean;
  /** Of the light at the cut: how much it exceeds x, and the magnitude of its terms. */
  #cutDrive = 0;
  #cutMagnitude = 0;
  /** The latest tick up to which no guard was true, and the first at which one is. Known from the cut, never saved. */
  #clear = filteredInstant();
  #found: FilteredInstant | undefined;
  /** Storage of instants; the one at the end of a span takes turns with `#clear`. */
  #end = filteredInstant();
  readonly #foundStore = filteredInstant();
  readonly #middles = Array.from({ length: MOST_HALVINGS }, filteredInstant);

  constructor(values: ParameterValues, { timing, decays, swing }: SensorContext) {
    this.#thresholdCdM2 = values['thresholdCdM2']!;
    this.#releaseCdM2 = this.#thresholdCdM2 * (1 - values['hysteresis01']!);
    const tauS = 1 / (2 * Math.PI * values['cornerHz']!);
    this.#unlitForm = new FilteredLight(decays, timing, tauS, BASELINE_TAU_S, swing);
    this.#litForm = new FilteredLight(decays, timing, tauS, LIT_BASELINE_TAU_S, swing);
    this.#timing = timing;
    this.poles = {
      key: [WIDE_BAND_KEY, tauS, BASELINE_TAU_S, LIT_BASELINE_TAU_S],
      kickCount: 3,
      kick: (kicks, ticks, jump) => {
        this.#unlitForm.kick(kicks, UNLIT_KICK, ticks, jump);
        this.#litForm.kick(kicks, LIT_KICK, ticks, jump);
      },
      perExposure: 1 / this.#unlitForm.tauS,
      filtered: (jump, kicks) => this.#unlitForm.filteredOf(jump, kicks),
      filteredAfter: (ticks, jump, kicks) => this.#unlitForm.filteredAfter(ticks, jump, kicks),
      mostAfter: (ticks, filtered, jump) => this.#unlitForm.mostAfter(ticks, filtered, jump),
    };
    this.#isSteady = swing === undefined;
    // An oscillation of the room has no such bounds.
    this.#rows = this.#isSteady ? { poles: this.poles, room: (times) => this.#roomOfRows(times) } : undefined;
    this.#passes = this.#isSteady ? this.#followedPasses() : undefined;
    this.#guard = {
      at: (ticks, depth = 0) => this.#form.at(ticks, this.#middles[depth]),
      isTrue: (instant) => this.#isTrue(instant),
      mayBeTrue: (from, to) => this.#mayBeTrue(from, to),
      ticksToGo: (from, to, isChord) => this.#ticksToGo(from, to, isChord),
    };
  }

  get isLit(): boolean {
    return this.#isLit;
  }

  /** Not while it follows: that ends with the first impulse. */
  get rows(): SensorRows | undefined {
    return this.#isFollowing ? undefined : this.#rows;
  }

  /** Only while it follows a light that falls. */
  get passes(): SensorPasses | undefined {
    return this.#isFollowing && this.#cutDrive <= 0 ? this.#passes : undefined;
  }

  /**
   * An x that falls falls for good as long as no impulse comes. So in a pass x stays below `#x` plus what the impulses make
   * of it, and b, which starts at x and moves towards it, is nowhere below what x would fall to without them: that is `room`.
   *
   * At the end b follows again because it can be nothing else. Say that it parted from x for the last time at a moment t
   * of the pass, at `settled` at the latest, behind which x falls. Then b is now a mean of x since t: its weight on x(t) is
   * e^(-age / tauB), at least `left`, and that on each later dt is e^(-age / tauB) dt / tauB. Both parts of x lift it above
   * what x is now: that without the impulses, which fell from its value at `settled` or more, and that of the impulses.
   * If t was within the first lit row, all light behind that row lifted b, `lateExposure` less what the low-pass still
   * holds; if it was later, x(t) had at least `least` of the impulses. A b that is so far above x has met it before.
   */
  #followedPasses(): SensorPasses {
    const form = this.#unlitForm;
    return {
      poles: this.poles,
      room: (ticks) => this.#thresholdCdM2 - this.#slackOfPasses - (this.#x - this.#xAlone(ticks)),
      isLikeBefore: (top, { first, settled, end, filtered, least, lateExposure }) => {
        const left = form.baselineLeft(end - first);
        const lifted = Math.min(((lateExposure - form.tauS * filtered) / form.baselineTauS) * left, least * left);
        const lift = lifted + (form.xAfter(top + settled) - this.#xAlone(top + end)) * left - filtered;
        return lift > BASELINE_DEADBAND_CDM2 + this.#slackOfPasses;
      },
      advance: (top, { end, filtered }) => {
        this.#x = flushed(this.#xAlone(top + end) + filtered);
        this.#b = this.#x;
      },
    };
  }

  /** x so many ticks after the cut if nothing comes; the latest answer is kept. */
  #xAlone(ticks: number): number {
    if (ticks !== this.#aloneTicks) {
      this.#aloneX = this.#unlitForm.xAfter(ticks);
      this.#aloneTicks = ticks;
    }
    return this.#aloneX;
  }

  get #slackOfPasses(): number {
    return SLACK * (this.#cutMagnitude + this.#thresholdCdM2);
  }

  get #form(): FilteredLight {
    return this.#isLit ? this.#litForm : this.#unlitForm;
  }

  #isTrue({ drive, above }: FilteredInstant): boolean {
    if (this.#isFollowing) return drive > BASELINE_DEADBAND_CDM2;
    if (this.#isLit) return above < this.#releaseCdM2;
    return above > this.#thresholdCdM2 || above < -BASELINE_DEADBAND_CDM2;
  }

  #mayBeTrue(from: FilteredInstant, to: FilteredInstant): boolean {
    return this.#mayBeTrueWithin(this.#form.bounds(from, to));
  }

  #mayBeTrueWithin({ driveMax, aboveMin, aboveMax }: FilteredBounds): boolean {
    if (this.#isFollowing) return driveMax > BASELINE_DEADBAND_CDM2;
    if (this.#isLit) return aboveMin < this.#releaseCdM2;
    return aboveMax > this.#thresholdCdM2 || aboveMin < -BASELINE_DEADBAND_CDM2;
  }

  /** If x went on as steeply as it does, or evenly from one to the other, and the baseline stood still. */
  #ticksToGo(from: FilteredInstant, to: FilteredInstant, isChord: boolean): number {
    if (this.#isFollowing) return Number.POSITIVE_INFINITY;
    const { drive, above } = from;
    const goal = this.#isLit ? this.#releaseCdM2 : drive < 0 ? -BASELINE_DEADBAND_CDM2 : this.#thresholdCdM2;
    if (isChord) return ((goal - above) / (to.above - above)) * (to.ticks - from.ticks);
    const { masterNumerator, masterDenominator } = this.#timing;
    return (((goal - above) / drive) * this.#form.tauS * masterNumerator) / masterDenominator;
  }

  powerOn(light: LightModes): void {
    this.#x = this.#unlitForm.steady(light);
    this.#b = this.#x;
    this.#isLit = false;
    this.#isFollowing = true;
    this.rebase(light);
  }

  nextGuard(span: number): number {
    if (this.#found === undefined && span > this.#clear.ticks && !this.#isClearForEver) {
      const to = this.#form.at(span, this.#end);
      const ticks = firstTrueTick(this.#guard, this.#clear, to);
      if (ticks === Number.POSITIVE_INFINITY) {
        this.#end = this.#clear;
        this.#clear = to;
        this.#isClearForEver = this.#isSteady && !this.#mayBeTrueWithin(this.#form.boundsForEver(to));
      } else this.#found = this.#form.at(ticks, this.#foundStore);
    }
    return this.#found !== undefined && this.#found.ticks <= span ? this.#found.ticks : Number.POSITIVE_INFINITY;
  }

  readingAfter(ticks: number): SensorReading {
    const { x, above } = this.#instantAfter(ticks);
    return { x, b: this.#isFollowing ? x : x - above };
  }

  #instantAfter(ticks: number): FilteredInstant {
    const known = this.#found ?? this.#clear;
    return known.ticks === ticks ? known : this.#form.at(ticks, this.#end);
  }

  advance(ticks: number): void {
    const { x, above } = this.#instantAfter(ticks);
    this.#x = flushed(x);
    this.#b = flushed(this.#isFollowing ? x : x - above);
  }

  allowance(ticks: number, { emittedS, lasting }: Fading): number {
    if (this.#isFollowing) return -1;
    const { constantCdM2, amplitudeCdM2, swingCdM2 } = this.#light;
    const tau = this.#form.tauS;
    const tauB = this.#form.baselineTauS;
    const seconds = ticksToSeconds(this.#timing, ticks);
    const swing = modulus(swingCdM2);
    let exposure = (constantCdM2 + swing) * seconds;
    let least = constantCdM2 - swing;
    for (let m = 0; m < amplitudeCdM2.length; m++) {
      exposure += amplitudeCdM2[m]! * emittedS[m]!;
      least += amplitudeCdM2[m]! * lasting[m]!;
    }
    const x = this.#x;
    const b = this.#b;
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

  /** Unlit, x stays between the baseline and the threshold above it; lit, it stays above the release. */
  #roomOfRows(times: RowTimes): RowRoom | undefined {
    const bounds = this.#form.boundsAlone(times, this.#x);
    const threshold = this.#thresholdCdM2;
    const slack = SLACK * (bounds.magnitude + Math.abs(this.#b) + threshold);
    const most = this.#isLit ? LIT_MOST_THRESHOLDS * threshold : threshold - BASELINE_DEADBAND_CDM2;
    // The baseline rises towards an x that is no more than that above it.
    const rise = (this.#isLit ? most : threshold) / this.#form.baselineTauS;
    const low = this.#b + (this.#isLit ? this.#releaseCdM2 : -BASELINE_DEADBAND_CDM2) + slack;
    if (bounds.least < low + rise * ticksToSeconds(this.#timing, times.firstEnd)) return undefined;
    const high = this.#b + most - slack;
    if (bounds.most > high) return undefined;
    const room = this.#room;
    room.most = high - bounds.mostLater;
    room.least = low + rise * ticksToSeconds(this.#timing, times.end) - bounds.leastLater;
    return room;
  }

  advanceThrough(ticks: number, { jumpCdM2, kicks }: Pick<ImpulseSum, 'jumpCdM2' | 'kicks'>): void {
    const { x, above } = this.#form.through(ticks, jumpCdM2, kicks, this.#isLit ? LIT_KICK : UNLIT_KICK);
    this.#x = flushed(x);
    this.#b = flushed(x - above);
  }

  settle(): void {
    const above = this.#found?.above;
    if (above === undefined) throw new LatelightError('INTERNAL', { what: 'the sensor was settled without a guard' });
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
    this.#isClearForEver = false;
    this.#aloneTicks = -1;
    const cut = this.#clear;
    this.#form.rebase(light, this.#x, this.#b, cut);
    this.#cutDrive = cut.drive;
    this.#cutMagnitude = cut.magnitude;
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

/** The wide-band sensor. Its weights are divided by their sum. */
export const WIDE_BAND: SensorModel = {
  spec: WIDE_BAND_SPEC,
  spectralWeights(values): SpectralWeights {
    checkParameters(WIDE_BAND_SPEC, values);
    const [red, green, blue] = [values['weightRed']!, values['weightGreen']!, values['weightBlue']!];
    const sum = red + green + blue;
    if (sum > 0) return [red / sum, green / sum, blue / sum];
    const details = { name: 'wide-band.weightRed + weightGreen + weightBlue', found: 0, allowed: 'more than 0' };
    throw new LatelightError('PARAM_RANGE', details);
  },
  create(values, context) {
    checkParameters(WIDE_BAND_SPEC, values);
    return new WideBandSensor(values, context);
  },
};
