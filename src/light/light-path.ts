import { LatelightError } from '../errors/latelight-error.ts';
import type { LineRange, PictureHistory } from '../picture/picture.ts';
import { PIXEL_OUT_DELAY_DOTS } from '../references/console-constants.ts';
import { cos, sin } from '../units/exact-math.ts';
import {
  PICTURE_HEIGHT,
  PICTURE_WIDTH,
  type Timing,
  ticksPerFrame,
  ticksPerLine,
  ticksToSeconds,
} from '../units/timing.ts';
import { angleOf, type Decays, decaysOf, flushed, type LightModes, type Turns, turnsOf } from './light-modes.ts';
import { OPTICS } from './optics/index.ts';
import type { Aim, Optics, SpotWeights } from './optics/optics.ts';
import { PANELS } from './panel/index.ts';
import type { Gathered, ImpulsePass, ImpulseSum, Panel, PanelModel, SpectralWeights } from './panel/panel.ts';
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

/** From this tick on the sensor points there. */
export interface AimMove {
  readonly tick: number;
  readonly aim: Aim;
}

export interface LightPathOptions {
  readonly settings: LightPathSettings;
  readonly timing: Timing;
  readonly history: PictureHistory;
  readonly aim: Aim;
  /** Later aims, by ascending tick. The history must be as long as `historyCapacity` says for a path that moves. */
  readonly moves?: readonly AimMove[];
}

/** Plain data; `tick` is the last cut, `askedTick` the latest tick that somebody has asked for. */
export interface LightPathState {
  readonly aim: Aim;
  readonly moves: readonly AimMove[];
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

/** An aim that has just moved sees a panel that remembers this many of its slowest time constants. Our choice: e^-7 = 0.1 %. */
const MEMORY_TIME_CONSTANTS = 7;
/** The scan of the presentation that the glass is showing may not have come to the aim yet: so many are remembered beside. */
const SCANNED_PRESENTATIONS = 1;

/**
 * Number of pictures that the history must keep for these settings; more of them when the aim moves during the run.
 * Error: PARAM_RANGE if a model is not valid.
 */
export function historyCapacity(settings: LightPathSettings, timing: Timing, movesAim = false): number {
  const capacity = capacityFor(latencyBound(new SignalChain(settings.stages, timing), timing), timing);
  return movesAim ? capacity + memoryPictures(settings, timing) : capacity;
}

function memoryPictures({ panel }: LightPathSettings, timing: Timing): number {
  const slowestS = findModel(PANELS, panel.kind, 'panel').slowestS(settingValues(panel));
  return Math.ceil((MEMORY_TIME_CONSTANTS * slowestS) / ticksToSeconds(timing, ticksPerFrame(timing)));
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
  /** Scanlines that matter under any of the aims known at the start; `firstLine > lastLine` when they are off the screen. */
  sees: LineRange;
  /** Where the spot's weight is half, dots. */
  readonly spotRadiusDots: number;
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
  readonly #optics: Optics;
  readonly #panelModel: PanelModel;
  readonly #sensor: Sensor;
  readonly #decays: Decays;
  readonly #room: Room;
  readonly #swing: Turns | undefined;
  readonly #light: LightModes;
  /** A panel that the aim has just come to is replayed from so many presentations before the one that it shows. */
  readonly #remembered: number;
  #aim: Aim;
  #panel: Panel;
  #moves: readonly AimMove[];
  #tick = 0;
  #askedTick = -1;
  #flips: number[] = [];
  /** A second path that runs ahead of the committed state for drawings. */
  #drawn: LightPath | undefined;
  /** The latest tick that had been asked for when it was taken from the committed state. */
  #drawnFrom = Number.NEGATIVE_INFINITY;
  /** The pass whose end no one has asked for yet, and its top; known from the cut, never saved. */
  #pass: ImpulsePass | undefined;
  #passTop = 0;
  /** The path of a drawing stops anywhere, so it takes no pass as a whole. */
  #isDrawing = false;
  /** Impulses that wait for others have been applied, as the committed path never does. */
  #isSpoilt = false;

  constructor(options: LightPathOptions) {
    const { settings, timing, history, aim } = options;
    this.#aim = aim;
    this.#moves = options.moves ?? [];
    this.#options = options;
    this.#chain = new SignalChain(settings.stages, timing);
    this.stageLatencyTicks = this.#chain.largestLatencyTicks;
    this.latencyBoundTicks = latencyBound(this.#chain, timing);
    checkCapacity(history.capacity, capacityFor(this.latencyBoundTicks, timing));
    this.#chain.connect(history);

    const roomModel = findModel(ROOMS, settings.room.kind, 'room');
    const opticsModel = findModel(OPTICS, settings.optics.kind, 'optics');
    this.#panelModel = findModel(PANELS, settings.panel.kind, 'panel');
    const sensorModel = findModel(SENSORS, settings.sensor.kind, 'sensor');
    this.#optics = opticsModel.create(settingValues(settings.optics), {});
    const sensorValues = settingValues(settings.sensor);
    this.spotRadiusDots = this.#optics.radiusDots;
    this.spectralWeights = sensorModel.spectralWeights(sensorValues);
    this.#room = roomModel.create(settingValues(settings.room), {});
    const { flicker } = this.#room;
    this.#swing = flicker && turnsOf(flicker.frequencyHz, Number.POSITIVE_INFINITY, timing);
    this.#panel = this.#panelAt(aim, 0, 0);
    this.#remembered = memoryPictures(settings, timing) + SCANNED_PRESENTATIONS;
    this.isPureShift = this.#chain.isPureShift && this.#panel.isPureShift && flicker === undefined;
    this.sees = this.#panel.sees;
    for (const move of this.#moves) checkAim(move.aim);
    this.#seeAlso(this.#moves.map((move) => move.aim));
    this.#decays = decaysOf(this.#panel.tauS, timing);
    this.#sensor = sensorModel.create(sensorValues, { timing, decays: this.#decays, swing: this.#swing });
    this.#light = {
      constantCdM2: this.#room.luminanceCdM2 + this.#panel.constantCdM2,
      amplitudeCdM2: new Float64Array(this.#panel.tauS.length),
      swingCdM2: this.#swingAt(0),
    };
    this.#sensor.powerOn(this.#light);
  }

  /** A panel that is black at `tick` and goes on with this presentation, seen at an aim. Error: PARAM_RANGE. */
  #panelAt(aim: Aim, firstPresentation: number, tick: number): Panel {
    checkAim(aim);
    const { settings, timing, history } = this.#options;
    return this.#panelModel.create(settingValues(settings.panel), {
      timing,
      history,
      chain: this.#chain,
      optics: this.#optics,
      aim,
      spectralWeights: this.spectralWeights,
      firstPresentation,
      startTick: tick,
    });
  }

