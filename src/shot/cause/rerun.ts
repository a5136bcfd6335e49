import type { Console } from '../../console/console.ts';
import { FastConsole } from '../../console/fast/fast-console.ts';
import type { PortDevice, Surroundings } from '../../console/ports.ts';
import type { RasterState } from '../../console/raster/raster-state.ts';
import { type AimMove, LightPath, type LightPathSettings, type LightPathState } from '../../light/light-path.ts';
import { OPTICS } from '../../light/optics/index.ts';
import { findModel, settingValues } from '../../light/parameters.ts';
import { ALL_LINES, type LineRange, PictureHistory, type PictureHistoryState } from '../../picture/picture.ts';
import type { PortReads, TraceEvent, TraceSink } from '../../trace/trace.ts';
import {
  msToTicks,
  PICTURE_HEIGHT,
  PICTURE_WIDTH,
  type Timing,
  ticksPerFrame,
  ticksPerLine,
} from '../../units/timing.ts';
import { FlashFinder, pairAt } from '../flash.ts';
import { PullInputs } from '../inputs.ts';
import { type Judgement, judge, type Said } from '../judgement.ts';
import { capacityFor, requestOf, type ShotState } from '../shot.ts';
import { ShotWatch } from '../shot-watch.ts';
import { type Aim, aimedTargetOf } from '../truth.ts';
import { patchedImage } from './apply-cure.ts';
import { type Observation, type SavedMoment, settleTicks } from './observation.ts';
import { PictureNotes, type PictureRun } from './picture-notes.ts';
import { NO_RETOUCH, RetouchedHistory } from './retouched-history.ts';
import { ShotRecord } from './shot-record.ts';
import { atOnce } from './stepwise.ts';
import type { Poke, World } from './world.ts';

/** What came of a shot that was run again. */
export interface RerunResult {
  readonly said: Said;
  readonly judgement: Judgement;
  /** A hit that light of this flash has no part in: it was decided before that had come. */
  readonly isAccident: boolean;
  readonly decisionTick: number | null;
}

/** What the sensor made of the light, sampled. */
export interface LevelSamples {
  /** Largest x - b, cd/m2. */
  readonly aboveCdM2: number;
  readonly atTick: number;
}

const NMI_ON = 0x80;
/** Scanlines between two looks at the levels: shorter than the vertical blank, where the path is asked in any case. */
const SAMPLED_LINES = 8;

/** The world of the first run, unchanged. */
export const firstWorld = ({ prepared, result }: Observation): World => ({
  scenario: prepared.scenario,
  image: prepared.image,
  timing: prepared.timing,
  startsTicksBefore: 0,
  startsAtPulls: false,
  isLightNew: false,
  offset: { x: 0, y: 0 },
  isHandStill: false,
  isGapFree: false,
  isInverted: false,
  isOnBothPorts: false,
  retouch: NO_RETOUCH,
  closesEarlierTicks: 0,
  keepsNmi: false,
  pokes: [],
  truth: result.truth,
});

/**
 * Run a shot again in a world, from a moment of the first run to what the program says or to the deadline. `history` is
 * overwritten: a place for pictures that one run after the other may use.
 */
export function runAgain(
  first: Observation,
  world: World,
  history = new PictureHistory(capacityFor(first.prepared)),
): RerunResult {
  return new Rerun(first, world, history).finish();
}

/** The largest level that the sensor compares with its threshold in [fromTick, toTick], every `stepTicks`. */
export function sampleLevels(
  first: Observation,
  world: World,
  [fromTick, toTick]: readonly [number, number],
  stepTicks: number,
): LevelSamples {
  const history = new PictureHistory(capacityFor(first.prepared));
  return new Rerun(first, { ...world, isLightNew: true }, history, true).levels(fromTick, toTick, stepTicks);
}

/**
 * When the light bit goes dark for good in a world, from a tick on; undefined if it does not by `toTick`. The path of the
 * light goes on as it was, so that the sensor knows the light that it was used to, unless the world has another one.
 */
export function darkTick(first: Observation, world: World, fromTick: number, toTick: number): number | undefined {
  const history = new PictureHistory(capacityFor(first.prepared));
  return new Rerun(first, world, history).darkTick(fromTick, toTick);
}

/**
 * Run a shot again in a world and keep what its further causes may be found in. Its world is the one to change then.
 * Errors: as of a shot.
 */
export function observeAgain(first: Observation, world: World): Observation {
  const history = new PictureHistory(capacityFor(first.prepared));
  return {
    ...first,
    ...new Rerun(first, world, history, false, true).observe(first),
    ...(world.isHandStill ? { hand: [] } : {}),
  };
}

