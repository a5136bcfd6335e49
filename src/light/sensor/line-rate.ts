import { LatelightError } from '../../errors/latelight-error.ts';
import { LINE_RATE_60_HZ } from '../../references/light-sensor.ts';
import { harmonicContent, PHOSPHORS } from '../../references/phosphor.ts';
import type { ParameterValues } from '../../references/sourced.ts';
import { msToTicks, type Timing, ticksToSeconds } from '../../units/timing.ts';
import { flushed, type LightModes } from '../light-modes.ts';
import type { ImpulseSum, PoleKicks, SpectralWeights } from '../panel/panel.ts';
import { checkParameters } from '../parameters.ts';
import { NO_PHASOR, type Phasor, product } from '../phasor.ts';
import { restoreNumber, type SavedState } from '../saved-state.ts';
import { BandPass } from './band-pass.ts';
import { firstTrueTick, type GuardOverTicks, MOST_HALVINGS } from './first-true.ts';
import { LINE_RATE_SPEC } from './line-rate-spec.ts';
import { RectifiedCarrier, type RectifiedInstant, rectifiedInstant } from './rectified-carrier.ts';
import { SLACK } from './relaxation.ts';
import type { Sensor, SensorContext, SensorModel, SensorReading } from './sensor.ts';

/** What is left of each primary's light in the signal of a P22 tube at the line rate. */
const TUBE_CONTENT = PHOSPHORS[0]!.primaries.map((terms) => harmonicContent(terms, LINE_RATE_60_HZ.value));

/** The carrier must exceed drop and envelope by this much before the store is charged, cd/m2. Keeps rounding from
 * switching a silent state to and fro; a threshold is 10,000 times larger or more. Our choice. */
const CHARGING_DEADBAND_CDM2 = 1e-6;

/** Tells this sensor's poles from those of others. */
const LINE_RATE_KEY = 2;

/**
 * Line-rate sensor: band-pass, half-wave rectifier into a store (see `RectifiedCarrier`), comparator, hold.
 *
 * The comparator goes high when the envelope exceeds the threshold, low when it is below the threshold less the
 * hysteresis. Lit while it is high and for the hold after that; a hold begins anew each time (retriggerable). All guards
 * are committed at the first whole tick at which they hold; the end of the hold is a tick of its own. No crossing is
 * missed, however often the carrier swings in a span: a span is left out only if bounds prove that no guard holds in it.
 * Power-on: a steady light, an empty store, unlit.
 */
class LineRateSensor implements Sensor {
  readonly #thresholdCdM2: number;
  readonly #lowCdM2: number;
  readonly #holdTicks: number;
  readonly #bandPass: BandPass;
  readonly #draining: RectifiedCarrier;
  readonly #charging: RectifiedCarrier;
  readonly #guard: GuardOverTicks<RectifiedInstant>;
  readonly poles: PoleKicks;
  readonly #timing: Timing;
  #z: Phasor = NO_PHASOR;
  #envelope = 0;
  #isCharging = false;
  #isHigh = false;
  /** Ticks from the cut to the end of the hold, 0 if none runs. */
  #holdLeft = 0;
  /** The latest tick up to which no guard was true, and the first at which one is. Known from the cut, never saved. */
  #clear = rectifiedInstant();
  #found: RectifiedInstant | undefined;
  /** Storage of instants; the one at the end of a span takes turns with `#clear`. */
  #end = rectifiedInstant();
  readonly #start = rectifiedInstant();
  readonly #foundStore = rectifiedInstant();
  readonly #middles = Array.from({ length: MOST_HALVINGS }, rectifiedInstant);
  /** What the next `settle` acts on. */
  #due: RectifiedInstant | 'hold end' | undefined;