  /** Where the sensor points at the latest tick asked for. */
  get aim(): Aim {
    return this.#aim;
  }

  /** Moves of the aim that are not due yet. */
  get movesToCome(): readonly AimMove[] {
    return this.#moves;
  }

  /** Weights of the dots that matter under this aim, on the lattice of scanlines and dots. */
  spotAt(aim: Aim): SpotWeights {
    return this.#optics.spot(aim, PICTURE_HEIGHT);
  }

  /**
   * Point the sensor elsewhere from a tick on that nobody has asked for yet. The pictures kept must be drawn where the
   * new aim looks. Error: PARAM_RANGE for the aim, or for a tick that is past or before a move that is already due.
   */
  moveAim(move: AimMove): void {
    this.moveAims([move]);
  }

  /** Many moves at once, by ascending tick, as a hand that sways makes them. Errors as of `moveAim`; then none is taken. */
  moveAims(moves: readonly AimMove[]): void {
    let earliest = Math.max(this.#askedTick + 1, this.#moves[this.#moves.length - 1]?.tick ?? 0);
    for (const { tick, aim } of moves) {
      checkAim(aim);
      if (tick < earliest)
        throw new LatelightError('PARAM_RANGE', {
          name: 'tick of a move',
          found: tick,
          allowed: `${earliest} or later`,
        });
      earliest = tick;
    }
    this.#moves = [...this.#moves, ...moves];
    this.#pass = undefined;
    this.#seeAlso(moves.map(({ aim }) => aim));
    this.#drawn = undefined;
  }

  /** Lines between the highest and the lowest aim that see the screen at all are seen from both. */
  #seeAlso(aims: readonly Aim[]): void {
    const seeing = aims.filter((aim) => this.spotAt(aim).weight.length > 0).sort((a, b) => a.y - b.y);
    const panel = settingValues(this.#options.settings.panel);
    for (const aim of new Set([seeing[0], seeing[seeing.length - 1]]))
      if (aim !== undefined) this.sees = hullOf(this.sees, this.#panelModel.sees(panel, this.#optics, aim));
  }

  /**
   * The first tick after `tick` at which the bit may differ from that at `tick`, at most `limit`. `tick` is the one up to
   * which the console has run; what it has put out by then settles the light for some time to come.
   */
  bitConstantUntil(tick: number, limit: number): number {
    if (this.#askedTick < limit - 1) this.#runTo(Math.max(tick, Math.min(limit, this.#settledUntil(tick)) - 1));
    for (let i = this.#flips.length - 1; ; i--) {
      if (i >= 0 && this.#flips[i]! > tick) continue;
      return Math.min(this.#flips[i + 1] ?? this.#askedTick + 1, limit);
    }
  }

  /** The first tick at which something that the console puts out after `tick` can change the light at the spot. */
  #settledUntil(tick: number): number {
    const { history, timing } = this.#options;
    const picture = history.get(history.newest);
    const { firstLine, lastLine } = this.sees;
    if (picture === undefined || firstLine > lastLine) return tick;
    const begin = this.#chain.isStored ? 0 : firstLine * ticksPerLine(timing);
    const end = (lastLine + 1) * ticksPerLine(timing) + PIXEL_OUT_DELAY_DOTS * timing.dotDivider;
    const since = tick - picture.lineZeroTick;
    const next = since >= end ? begin + ticksPerFrame(timing) - timing.dotDivider : begin;
    const due = picture.lineZeroTick + next;
    return (this.#chain.isStored ? due : Math.max(due, tick)) + this.#chain.leastLatencyTicks;
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
    if (this.#pass !== undefined && tick < this.#passTop + this.#pass.end) {
      this.#askedTick = tick;
      return;
    }
    this.#chain.pull(this.#options.history);
    for (;;) {
      const limit = Math.min(tick, this.#moves[0]?.tick ?? Number.POSITIVE_INFINITY);
      const pass = this.#gatherPass(limit);
      if (pass === 'open') break;
      if (pass === 'black') continue;
      if (pass !== 'none') {
        this.#cutAtPass(pass);
        continue;
      }
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

  /**
   * The pass that is over by `limit` and is to be one change; `open` if that is not known or not due yet, and no guard of
   * which anyone could know becomes true until then; `none` if what comes next is to be changes of its own; `black` if a
   * picture without impulses is behind.
   */
  #gatherPass(limit: number): ImpulsePass | 'open' | 'none' | 'black' {
    const { impulses } = this.#panel;
    const { passes } = this.#sensor;
    if (impulses === undefined || this.#isDrawing) return 'none';
    if (this.#pass === undefined) {
      const times = passes && impulses.passAfter(this.#tick, limit);
      if (times === undefined || this.#movesBy(times.endTick)) return 'none';
      const { topTick, endTick } = times;
      const pass = impulses.gatherPass(passes!.room(endTick - this.#tick), limit, passes!.poles);
      if (typeof pass === 'string') return pass;
      if (!passes!.isLikeBefore(topTick - this.#tick, pass)) return 'none';
      this.#pass = pass;
      this.#passTop = topTick;
    }
    const end = this.#passTop + this.#pass.end;
    if (end > limit) return 'open';
    const due = this.#pass;
    this.#pass = undefined;
    return impulses.isLastUntil(end) ? due : 'none';
  }

  #movesBy(tick: number): boolean {
    return this.#moves.length > 0 && this.#moves[0]!.tick <= tick;
  }

  #cutAtPass(pass: ImpulsePass): void {
    this.#sensor.passes!.advance(this.#passTop - this.#tick, pass);
    this.#fadeTo(this.#passTop + pass.end);
    const { amplitudeCdM2 } = this.#light;
    for (let m = 0; m < amplitudeCdM2.length; m++) amplitudeCdM2[m]! += pass.jumpCdM2[m]!;
    this.#panel.impulses!.takePass();
    this.#sensor.rebase(this.#light);
  }

  /** The impulses up to `limit` that are to be one change; `none` if the next one is to be a change of its own. */
  #gatherImpulses(limit: number): Gathered {
    const { impulses } = this.#panel;
    if (impulses === undefined) return 'none';
    const ticks = impulses.ticksLeft(this.#tick);
    if (ticks > 0) {
      const allowed = this.#sensor.allowance(ticks, impulses);
      const sum = allowed < 0 ? 'none' : impulses.gather(allowed, limit, this.#sensor.poles);
      if (sum !== 'none') return sum;
    }
    const { rows } = this.#sensor;
    const times = rows && impulses.rowsAfter(this.#tick, limit);
    const room = times && rows.room(times);
    return room === undefined ? 'none' : impulses.gatherRows(room, limit, rows!.poles);
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
   * Count of the presentation that a panel seen from `tick` on is replayed from. It follows from that tick alone: what the
   * history keeps depends on when somebody asks. A history as long as `historyCapacity` says keeps its picture; of a shorter
   * one, or a path made while the console runs, the oldest that is kept is taken.
   */
  #firstRemembered(tick: number): number {
    let shown = this.#chain.presented - 1;
    while (shown > this.#chain.oldest && this.#chain.at(shown)!.tTop > tick) shown--;
    let first = Math.max(this.#chain.oldest, shown - this.#remembered);
    while (first < shown && !this.#isKept(this.#chain.at(first)!)) first++;
    return first;
  }

  #isKept({ content }: Presentation): boolean {
    return this.#options.history.get(content.picture) !== undefined;
  }

  /** Carry the committed state on to a cut. */
  #moveTo(tick: number): void {
    const ticks = tick - this.#tick;
    if (ticks < 0)
      throw new LatelightError('INTERNAL', { what: `the light path was asked to go ${-ticks} ticks back` });
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
    if (this.#drawn === undefined) {
      this.#drawn = new LightPath(this.#options);
      this.#drawn.#isDrawing = true;
      this.#drawnFrom = Number.NEGATIVE_INFINITY;
    }
    const drawn = this.#drawn;
    // A path that was taken long ago may need pictures that this one has done with.
    const isStale = this.#askedTick - this.#drawnFrom > ticksPerFrame(this.#options.timing);
    if (isStale || drawn.#isSpoilt || drawn.#tick < this.#tick || drawn.#tick > tick) {
      drawn.load(this.save());
      drawn.#askedTick = drawn.#tick;
      this.#drawnFrom = this.#askedTick;
    }
    drawn.#isSpoilt = false;
    drawn.#runTo(tick);
    if (drawn.#gatherImpulses(tick) === 'open') {
      drawn.#applyImpulses(tick);
      drawn.#isSpoilt = true;
    }
    return drawn;
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

  /** Take over a state that a path with the same settings and timing has saved. Error: STATE_FIELD, PARAM_RANGE. */
  load(state: LightPathState): void {
    this.#chain.load(state.chain);
    if (state.aim.x !== this.#aim.x || state.aim.y !== this.#aim.y) this.#panel = this.#panelAt(state.aim, 0, 0);
    this.#aim = state.aim;
    this.#moves = state.moves;
    this.#seeAlso([state.aim, ...state.moves.map(({ aim }) => aim)]);
    this.#panel.load(state.panel);
    this.#sensor.load(state.sensor);
    restoreArray(this.#light.amplitudeCdM2, state.amplitudes, 'cdM2');
    this.#light.constantCdM2 = this.#room.luminanceCdM2 + this.#panel.constantCdM2;
    this.#light.swingCdM2 = this.#swingAt(state.tick);
    this.#tick = state.tick;
    this.#askedTick = state.askedTick;
    this.#flips = state.flips.slice();
    this.#drawn = undefined;
    this.#pass = undefined;
    this.#sensor.rebase(this.#light);
  }
}

/** The lines of both and those between them. */
function hullOf(a: LineRange, b: LineRange): LineRange {
  if (a.firstLine > a.lastLine) return b;
  if (b.firstLine > b.lastLine) return a;
  return { firstLine: Math.min(a.firstLine, b.firstLine), lastLine: Math.max(a.lastLine, b.lastLine) };
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