class Rerun implements TraceSink, Surroundings, PictureRun {
  readonly #world: World;
  readonly #console: Console;
  readonly #history: PictureHistory;
  /** The pictures as the light side sees them. */
  readonly #seen: PictureHistory;
  readonly #light: LightPath;
  readonly #pullsLight: LightPath | undefined;
  readonly #inputs: PullInputs;
  readonly #watch: ShotWatch;
  readonly #deadlineTick: number;
  readonly #triggerTick: number;
  readonly #target: number;
  /** The scanlines that are drawn. */
  readonly #lines: LineRange;
  readonly #peek = (address: number): number => this.#console.peek(address);
  /** A path of its own for drawings, committed up to the tick before the next one drawn. */
  readonly #probe: LightPath | undefined;
  /** Tick of the latest read of each port. */
  readonly #lastRead: [number, number];
  readonly #shotLight: LightPathState;
  #moves: AimMove[] = [];
  #hasJammed = false;
  #record: ShotRecord | undefined;
  #runsTo = 0;
  /** The state of the moment is in place: what a new console does before that is nobody's business. */
  #isReady = false;

  constructor(first: Observation, world: World, history: PictureHistory, isSampled = false, isWhole = false) {
    const { prepared, shot, result } = first;
    const { scenario, timing } = world;
    const plan = scenario.shots[shot]!;
    this.#world = world;
    // Where the contact of the first run closes, also for what was observed with one that closes earlier.
    this.#triggerTick = msToTicks(timing, plan.atMs);
    this.#target = aimedTargetOf(world.truth);
    this.#deadlineTick = result.ticks.deadline;
    const { tick, state } = momentFor(first, world);
    this.#shotLight = state.light;
    this.#lastRead = [tick, tick];
    const shotAimTick = scenario.pulls.length === 0 ? 0 : msToTicks(timing, plan.atMs - scenario.settleMs);
    const lines = isWhole ? ALL_LINES : drawnLines(first, world, state);
    this.#lines = lines;
    const lightChangesTick = prepared.scenario.pullsLightPath === undefined ? 0 : shotAimTick;
    this.#inputs = new PullInputs(scenario, plan, timing, lightChangesTick, world.closesEarlierTicks);
    // A world whose light is later keeps more pictures than the first run did.
    const capacity = capacityFor({ ...prepared, scenario });
    this.#history = capacity > history.capacity ? new PictureHistory(capacity) : history;
    this.#history.load(NO_PICTURES);
    this.#console = new FastConsole({
      timing,
      image: patchedImage(world.image, world.pokes),
      devices: world.isOnBothPorts ? (scenario.ports.map(withSensor) as [PortDevice, PortDevice]) : scenario.ports,
      surroundings: this,
      history: this.#history,
      trace: this,
      request: requestOf(prepared.probes),
      alignment: scenario.alignment,
      draws: lines,
      hooks: { targetsForNextPicture: () => prepared.probes.targets(this.#peek) },
    });
    // Building a console begins a picture: the history is loaded after it.
    this.#history.load(asLongAs(this.#history.capacity, state.history, timing));
    this.#console.load(patchedState(state.console, world.pokes));
    const { retouch } = world;
    this.#seen = retouch === NO_RETOUCH ? this.#history : new RetouchedHistory(this.#history, retouch);
    this.#light = this.#lightFrom(state.light, scenario.lightPath, tick, shotAimTick, world.isLightNew);
    if (isSampled) this.#probe = this.#lightFrom(state.light, scenario.lightPath, tick, shotAimTick, true);
    const { pullsLightPath } = scenario;
    if (pullsLightPath !== undefined && state.pullsLight !== undefined && tick < lightChangesTick)
      this.#pullsLight = this.#lightFrom(state.pullsLight, pullsLightPath, tick, shotAimTick, false);
    const { x, y } = plan.aim;
    this.#watch = new ShotWatch({
      scenario: world.isOnBothPorts ? { ...scenario, ports: ['light sensor', 'light sensor'] } : scenario,
      timing,
      probes: prepared.probes,
      history: this.#seen,
      light: this.#light,
      peek: this.#peek,
      shot,
      aim: { x: within(x + world.offset.x, PICTURE_WIDTH), y: within(y + world.offset.y, PICTURE_HEIGHT) },
      triggerTick: this.#triggerTick - world.closesEarlierTicks,
      lines,
      // That of the first run: another light path would have another one.
      deadlineTick: this.#deadlineTick,
    });
    this.#isReady = true;
  }

  #lightFrom(
    state: LightPathState,
    settings: LightPathSettings,
    tick: number,
    shotAimTick: number,
    isNew: boolean,
  ): LightPath {
    const { timing, offset, isHandStill } = this.#world;
    const moved = (at: number, aim: Aim): Aim =>
      at < shotAimTick
        ? aim
        : { x: within(aim.x + offset.x, PICTURE_WIDTH), y: within(aim.y + offset.y, PICTURE_HEIGHT) };
    const moves: AimMove[] = state.moves
      .filter((move) => !isHandStill || move.tick <= this.#triggerTick)
      .map((move) => ({ tick: move.tick, aim: moved(move.tick, move.aim) }));
    const aim = moved(tick, state.aim);
    // A move costs a panel of its own: those of the hand are made as the run comes to them.
    if (state === this.#shotLight) this.#moves = moves;
    const light = new LightPath({
      settings,
      timing,
      history: this.#seen,
      aim,
      moves: state === this.#shotLight ? [] : moves,
    });
    if (!isNew) light.load({ ...state, aim, moves: state === this.#shotLight ? [] : moves });
    return light;
  }

  finish(): RerunResult {
    this.runUntil(this.#watch.triggerTick);
    this.#watch.lookFor(this.#target);
    while (!this.#hasJammed && !this.#watch.isAnswered && this.#console.tick < this.#deadlineTick) this.#step();
    const said = this.#watch.saidSoFar;
    const judgement = judge(this.#world.truth, said);
    const { decisionTick } = this.#watch;
    return { said, judgement, isAccident: judgement === 'hit' && !this.#hasSeenFlash(decisionTick!), decisionTick };
  }

  /**
   * Whether light of this flash had come when the program decided. A program that takes the bit the other way round decides
   * when it reads a lit one; one that decides at a dark one has not waited for the flash but for its end.
   */
  #hasSeenFlash(decisionTick: number): boolean {
    const { isInverted } = this.#world;
    const { lastReadTick } = this.#watch;
    if (isInverted && lastReadTick !== null && this.#light.bitAt(lastReadTick) === 0) return false;
    // The picture of the flash is looked at when it is complete.
    for (let frame = 0; frame < FRAMES_TO_FLASH && !this.#watch.hasFlash && !this.#hasJammed; frame++) this.#step();
    const { crossingTick, hasFlash } = this.#watch;
    if (!hasFlash) return this.#hasBrightened(decisionTick);
    return crossingTick !== null && crossingTick <= decisionTick;
  }

  /**
   * The same of a flash that is no whole box, such as one with sprites missing: a picture since the trigger made the spot
   * brighter, and the bit turned lit between its light and the decision.
   */
  #hasBrightened(decisionTick: number): boolean {
    const { timing } = this.#world;
    const light = this.#light;
    const finder = new FlashFinder(timing, light.spotAt(light.aim), light.spectralWeights, this.#lines);
    for (let index = this.#seen.newest; ; index--) {
      const pair = pairAt(this.#seen, index);
      if (pair === undefined || pair[0].lineZeroTick < this.#watch.triggerTick) return false;
      if (!finder.isSpotBrighter(...pair)) continue;
      if (hasLitFlip(light.flips, light.rowTick(index, finder.firstSpotLine) - 1, decisionTick)) return true;
    }
  }

  levels(fromTick: number, toTick: number, stepTicks: number): LevelSamples {
    let [aboveCdM2, atTick] = [0, fromTick];
    let next = fromTick;
    while (!this.#hasJammed && next <= toTick) {
      const wasAt = this.#console.tick;
      this.#runTo(Math.min(toTick, wasAt + ticksPerLine(this.#world.timing) * SAMPLED_LINES) + 1);
      this.#probe!.bitAt(Math.min(next, this.#console.tick) - 1);
      for (; next <= toTick && next < this.#console.tick; next += stepTicks) {
        const { x, b } = this.#probe!.sensorAt(next);
        if (x - b > aboveCdM2) [aboveCdM2, atTick] = [x - b, next];
      }
    }
    return { aboveCdM2, atTick };
  }

  /**
   * The first tick from which on the bit stays dark for two frames, longer than between two pulses of a tube or of a
   * backlight; undefined if it is not dark by `toTick`.
   */
  darkTick(fromTick: number, toTick: number): number | undefined {
    const dark = DARK_FRAMES * ticksPerFrame(this.#world.timing);
    for (;;) {
      this.#step();
      const { tick } = this.#console;
      const isLit = this.#light.bitAt(tick - 1) === 1;
      const { flips } = this.#light;
      const since = Math.max(fromTick, flips[flips.length - 1] ?? fromTick);
      if (!isLit && tick > since + dark) return since;
      if (this.#hasJammed || tick > toTick + dark) return undefined;
    }
  }

  get tick(): number {
    return this.#console.tick;
  }

  get deadlineTick(): number {
    return this.#deadlineTick;
  }

  get isAnswered(): boolean {
    return this.#hasJammed || this.#watch.isAnswered;
  }

  get history(): PictureHistory {
    return this.#seen;
  }

  saveRaster(): RasterState {
    return this.#console.save().raster;
  }

  runUntil(tick: number): void {
    if (!this.#world.keepsNmi) this.#runTo(tick);
    else while (this.#console.tick < tick) this.#step();
  }

  /** The watch looks at the glass when the trigger is pulled, but what was aimed at stays what it was. */
  observe({ prepared, result: { aim } }: Observation): Pick<Observation, 'result' | 'record' | 'pictures'> {
    const { triggerTick } = this.#watch;
    this.#record = new ShotRecord(triggerTick - 2 * ticksPerFrame(prepared.timing));
    this.runUntil(triggerTick);
    this.#watch.begin();
    const { spectralWeights } = this.#light;
    const notes = new PictureNotes(prepared, { aim, spectralWeights, spot: this.#light.spotAt(aim) });
    atOnce(notes.follow(this));
    if (!this.#hasJammed) this.runUntil(this.#deadlineTick);
    this.#light.bitAt(Math.min(this.#deadlineTick, this.#console.tick - 1));
    const result = this.#watch.result();
    const { truth } = this.#world;
    return {
      result: { ...result, aim, truth, judgement: judge(truth, result.said) },
      record: this.#record,
      pictures: notes.pictures,
    };
  }

  /** On to the end of the picture in progress, or a frame. */
  #step(): void {
    const { timing, keepsNmi } = this.#world;
    const { tick } = this.#console;
    if (!keepsNmi) {
      this.#runTo(tick + ticksPerFrame(timing));
      return;
    }
    const picture = this.#history.get(this.#history.newest);
    const end = (picture?.lineZeroTick ?? tick) + PICTURE_HEIGHT * ticksPerLine(timing);
    this.#runTo(end > tick ? end : end + ticksPerFrame(timing));
    if (this.#console.tick < this.#watch.triggerTick) return;
    const state = this.#console.save();
    state.raster.registers.control |= NMI_ON;
    this.#console.load(state);
  }

  #runTo(tick: number): void {
    while (this.#moves[0] !== undefined && this.#moves[0].tick <= tick + LONGEST_INSTRUCTION_TICKS) {
      this.#light.moveAim(this.#moves[0]);
      this.#probe?.moveAim(this.#moves[0]);
      this.#moves.shift();
    }
    this.#runsTo = tick;
    this.#console.runUntil(tick);
  }

  put(event: TraceEvent): void {
    if (!this.#isReady) return;
    if (event.kind === 'vblank') {
      this.#light.bitAt(event.tick);
      this.#pullsLight?.bitAt(event.tick);
    }
    if (event.kind === 'port-read') this.#lastRead[event.port - 1] = event.tick;
    if (event.kind === 'jam') this.#hasJammed = true;
    this.#record?.put(event);
    this.#watch.put(event);
  }

  putPortReads(reads: PortReads): void {
    this.#lastRead[reads.port - 1] = reads.tick + (reads.count - 1) * reads.step;
    this.#record?.putPortReads(reads);
    this.#watch.putPortReads(reads);
  }

  readLight(port: 1 | 2, tick: number): 0 | 1 {
    const bit = this.#bit(port, tick);
    return this.#world.isInverted ? (bit === 1 ? 0 : 1) : bit;
  }

  #bit(port: 1 | 2, tick: number): 0 | 1 {
    const light = this.#lightAt(tick);
    const bit = light.bitAt(tick);
    if (bit === 1 || !this.#world.isGapFree) return bit;
    return hasLitFlip(light.flips, this.#lastRead[port - 1]!, tick) ? 1 : 0;
  }

  #lightAt(tick: number): LightPath {
    return this.#pullsLight === undefined || tick >= this.#inputs.lightChangesTick ? this.#light : this.#pullsLight;
  }

  lightConstantUntil(port: 1 | 2, tick: number): number {
    const light = this.#lightAt(tick);
    if (this.#world.isGapFree && this.#bit(port, tick) !== light.bitAt(tick)) return tick;
    const limit = this.#inputs.constantUntil(tick, this.#runsTo);
    return limit > tick ? light.bitConstantUntil(tick, limit) : tick;
  }

  isTriggerClosed(_port: 1 | 2, tick: number): boolean {
    return this.#inputs.isTriggerClosed(tick);
  }

  buttons(port: 1 | 2, tick: number): number {
    return this.#inputs.buttons(port, tick);
  }
}

/** A flash that has been seen is in the picture in progress when the program decides, or in one before. */
const FRAMES_TO_FLASH = 2;
const DARK_FRAMES = 2;

/** What a port is with a light sensor beside what is plugged in. */
const withSensor = (device: PortDevice): PortDevice => (device === 'pad' ? 'pad and light sensor' : 'light sensor');

/** Pictures for a history that keeps more of them: those before are black, as is a light path before its first. */
function asLongAs(capacity: number, { newest, pictures }: PictureHistoryState, timing: Timing): PictureHistoryState {
  const missing = Math.min(capacity, newest + 1) - pictures.length;
  const [oldest] = pictures;
  if (missing <= 0 || oldest === undefined) return { newest, pictures };
  const black = Array.from({ length: missing }, (_, k) => ({
    index: oldest.index - missing + k,
    lineZeroTick: oldest.lineZeroTick - (missing - k) * ticksPerFrame(timing),
    codes: new Uint16Array(oldest.codes.length).fill(BLACK),
    drawn: ALL_LINES,
    targets: [],
  }));
  return { newest, pictures: [...black, ...pictures] };
}

/** Colour code of black. */
const BLACK = 0x0f;

const NO_PICTURES: PictureHistoryState = { newest: -1, pictures: [] };

/** A spot ends two radii from the aim; rows of a panel may lie across a scanline's border. */
const SPOT_RADII = 2;
const SPARE_LINES = 3;

/** The scanlines that any spot of the run lies on, from where the wand points at the moment on. */
function drawnLines({ prepared, shot }: Observation, { offset }: World, { light, pullsLight }: ShotState): LineRange {
  const { scenario } = prepared;
  const radius = Math.max(...[scenario.lightPath, scenario.pullsLightPath ?? scenario.lightPath].map(spotRadius));
  const lights = pullsLight === undefined ? [light] : [light, pullsLight];
  const pointed = lights.flatMap(({ aim, moves }) => [{ aim }, ...moves]);
  const aims = [...pointed, scenario.shots[shot]!].flatMap(({ aim }) => [aim.y, aim.y + offset.y]);
  const reach = SPOT_RADII * radius + SPARE_LINES;
  const line = (y: number): number => Math.min(PICTURE_HEIGHT - 1, Math.max(0, Math.round(y)));
  return { firstLine: line(Math.min(...aims) - reach), lastLine: line(Math.max(...aims) + reach) };
}

const spotRadius = ({ optics }: LightPathSettings): number =>
  findModel(OPTICS, optics.kind, 'optics').create(settingValues(optics), {}).radiusDots;

/** The latest moment from which this world can be entered. */
function momentFor({ moments, result, prepared }: Observation, world: World): SavedMoment {
  const pulls = moments.find(({ isBeforePulls }) => isBeforePulls);
  if (world.startsAtPulls && pulls !== undefined) return pulls;
  const least = world.isLightNew ? settleTicks(prepared) : 0;
  const latest = result.ticks.trigger - Math.max(least, world.startsTicksBefore) + LONGEST_INSTRUCTION_TICKS;
  const reaching = moments.filter(({ tick }) => tick <= latest);
  return reaching[reaching.length - 1] ?? moments[0]!;
}

/** A moment stands behind the instruction in which its tick lies; a sprite DMA may be part of it. */
const LONGEST_INSTRUCTION_TICKS = 530 * 16;

/** The aim may leave the screen by as much as it is wide or high. */
const within = (value: number, size: number): number => Math.min(2 * size, Math.max(-size, value));

/** A flip to lit in (from, to]. Flips alternate, the first of all is to lit. */
function hasLitFlip(flips: readonly number[], from: number, to: number): boolean {
  for (let i = flips.length - 1; i >= 0 && flips[i]! > from; i--) if (i % 2 === 0 && flips[i]! <= to) return true;
  return false;
}

function patchedState(state: ShotState['console'], pokes: readonly Poke[]): ShotState['console'] {
  const inRam = pokes.filter(({ address }) => address < state.ram.length);
  if (inRam.length === 0) return state;
  const ram = state.ram.slice();
  for (const { address, value } of inRam) ram[address] = value;
  return { ...state, ram };
}
