import { LatelightError } from '../errors/latelight-error.ts';
import type { PictureHistory } from '../picture/picture.ts';
import { cos, sin } from '../units/exact-math.ts';
import {
  PICTURE_HEIGHT,
  PICTURE_WIDTH,
  type Timing,
  ticksPerFrame,
  ticksPerLine,
  ticksToSeconds,
} from '../units/timing.ts';
import { angleOf, Decays, flushed, type LightModes, Turns } from './light-modes.ts';
import { OPTICS } from './optics/index.ts';
import type { Aim, SpotWeights } from './optics/optics.ts';
import { PANELS } from './panel/index.ts';
import type { Panel, SpectralWeights } from './panel/panel.ts';
import { findModel, type ModelSetting, settingValues } from './parameters.ts';
import { NO_PHASOR, type Phasor, realPart } from './phasor.ts';
import { ROOMS } from './room/index.ts';
import type { Room } from './room/room.ts';
import { restoreArray, type SavedState } from './saved-state.ts';
import { SENSORS } from './sensor/index.ts';
import type { Sensor, SensorReading } from './sensor/sensor.ts';
import { SignalChain, type SignalChainState } from './signal/signal-chain.ts';
import type { Presentation } from './signal/signal-stage.ts';

/** One full setting of the light's way, as a scenario writes it. */
export interface LightPathSettings {
  readonly stages: readonly ModelSetting[];
  readonly panel: ModelSetting;
  readonly room: ModelSetting;
  readonly optics: ModelSetting;
  readonly sensor: ModelSetting;
}

export interface LightPathOptions {
  readonly settings: LightPathSettings;
  readonly timing: Timing;
  readonly history: PictureHistory;
  readonly aim: Aim;
}

/** Plain data; `tick` is the last cut, `askedTick` the latest tick that somebody has asked for. */
export interface LightPathState {
  readonly tick: number;
  readonly askedTick: number;
  readonly amplitudes: SavedState;
  readonly flips: readonly number[];
  readonly chain: SignalChainState;
  readonly panel: SavedState;
  readonly sensor: SavedState;
}

/** Pictures beside those in the chain: in progress, scanned by the panel, in its line buffer, not yet asked for. */
const SPARE_PICTURES = 4;
/** The aim may leave the screen by as much as the screen is wide and high. */
const AIM_RANGE = {
  x: [-PICTURE_WIDTH, 2 * PICTURE_WIDTH],
  y: [-PICTURE_HEIGHT, 2 * PICTURE_HEIGHT],
} as const;

/** Number of pictures that the history must keep for these settings. Error: PARAM_RANGE if a stage is not valid. */
export function historyCapacity(settings: LightPathSettings, timing: Timing): number {
  return capacityFor(latencyBound(new SignalChain(settings.stages, timing), timing), timing);
}

/** The chain's largest latency and the line that a panel may keep. Units: ticks. */
const latencyBound = (chain: SignalChain, timing: Timing): number => chain.largestLatencyTicks + ticksPerLine(timing);

const capacityFor = (latencyTicks: number, timing: Timing): number =>
  Math.ceil(latencyTicks / ticksPerFrame(timing)) + SPARE_PICTURES;

/**
 * The way of the light from the picture history to the bit that a program reads.
 *
 * Nothing runs until somebody asks, and it makes no difference how often or when: state moves on only at cuts (changes
 * of the panel, guards of the sensor), which depend on the pictures alone. Ask only for ticks up to which the console
 * has run, and at least once a frame, while the history still keeps what the panel has to show. A path that is
 * made while the console runs starts with a black panel and sees the pictures that are still kept.
 *
 * Error: PARAM_RANGE for a bad parameter, model or aim; LIGHT_PATH if the models do not fit each other or the history.
 */
export class LightPath {
  /** Scanlines that matter; `firstLine > lastLine` when the spot is off the screen. */
  readonly sees: { readonly firstLine: number; readonly lastLine: number };
  /** Where the spot's weight is half, dots. */
  readonly spotRadiusDots: number;
  /** Weights of the dots that matter, on the lattice of scanlines and dots. */
  readonly spot: SpotWeights;
  /** Sensitivity of the sensor to red, green and blue. */
  readonly spectralWeights: SpectralWeights;
  /** Largest latency of the signal stages alone. */
  readonly stageLatencyTicks: number;
  /** Upper bound of the time from the plug to a panel's first row, the scan of the panel not included. */
  readonly latencyBoundTicks: number;
  /** A delay of n ticks more gives the same bytes n ticks later. */
  readonly isPureShift: boolean;
  readonly #options: LightPathOptions;
  readonly #chain: SignalChain;
  readonly #panel: Panel;
  readonly #sensor: Sensor;
  readonly #decays: Decays;
  readonly #room: Room;
  readonly #swing: Turns | undefined;
  readonly #light: LightModes;
  #tick = 0;
  #askedTick = -1;
  #flips: number[] = [];
  /** A second path that runs ahead of the committed state for drawings. */
  #drawn: LightPath | undefined;

