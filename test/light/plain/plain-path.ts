import { angleOf, Decays, flushed, type LightModes, Turns } from '../../../src/light/light-modes.ts';
import type { AimMove, LightPathOptions, LightPathState } from '../../../src/light/light-path.ts';
import { OPTICS } from '../../../src/light/optics/index.ts';
import type { Aim, Optics } from '../../../src/light/optics/optics.ts';
import { PANELS } from '../../../src/light/panel/index.ts';
import type { Gathered, ImpulseSum, Panel, PanelContext, SpectralWeights } from '../../../src/light/panel/panel.ts';
import { findModel, settingValues } from '../../../src/light/parameters.ts';
import { NO_PHASOR, type Phasor } from '../../../src/light/phasor.ts';
import { ROOMS } from '../../../src/light/room/index.ts';
import type { Room } from '../../../src/light/room/room.ts';
import { SENSORS } from '../../../src/light/sensor/index.ts';
import type { Sensor, SensorContext, SensorReading } from '../../../src/light/sensor/sensor.ts';
import { SignalChain } from '../../../src/light/signal/signal-chain.ts';
import type { Presentation } from '../../../src/light/signal/signal-stage.ts';
import { PHOSPHORS } from '../../../src/references/phosphor.ts';
import type { ParameterValues } from '../../../src/references/sourced.ts';
import { cos, sin } from '../../../src/units/exact-math.ts';
import { msToTicks, ticksPerFrame, ticksToSeconds } from '../../../src/units/timing.ts';
import { PlainDecays } from './plain-decays.ts';
import { PlainLcd } from './plain-lcd.ts';
import { PlainLineRate } from './plain-line-rate.ts';
import { PlainTube } from './plain-tube.ts';
import { PlainWideBand } from './plain-wide-band.ts';

/**
 * The light path in its plainest form, as the judge of `LightPath`: every instant computed anew, every object made when it
 * is needed, nothing remembered. With `isDotByDot` every impulse of a tube is a cut of its own.
 */
export class PlainPath {
  readonly #options: LightPathOptions;
  readonly #isDotByDot: boolean;
  readonly #chain: SignalChain;
  readonly #optics: Optics;
  readonly #spectralWeights: SpectralWeights;
  readonly #sensor: Sensor;
  readonly #decays: PlainDecays;
  readonly #room: Room;
  readonly #light: LightModes;
  #aim: Aim;
  #panel: Panel;
  #moves: readonly AimMove[];
  #tick = 0;
  #askedTick = -1;
  #flips: number[] = [];
  /** Changes that were the impulses of whole rows, and of whole passes. */
  changesOfRows = 0;
  changesOfPasses = 0;