  constructor(values: ParameterValues, { timing, decays, swing }: SensorContext) {
    this.#thresholdCdM2 = values['thresholdCdM2']!;
    this.#lowCdM2 = this.#thresholdCdM2 * (1 - values['hysteresis01']!);
    this.#holdTicks = msToTicks(timing, values['holdMs']!);
    this.#bandPass = new BandPass(decays, timing, values['f0Hz']!, values['q']!, swing);
    const store = {
      dropCdM2: values['dropCdM2']!,
      attackS: values['attackUs']! / 1e6,
      releaseS: values['releaseMs']! / 1000,
    };
    this.#draining = new RectifiedCarrier(this.#bandPass, false, store, timing);
    this.#charging = new RectifiedCarrier(this.#bandPass, true, store, timing);
    this.#timing = timing;
    this.poles = {
      key: [LINE_RATE_KEY, values['f0Hz']!, values['q']!, ...Object.values(store)],
      kickCount: 3,
      kick: (kicks, ticks, jump) => {
        const carried = product({ re: kicks[0]!, im: kicks[1]! }, this.#bandPass.turns.after(ticks));
        const forced = this.#bandPass.forcedBy(jump);
        kicks[0] = carried.re - forced.re;
        kicks[1] = carried.im - forced.im;
        kicks[2] = this.#charging.kick(kicks[2]!, ticks, jump, { re: -forced.re, im: -forced.im });
      },
    };
    this.#guard = {
      at: (ticks, depth = 0) => this.#form.at(ticks, this.#middles[depth]),
      isTrue: (instant) => this.#isTrue(instant),
      mayBeTrue: (from, to) => this.#mayBeTrue(from, to),
    };
  }

  get isLit(): boolean {
    return this.#isHigh || this.#holdLeft > 0;
  }

