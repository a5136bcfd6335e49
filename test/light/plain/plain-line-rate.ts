import { flushed, type LightModes } from '../../../src/light/light-modes.ts';
import type { ImpulseSum, PoleKicks } from '../../../src/light/panel/panel.ts';
import { NO_PHASOR, type Phasor, product } from '../../../src/light/phasor.ts';
import { restoreNumber, type SavedState } from '../../../src/light/saved-state.ts';
import { BandPass } from '../../../src/light/sensor/band-pass.ts';
import { firstTrueTick, type GuardOverTicks } from '../../../src/light/sensor/first-true.ts';
import type { Sensor, SensorContext, SensorReading } from '../../../src/light/sensor/sensor.ts';
import type { ParameterValues } from '../../../src/references/sourced.ts';
import { msToTicks, type Timing, ticksToSeconds } from '../../../src/units/timing.ts';
import { PlainRectifiedCarrier, type RectifiedInstant } from './plain-rectified-carrier.ts';

/** The carrier must exceed drop and envelope by this much before the store is charged, cd/m2. Keeps rounding from
 * switching a silent state to and fro; a threshold is 10,000 times larger or more. Our choice. */
const CHARGING_DEADBAND_CDM2 = 1e-6;

/** Bounds keep this far from a guard, relative to what goes in: much more than rounding, much less than a dead band. */
const SLACK = 1e-12;

/**
 * Line-rate sensor: band-pass, half-wave rectifier into a store (see `PlainRectifiedCarrier`), comparator, hold.
 *
 * The comparator goes high when the envelope exceeds the threshold, low when it is below the threshold less the
 * hysteresis. Lit while it is high and for the hold after that; a hold begins anew each time (retriggerable). All guards
 * are committed at the first whole tick at which they hold; the end of the hold is a tick of its own. No crossing is
 * missed, however often the carrier swings in a span: a span is left out only if bounds prove that no guard holds in it.
 * Power-on: a steady light, an empty store, unlit.
 */
export class PlainLineRate implements Sensor {
  readonly #thresholdCdM2: number;
  readonly #lowCdM2: number;
  readonly #holdTicks: number;
  readonly #bandPass: BandPass;
  readonly #draining: PlainRectifiedCarrier;
  readonly #charging: PlainRectifiedCarrier;
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
  #clear: RectifiedInstant;
  #found: RectifiedInstant | undefined;
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
    this.#draining = new PlainRectifiedCarrier(this.#bandPass, false, store, timing);
    this.#charging = new PlainRectifiedCarrier(this.#bandPass, true, store, timing);
    this.#timing = timing;
    this.poles = {
      key: [],
      kickCount: 3,
      kick: (kicks, ticks, jump) => {
        const carried = product({ re: kicks[0]!, im: kicks[1]! }, this.#bandPass.turns.after(ticks));
        const forced = this.#bandPass.forcedBy(jump);
        kicks[0] = carried.re - forced.re;
        kicks[1] = carried.im - forced.im;
        kicks[2] = this.#charging.kick(kicks[2]!, ticks, jump, { re: -forced.re, im: -forced.im });
      },
    };
    this.#clear = this.#draining.at(0);
    this.#guard = {
      at: (ticks) => this.#form.at(ticks),
      isTrue: (instant) => this.#isTrue(instant),
      mayBeTrue: (from, to) => this.#mayBeTrue(from, to),
    };
  }

  get isLit(): boolean {
    return this.#isHigh || this.#holdLeft > 0;
  }

  get #form(): PlainRectifiedCarrier {
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
      const to = this.#form.at(span);
      const ticks = firstTrueTick(this.#guard, this.#clear, to);
      if (ticks === Number.POSITIVE_INFINITY) this.#clear = to;
      else this.#found = this.#form.at(ticks);
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
    return known.ticks === ticks ? known : this.#form.at(ticks);
  }

  advance(ticks: number): void {
    const { re, im } = this.#bandPass.at(ticks);
    this.#z = { re: flushed(re), im: flushed(im) };
    this.#envelope = flushed(this.#instantAfter(ticks).envelope);
    this.#holdLeft = Math.max(0, this.#holdLeft - ticks);
  }

  allowance(ticks: number): number {
    const from = this.#form.at(0);
    if (this.#isTrue(from) || (this.#holdLeft > 0 && this.#holdLeft <= ticks)) return -1;
    const bounds = this.#form.bounds(from, this.#form.at(ticks));
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
    const { envelope } = this.#form.at(ticks);
    this.#envelope = flushed(this.#isCharging ? envelope + this.#charging.kicked(jumpCdM2, ring, kicks[2]!) : envelope);
    this.#holdLeft = Math.max(0, this.#holdLeft - ticks);
  }

  settle(): void {
    if (this.#due === 'hold end') return;
    if (this.#due === undefined) throw new Error('settled without a guard');
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
    this.#clear = this.#form.at(0);
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