  constructor(options: LightPathOptions) {
    const { settings, timing, history, aim } = options;
    checkAim(aim);
    this.#options = options;
    this.#chain = new SignalChain(settings.stages, timing);
    this.stageLatencyTicks = this.#chain.largestLatencyTicks;
    this.latencyBoundTicks = latencyBound(this.#chain, timing);
    checkCapacity(history.capacity, capacityFor(this.latencyBoundTicks, timing));
    this.#chain.connect(history);

    const roomModel = findModel(ROOMS, settings.room.kind, 'room');
    const opticsModel = findModel(OPTICS, settings.optics.kind, 'optics');
    const panelModel = findModel(PANELS, settings.panel.kind, 'panel');
    const sensorModel = findModel(SENSORS, settings.sensor.kind, 'sensor');
    const optics = opticsModel.create(settingValues(settings.optics), {});
    const sensorValues = settingValues(settings.sensor);
    this.spotRadiusDots = optics.radiusDots;
    this.spot = optics.spot(aim, PICTURE_HEIGHT);
    this.spectralWeights = sensorModel.spectralWeights(sensorValues);
    this.#room = roomModel.create(settingValues(settings.room), {});
    const { flicker } = this.#room;
    this.#swing = flicker && new Turns(flicker.frequencyHz, Number.POSITIVE_INFINITY, timing);
    this.#panel = panelModel.create(settingValues(settings.panel), {
      timing,
      history,
      chain: this.#chain,
      optics,
      aim,
      spectralWeights: this.spectralWeights,
    });
    this.isPureShift = this.#chain.isPureShift && this.#panel.isPureShift && flicker === undefined;
    this.sees = this.#panel.sees;
    this.#decays = new Decays(this.#panel.tauS, timing);
    this.#sensor = sensorModel.create(sensorValues, { timing, decays: this.#decays, swing: this.#swing });
    this.#light = {
      constantCdM2: this.#room.luminanceCdM2 + this.#panel.constantCdM2,
      amplitudeCdM2: new Float64Array(this.#panel.tauS.length),
      swingCdM2: this.#swingAt(0),
    };
    this.#sensor.powerOn(this.#light);
  }

  /** The bit at a tick up to which the console has run: 1 = light seen. Error: INTERNAL if a picture is missing. */
  bitAt(tick: number): 0 | 1 {
    this.#runTo(tick);
    let count = this.#flips.length;
    while (count > 0 && this.#flips[count - 1]! > tick) count--;
    return count % 2 === 1 ? 1 : 0;
  }

  /** Ticks at which the bit changes, ascending, up to the latest tick asked for; the bit starts as 0. */
  get flips(): readonly number[] {
    return this.#flips;
  }

  #runTo(tick: number): void {
    if (tick <= this.#askedTick) return;
    this.#chain.pull(this.#options.history);
    for (;;) {
      const change = this.#panel.nextChange(tick);
      const guard = this.#tick + this.#sensor.nextGuard(Math.min(change, tick) - this.#tick);
      if (guard <= tick) this.#cutAtGuard(guard);
      else if (change <= tick) this.#cutAtChange(change);
      else break;
    }
    this.#askedTick = tick;
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

  /** Carry the committed state on to a cut. */
  #moveTo(tick: number): void {
    const ticks = tick - this.#tick;
    if (ticks < 0)
      throw new LatelightError('INTERNAL', { what: `the light path was asked to go ${-ticks} ticks back` });
    if (ticks === 0) return;
    this.#sensor.advance(ticks);
    const decay = this.#decays.after(ticks);
    const { amplitudeCdM2 } = this.#light;
    for (let m = 0; m < decay.length; m++) amplitudeCdM2[m] = flushed(amplitudeCdM2[m]! * decay[m]!);
    this.#light.swingCdM2 = this.#swingAt(tick);
    this.#tick = tick;
  }

  /** The room's oscillation. Its phase is that of the time since power-on, so that a long run adds up no rounding. */
  #swingAt(tick: number): Phasor {
    const { flicker } = this.#room;
    if (flicker === undefined) return NO_PHASOR;
    const angle = angleOf(flicker.frequencyHz * ticksToSeconds(this.#options.timing, tick) + flicker.phase01);
    return { re: flicker.amplitudeCdM2 * cos(angle), im: flicker.amplitudeCdM2 * sin(angle) };
  }

  /**
   * Light at the spot as the sensor's spectral weights see it, cd/m2; for drawing, commits nothing.
   * Range: from the last cut (before the latest tick asked for) to the tick to which the console has run.
   * Error: PARAM_RANGE before the last cut.
   */
  lightAt(tick: number): number {
    const path = this.#pathAt(tick);
    const decay = path.#decays.after(tick - path.#tick);
    const { constantCdM2, amplitudeCdM2, swingCdM2 } = path.#light;
    let sum = constantCdM2;
    for (let m = 0; m < decay.length; m++) sum += amplitudeCdM2[m]! * decay[m]!;
    return path.#swing === undefined ? sum : sum + realPart(swingCdM2, path.#swing.after(tick - path.#tick));
  }

  /** What the sensor makes of it, cd/m2; for drawing, commits nothing. Range and error: as `lightAt`. */
  sensorAt(tick: number): SensorReading {
    const path = this.#pathAt(tick);
    return path.#sensor.readingAfter(tick - path.#tick);
  }

  /** A copy of this path that has run to `tick`. Ask in ascending order: then it only has to go on. */
  #pathAt(tick: number): LightPath {
    if (tick < this.#tick) {
      throw new LatelightError('PARAM_RANGE', {
        name: 'tick',
        found: tick,
        allowed: `${this.#tick} (last cut) or later`,
      });
    }
    this.#drawn ??= new LightPath(this.#options);
    if (this.#drawn.#tick < this.#tick || this.#drawn.#tick > tick) this.#drawn.load(this.save());
    this.#drawn.#runTo(tick);
    return this.#drawn;
  }

  /**
   * How the last stage presents this picture; undefined if it never does, has not yet, or no longer keeps it. The latest
   * 1024 presentations are kept, longer than the pictures themselves.
   */
  presentationOf(pictureIndex: number): Presentation | undefined {
    this.#chain.pull(this.#options.history);
    for (let count = this.#chain.presented - 1; count >= this.#chain.oldest; count--) {
      const presentation = this.#chain.at(count)!;
      if (presentation.content.picture === pictureIndex) return presentation;
    }
    return undefined;
  }

  /**
   * Tick at which the panel begins to show this line of this picture, from this dot on: an LCD shows all dots of a row
   * at once, a tube one by one. Error: INTERNAL if the picture is not among the presentations kept.
   */
  rowTick(pictureIndex: number, line: number, dot = 0): number {
    const presentation = this.presentationOf(pictureIndex);
    if (presentation !== undefined) return this.#panel.rowTick(presentation, line, dot);
    throw new LatelightError('INTERNAL', { what: `picture ${pictureIndex} is not among the presentations kept` });
  }

  /**
   * Index of the picture whose scan last passed the aim's row at or before the tick, the response of the panel ignored;
   * -1 before the first. Error: INTERNAL if that presentation is no longer kept.
   */
  pictureShownAt(tick: number): number {
    this.#chain.pull(this.#options.history);
    for (let count = this.#chain.presented - 1; count >= 0; count--) {
      const presentation = this.#chain.at(count)!;
      if (this.#panel.aimTick(presentation) <= tick) return presentation.content.picture;
    }
    return -1;
  }

  save(): LightPathState {
    this.#chain.pull(this.#options.history);
    return {
      tick: this.#tick,
      askedTick: this.#askedTick,
      amplitudes: { cdM2: this.#light.amplitudeCdM2.slice() },
      flips: this.#flips.slice(),
      chain: this.#chain.save(),
      panel: this.#panel.save(),
      sensor: this.#sensor.save(),
    };
  }

  /** Take over a state that a path with the same settings, timing and aim has saved. Error: STATE_FIELD. */
  load(state: LightPathState): void {
    this.#chain.load(state.chain);
    this.#panel.load(state.panel);
    this.#sensor.load(state.sensor);
    restoreArray(this.#light.amplitudeCdM2, state.amplitudes, 'cdM2');
    this.#light.constantCdM2 = this.#room.luminanceCdM2 + this.#panel.constantCdM2;
    this.#light.swingCdM2 = this.#swingAt(state.tick);
    this.#tick = state.tick;
    this.#askedTick = state.askedTick;
    this.#flips = state.flips.slice();
    this.#drawn = undefined;
    this.#sensor.rebase(this.#light);
  }
}

function checkAim(aim: Aim): void {
  for (const axis of ['x', 'y'] as const) {
    const [min, max] = AIM_RANGE[axis];
    if (aim[axis] >= min && aim[axis] <= max) continue;
    throw new LatelightError('PARAM_RANGE', {
      name: `aim.${axis}`,
      found: String(aim[axis]),
      allowed: `${min} to ${max}`,
    });
  }
}

function checkCapacity(found: number, needed: number): void {
  if (found >= needed) return;
  throw new LatelightError('LIGHT_PATH', {
    what: 'the picture history',
    found: `${found} pictures long`,
    allowed: `${needed} or more: the largest latency and ${SPARE_PICTURES}`,
    cure: 'Make it as long as historyCapacity says.',
  });
}