  constructor(options: LightPathOptions, isDotByDot = false) {
    const { settings, timing, history, aim } = options;
    this.#options = options;
    this.#isDotByDot = isDotByDot;
    this.#aim = aim;
    this.#moves = options.moves ?? [];
    this.#chain = new SignalChain(settings.stages, timing);
    this.#chain.connect(history);
    this.#optics = findModel(OPTICS, settings.optics.kind, 'optics').create(settingValues(settings.optics), {});
    const sensorValues = settingValues(settings.sensor);
    this.#spectralWeights = findModel(SENSORS, settings.sensor.kind, 'sensor').spectralWeights(sensorValues);
    this.#room = findModel(ROOMS, settings.room.kind, 'room').create(settingValues(settings.room), {});
    const { flicker } = this.#room;
    const swing = flicker && new Turns(flicker.frequencyHz, Number.POSITIVE_INFINITY, timing);
    this.#panel = this.#panelAt(aim, 0, 0);
    this.#decays = new PlainDecays(this.#panel.tauS, timing);
    this.#sensor = sensorOf(settings.sensor.kind, sensorValues, {
      timing,
      decays: new Decays(this.#panel.tauS, timing),
      swing,
    });
    this.#light = {
      constantCdM2: this.#room.luminanceCdM2 + this.#panel.constantCdM2,
      amplitudeCdM2: new Float64Array(this.#panel.tauS.length),
      swingCdM2: this.#swingAt(0),
    };
    this.#sensor.powerOn(this.#light);
  }

  #panelAt(aim: Aim, firstPresentation: number, tick: number): Panel {
    const { settings, timing, history } = this.#options;
    return panelOf(settings.panel.kind, settingValues(settings.panel), {
      timing,
      history,
      chain: this.#chain,
      optics: this.#optics,
      aim,
      spectralWeights: this.#spectralWeights,
      firstPresentation,
      startTick: tick,
    });
  }

  get flips(): readonly number[] {
    return this.#flips;
  }

  runTo(tick: number): void {
    this.#runTo(tick);
  }

  /** Light and sensor at a tick, cd/m2; ask in ascending order. */
  readingAt(tick: number): SensorReading & { readonly light: number } {
    this.#runTo(tick);
    const ticks = tick - this.#tick;
    const { constantCdM2, amplitudeCdM2, swingCdM2 } = this.#light;
    const decay = this.#decays.after(ticks);
    const steady = amplitudeCdM2.reduce((sum, amplitude, m) => sum + amplitude * decay[m]!, constantCdM2);
    return { light: steady + swingCdM2.re, ...this.#sensor.readingAfter(ticks) };
  }

  #runTo(tick: number): void {
    if (tick <= this.#askedTick) return;
    this.#chain.pull(this.#options.history);
    for (;;) {
      const limit = Math.min(tick, this.#moves[0]?.tick ?? Number.POSITIVE_INFINITY);
      const pass = this.#gatherPass(limit);
      if (pass === 'open') break;
      if (pass === 'taken') continue;
      const sum = this.#gatherImpulses(limit);
      if (sum === 'open') {
        if (this.#moves[0]?.tick !== limit) break;
        this.#applyImpulses(limit);
        this.#cutAtMove();
        continue;
      }
      if (sum !== 'none') {
        this.#cutAtSum(sum);
        continue;
      }
      const change = this.#panel.nextChange(limit);
      const guard = this.#tick + this.#sensor.nextGuard(Math.min(change, limit) - this.#tick);
      if (guard <= limit) this.#cutAtGuard(guard);
      else if (change <= limit) this.#cutAtChange(change);
      else if (this.#moves[0]?.tick === limit) this.#cutAtMove();
      else break;
    }
    this.#askedTick = tick;
  }

  /** Take the pass that ends by `limit` if it is to be one change; `open` if that is not known or not over yet. */
  #gatherPass(limit: number): 'taken' | 'open' | 'none' {
    const { impulses } = this.#panel;
    const { passes } = this.#sensor;
    if (impulses === undefined || passes === undefined || this.#isDotByDot) return 'none';
    const times = impulses.passAfter(this.#tick, limit);
    if (times === undefined || (this.#moves[0]?.tick ?? Infinity) <= times.endTick) return 'none';
    const pass = impulses.gatherPass(passes.room(times.endTick - this.#tick), limit, passes.poles);
    if (pass === 'black') throw new Error('passAfter has left out black pictures');
    if (typeof pass === 'string') return pass;
    const top = times.topTick - this.#tick;
    if (!passes.isLikeBefore(top, pass)) return 'none';
    if (times.endTick > limit) return 'open';
    if (!impulses.isLastUntil(times.endTick)) return 'none';
    passes.advance(top, pass);
    this.#fadeTo(times.endTick);
    const { amplitudeCdM2 } = this.#light;
    for (let m = 0; m < amplitudeCdM2.length; m++) amplitudeCdM2[m]! += pass.jumpCdM2[m]!;
    impulses.takePass();
    this.#sensor.rebase(this.#light);
    this.changesOfPasses++;
    return 'taken';
  }

  /** The impulses up to `limit` that are to be one change; `none` if the next one is to be a change of its own. */
  #gatherImpulses(limit: number): Gathered {
    const { impulses } = this.#panel;
    if (impulses === undefined || this.#isDotByDot) return 'none';
    const ticks = impulses.ticksLeft(this.#tick);
    const allowed = ticks === 0 ? -1 : this.#sensor.allowance(ticks, impulses);
    const sum = allowed < 0 ? 'none' : impulses.gather(allowed, limit, this.#sensor.poles);
    if (sum !== 'none') return sum;
    const { rows } = this.#sensor;
    const times = rows && impulses.rowsAfter(this.#tick, limit);
    const room = times && rows.room(times);
    const ofRows = room === undefined ? 'none' : impulses.gatherRows(room, limit, rows!.poles);
    if (typeof ofRows === 'object') this.changesOfRows++;
    return ofRows;
  }

  #cutAtSum(sum: ImpulseSum): void {
    const ticks = sum.tick - this.#tick;
    this.#sensor.advanceThrough(ticks, sum);
    this.#fadeTo(sum.tick);
    const { amplitudeCdM2 } = this.#light;
    for (let m = 0; m < amplitudeCdM2.length; m++) amplitudeCdM2[m]! += sum.jumpCdM2[m]!;
    this.#panel.impulses!.take();
    this.#sensor.rebase(this.#light);
  }

  /** Apply the impulses up to `limit` that wait for more, each as a change of its own; no guard lies between them. */
  #applyImpulses(limit: number): void {
    for (let change = this.#panel.nextChange(limit); change <= limit; change = this.#panel.nextChange(limit)) {
      this.#cutAtChange(change);
    }
  }

  #cutAtGuard(tick: number): void {
    const wasLit = this.#sensor.isLit;
    this.#moveTo(tick);
    this.#sensor.settle();
    this.#sensor.rebase(this.#light);
    if (this.#sensor.isLit !== wasLit) this.#flips.push(tick);
  }

  #cutAtChange(tick: number): void {
    this.#moveTo(tick);
    this.#panel.applyChange(this.#light);
    this.#light.constantCdM2 = this.#room.luminanceCdM2 + this.#panel.constantCdM2;
    this.#sensor.rebase(this.#light);
  }

  /** The spot jumps: from here on the light is that of a panel that was seen there all along. */
  #cutAtMove(): void {
    const [{ tick, aim }, ...later] = this.#moves as readonly [AimMove, ...AimMove[]];
    this.#moves = later;
    this.#moveTo(tick);
    const first = this.#firstRemembered(tick);
    const startTick = Math.min(tick, this.#chain.at(first)?.tTop ?? tick);
    this.#aim = aim;
    this.#panel = this.#panelAt(aim, first, startTick);
    this.#replay(startTick, tick);
    this.#light.constantCdM2 = this.#room.luminanceCdM2 + this.#panel.constantCdM2;
    this.#sensor.rebase(this.#light);
  }

  /** Bring the modes of a panel that was black at `startTick` up to `tick`. */
  #replay(startTick: number, tick: number): void {
    const { amplitudeCdM2 } = this.#light;
    amplitudeCdM2.fill(0);
    let last = startTick;
    const carryTo = (next: number): void => {
      const decay = this.#decays.after(next - last);
      for (let m = 0; m < decay.length; m++) amplitudeCdM2[m] = flushed(amplitudeCdM2[m]! * decay[m]!);
      last = next;
    };
    for (let change = this.#panel.nextChange(tick); change <= tick; change = this.#panel.nextChange(tick)) {
      carryTo(change);
      this.#panel.applyChange(this.#light);
    }
    carryTo(tick);
  }

  /**
   * Count of the presentation that is replayed from: as many before the one shown at a tick as seven time constants of the
   * panel are pictures, and one, for its scan may not have come to the aim yet; of these the oldest whose picture is kept.
   */
  #firstRemembered(tick: number): number {
    const { settings, timing } = this.#options;
    const { panel } = settings;
    const slowestS = findModel(PANELS, panel.kind, 'panel').slowestS(settingValues(panel));
    const pictures = Math.ceil((7 * slowestS) / ticksToSeconds(timing, ticksPerFrame(timing)));
    const counts: number[] = [];
    for (let count = this.#chain.oldest; count < this.#chain.presented; count++) counts.push(count);
    const begun = counts.filter((count) => this.#chain.at(count)!.tTop <= tick);
    const shown = begun[begun.length - 1] ?? this.#chain.oldest;
    const kept = counts.filter((count) => count >= shown - pictures - 1 && count < shown);
    return kept.find((count) => this.#isKept(this.#chain.at(count)!)) ?? shown;
  }

  #isKept({ content }: Presentation): boolean {
    return this.#options.history.get(content.picture) !== undefined;
  }

  /** Carry the committed state on to a cut. */
  #moveTo(tick: number): void {
    const ticks = tick - this.#tick;
    if (ticks < 0) throw new Error('back in time');
    if (ticks === 0) return;
    this.#sensor.advance(ticks);
    this.#fadeTo(tick);
  }

  /** Carry the light on. */
  #fadeTo(tick: number): void {
    const ticks = tick - this.#tick;
    const decay = this.#decays.after(ticks);
    const { amplitudeCdM2 } = this.#light;
    for (let m = 0; m < decay.length; m++) amplitudeCdM2[m] = flushed(amplitudeCdM2[m]! * decay[m]!);
    this.#light.swingCdM2 = this.#swingAt(tick);
    this.#tick = tick;
  }

  #swingAt(tick: number): Phasor {
    const { flicker } = this.#room;
    if (flicker === undefined) return NO_PHASOR;
    const angle = angleOf(flicker.frequencyHz * ticksToSeconds(this.#options.timing, tick) + flicker.phase01);
    return { re: flicker.amplitudeCdM2 * cos(angle), im: flicker.amplitudeCdM2 * sin(angle) };
  }

  save(): LightPathState {
    this.#chain.pull(this.#options.history);
    return {
      aim: this.#aim,
      moves: this.#moves,
      tick: this.#tick,
      askedTick: this.#askedTick,
      amplitudes: { cdM2: this.#light.amplitudeCdM2.slice() },
      flips: this.#flips.slice(),
      chain: this.#chain.save(),
      panel: this.#panel.save(),
      sensor: this.#sensor.save(),
    };
  }
}

function panelOf(kind: string, values: ParameterValues, context: PanelContext): Panel {
  if (kind === 'lcd') return new PlainLcd(values, msToTicks(context.timing, values['scanMs']!), context);
  return new PlainTube(values['whiteCdM2']!, PHOSPHORS[values['phosphor']! - 1]!, context);
}

const sensorOf = (kind: string, values: ParameterValues, context: SensorContext): Sensor =>
  kind === 'line-rate' ? new PlainLineRate(values, context) : new PlainWideBand(values, context);