  get #form(): RectifiedCarrier {
    return this.#isCharging ? this.#charging : this.#draining;
  }

  #isTrue({ excess, envelope }: RectifiedInstant): boolean {
    if (this.#isHigh ? envelope < this.#lowCdM2 : envelope > this.#thresholdCdM2) return true;
    return this.#isCharging ? excess < 0 : excess > CHARGING_DEADBAND_CDM2;
  }

  #mayBeTrue(from: RectifiedInstant, to: RectifiedInstant): boolean {
    const { excessMin, excessMax, envelopeMin, envelopeMax } = this.#form.bounds(from, to);
    if (this.#isHigh ? envelopeMin < this.#lowCdM2 : envelopeMax > this.#thresholdCdM2) return true;
    return this.#isCharging ? excessMin < 0 : excessMax > CHARGING_DEADBAND_CDM2;
  }

  powerOn(light: LightModes): void {
    this.#z = this.#bandPass.steady(light);
    this.#envelope = 0;
    this.#isCharging = false;
    this.#isHigh = false;
    this.#holdLeft = 0;
    this.rebase(light);
  }

  nextGuard(span: number): number {
    if (this.#found === undefined && span > this.#clear.ticks) {
      const to = this.#form.at(span, this.#end);
      const ticks = firstTrueTick(this.#guard, this.#clear, to);
      if (ticks === Number.POSITIVE_INFINITY) {
        this.#end = this.#clear;
        this.#clear = to;
      } else this.#found = this.#form.at(ticks, this.#foundStore);
    }
    const found = this.#found?.ticks ?? Number.POSITIVE_INFINITY;
    const holdEnd = this.#holdLeft > 0 ? this.#holdLeft : Number.POSITIVE_INFINITY;
    this.#due = found <= holdEnd ? this.#found : 'hold end';
    const next = Math.min(found, holdEnd);
    return next <= span ? next : Number.POSITIVE_INFINITY;
  }

  readingAfter(ticks: number): SensorReading {
    return { x: this.#instantAfter(ticks).envelope, b: 0, carrier: this.#bandPass.at(ticks).re };
  }

  #instantAfter(ticks: number): RectifiedInstant {
    const known = this.#found ?? this.#clear;
    return known.ticks === ticks ? known : this.#form.at(ticks, this.#end);
  }

  advance(ticks: number): void {
    const { re, im } = this.#bandPass.at(ticks);
    this.#z = { re: flushed(re), im: flushed(im) };
    this.#envelope = flushed(this.#instantAfter(ticks).envelope);
    this.#holdLeft = Math.max(0, this.#holdLeft - ticks);
  }

  allowance(ticks: number): number {
    const from = this.#form.at(0, this.#start);
    if (this.#isTrue(from) || (this.#holdLeft > 0 && this.#holdLeft <= ticks)) return -1;
    const bounds = this.#form.bounds(from, this.#form.at(ticks, this.#end));
    const { envelopeMin, envelopeMax } = bounds;
    const slack = SLACK * (from.magnitude + this.#thresholdCdM2);
    const distance = (this.#isHigh ? envelopeMin - this.#lowCdM2 : this.#thresholdCdM2 - envelopeMax) - slack;
    if (distance < 0) return -1;
    const seconds = ticksToSeconds(this.#timing, ticks);
    return Math.min(
      this.#form.allowance(bounds, seconds, CHARGING_DEADBAND_CDM2 - slack),
      this.#form.envelopeAllowance(distance, seconds),
    );
  }

  advanceThrough(ticks: number, { jumpCdM2, kicks }: Pick<ImpulseSum, 'jumpCdM2' | 'kicks'>): void {
    const free = this.#bandPass.at(ticks);
    const forced = this.#bandPass.forcedBy(jumpCdM2);
    const ring = { re: kicks[0]!, im: kicks[1]! };
    this.#z = { re: flushed(free.re + (forced.re + ring.re)), im: flushed(free.im + (forced.im + ring.im)) };
    const { envelope } = this.#form.at(ticks, this.#end);
    this.#envelope = flushed(this.#isCharging ? envelope + this.#charging.kicked(jumpCdM2, ring, kicks[2]!) : envelope);
    this.#holdLeft = Math.max(0, this.#holdLeft - ticks);
  }

  settle(): void {
    if (this.#due === 'hold end') return;
    if (this.#due === undefined)
      throw new LatelightError('INTERNAL', { what: 'the sensor was settled without a guard' });
    const { envelope, excess } = this.#due;
    if (!this.#isHigh && envelope > this.#thresholdCdM2) {
      this.#isHigh = true;
      this.#holdLeft = 0;
    } else if (this.#isHigh && envelope < this.#lowCdM2) {
      this.#isHigh = false;
      this.#holdLeft = this.#holdTicks;
    }
    if (this.#isCharging ? excess < 0 : excess > CHARGING_DEADBAND_CDM2) this.#isCharging = !this.#isCharging;
  }

  rebase(light: LightModes): void {
    this.#bandPass.rebase(light, this.#z);
    this.#form.rebase(light, this.#envelope);
    this.#form.at(0, this.#clear);
    this.#found = this.#isTrue(this.#clear) ? this.#clear : undefined;
  }

  save(): SavedState {
    return {
      carrier: this.#z.re,
      quadrature: this.#z.im,
      envelope: this.#envelope,
      isCharging: Number(this.#isCharging),
      isHigh: Number(this.#isHigh),
      holdLeft: this.#holdLeft,
    };
  }

  load(state: SavedState): void {
    this.#z = { re: restoreNumber(state, 'carrier'), im: restoreNumber(state, 'quadrature') };
    this.#envelope = restoreNumber(state, 'envelope');
    this.#isCharging = restoreNumber(state, 'isCharging') === 1;
    this.#isHigh = restoreNumber(state, 'isHigh') === 1;
    this.#holdLeft = restoreNumber(state, 'holdLeft');
  }
}

/**
 * The line-rate sensor. Its weights are shares of the *signal* of a white tube, because that is what can be measured; the
 * fast blue phosphor keeps more of its light at the line rate than the slow red one, so the sensitivity to *light* is the
 * share divided by what a P22 tube keeps.
 */
export const LINE_RATE: SensorModel = {
  spec: LINE_RATE_SPEC,
  spectralWeights(values): SpectralWeights {
    checkParameters(LINE_RATE_SPEC, values);
    const shares = [values['weightRed']!, values['weightGreen']!, values['weightBlue']!];
    const [red, green, blue] = shares.map((share, p) => share / TUBE_CONTENT[p]!) as [number, number, number];
    const sum = red + green + blue;
    if (sum > 0) return [red / sum, green / sum, blue / sum];
    const details = { name: 'line-rate.weightRed + weightGreen + weightBlue', found: 0, allowed: 'more than 0' };
    throw new LatelightError('PARAM_RANGE', details);
  },
  create(values, context) {
    checkParameters(LINE_RATE_SPEC, values);
    return new LineRateSensor(values, context);
  },
};
