import type { Console } from '../console/console.ts';
import { FastConsole } from '../console/fast/fast-console.ts';
import type { Surroundings } from '../console/ports.ts';
import { LatelightError } from '../errors/latelight-error.ts';
import { type AimMove, historyCapacity, LightPath, type LightPathSettings } from '../light/light-path.ts';
import { ALL_LINES, type Picture, PictureHistory } from '../picture/picture.ts';
import type { PortReads, TraceEvent, TraceSink } from '../trace/trace.ts';
import { msToTicks, PICTURE_WIDTH, type Timing, ticksPerFrame } from '../units/timing.ts';
import { type CalibrationOutcome, CalibrationWatch, cellOf, placesOf } from './calibration-watch.ts';
import { type LivePull, type LiveShot, liveLeadTicks } from './cause/live-observation.ts';
import type { ObservationStart } from './cause/observation.ts';
import type { PullInputs } from './inputs.ts';
import { type ClosedContact, type KeptShot, LiveMoments } from './live-moments.ts';
import type { PreparedScenario } from './prepared-scenario.ts';
import { jamError, mirrorsOf, requestOf } from './shot.ts';
import type { ShotLanes } from './shot-lanes.ts';
import { ShotRecording } from './shot-recording.ts';
import { ShotReplay } from './shot-replay.ts';
import { type ShotResult, ShotWatch } from './shot-watch.ts';
import { type WireTraces, wireTraces } from './station-traces.ts';
import type { Aim } from './truth.ts';

/**
 * Why a shot cannot be run again: the light's way has changed so shortly before that no state is old enough, or the next pull
 * has ended it before the program said anything.
 */
export type NotAgain = 'too soon' | 'pulled again';

/**
 * What a pull is: a shot, which will have an outcome; none, at a scene without live targets; or nothing at all, because the
 * contact was still closed from the one before.
 */
export type PullKind = 'shot' | 'no shot' | 'held';

/** What became of a pull of the trigger. */
export type PullOutcome =
  | {
      readonly kind: 'judged';
      readonly result: ShotResult;
      readonly lanes: ShotLanes;
      readonly wires: WireTraces;
      /** The shot once more, for whoever looks closer. */
      readonly replay: ShotReplay;
      /** The program had not answered the shot before yet: what it said may have been meant for that one. */
      readonly isEarly: boolean;
      /** What `observeLiveShot` runs it again from. */
      readonly live: LiveShot | NotAgain;
    }
  /** It could not be judged: a box of another size, a picture that the glass had not shown yet, ... */
  | { readonly kind: 'not judged'; readonly error: LatelightError };

/** Pictures kept at least: many a light path may be chosen while the session runs, the latest shows a picture 0.7 s late. */
const KEPT_PICTURES = 96;
/** How long the trigger's contact stays closed. Common practice, no source: 50 to 150 ms. */
const SQUEEZE_MS = 80;
/** Frames after the light path's latency that an answered shot is watched for light that comes too late. Our choice. */
const AFTERGLOW_FRAMES = 3;
/** What happens at which tick, where that is known from the beginning: then no hand moves the buttons or the wand. */
export interface SessionScript {
  readonly inputs: PullInputs;
  readonly moves: readonly AimMove[];
}

/** Closed at no tick. */
const OPEN: ClosedContact = { pull: { aim: { x: 0, y: 0 }, tick: 0, squeezeMs: 0 }, toTick: 0 };

/**
 * A console that somebody plays: aim, trigger and buttons are moved between frames, or as a script has them; every pull at a
 * scene with live targets is judged as `Shot` would. Same inputs at the same ticks give the same bytes.
 */
export class LiveSession implements TraceSink, Surroundings {
  readonly timing: Timing;
  readonly #prepared: PreparedScenario;
  readonly #history: PictureHistory;
  readonly #console: Console;
  readonly #peek = (address: number): number => this.#console.peek(address);
  readonly #buttons = [0, 0];
  readonly #script: SessionScript | undefined;
  #light: LightPath;
  /** The way of the light for the pulls of a script, where it is another one. */
  readonly #earlier: LightPath | undefined;
  #aim: Aim;
  /** The end of the frame that was run last. */
  #frameEnd = 0;
  /** The tick up to which the console is to run. */
  #runsTo = 0;
  /** Of the latest pull. */
  #contact = OPEN;
  #watch: ShotWatch | undefined;
  /** The shot that is watched has ended another one before the program had answered that. */
  #isEarly = false;
  /** What is written down of the shot that is watched. */
  #recording: ShotRecording | undefined;
  #moments: LiveMoments;
  #settings: LightPathSettings;
  #answeredTick = Number.POSITIVE_INFINITY;
  #pulls = 0;
  #outcomes: PullOutcome[] = [];
  readonly #calibrationWatch: CalibrationWatch;
  #calibration: CalibrationOutcome | undefined;

  /**
   * With a script the light goes the way that the scenario has for its pulls as long as the script's inputs say.
   * Errors: PARAM_RANGE, LIGHT_PATH.
   */
  constructor(prepared: PreparedScenario, aim: Aim, script?: SessionScript) {
    const { scenario, image, timing, probes } = prepared;
    this.#prepared = prepared;
    this.timing = timing;
    this.#aim = aim;
    const { lightPath, pullsLightPath = lightPath } = scenario;
    const needed = [lightPath, pullsLightPath].map((settings) => historyCapacity(settings, timing, true));
    this.#history = new PictureHistory(Math.max(KEPT_PICTURES, ...needed));
    this.#settings = scenario.lightPath;
    this.#light = this.#newLight(scenario.lightPath);
    this.#script = script;
    if (scenario.pullsLightPath !== undefined && script !== undefined)
      this.#earlier = this.#newLight(scenario.pullsLightPath);
    for (const light of [this.#light, this.#earlier]) light?.moveAims(script?.moves ?? []);
    this.#calibrationWatch = new CalibrationWatch(prepared, this.#peek);
    const said = requestOf(probes);
    const request = { ...said, writes: [...new Set([...said.writes, ...placesOf(prepared).flatMap(mirrorsOf)])] };
    this.#console = new FastConsole({
      timing,
      image,
      devices: scenario.ports,
      surroundings: this,
      history: this.#history,
      trace: this,
      request,
      alignment: scenario.alignment,
      hooks: { targetsForNextPicture: () => probes.targets(this.#peek) },
    });
    this.#moments = this.#newMoments();
  }

  /** Nothing of before is kept. */
  #newMoments(): LiveMoments {
    const leadTicks = liveLeadTicks(this.#prepared, this.#settings);
    const moments = new LiveMoments(this.tick, leadTicks, this.#frameEnd === 0, () => this.#save());
    for (const port of [1, 2] as const) moments.hold(port, this.buttons(port, this.tick), this.tick);
    if (this.tick < this.#contact.toTick) moments.close(this.#contact);
    return moments;
  }

  #save(): ObservationStart {
    this.#light.bitAt(this.tick - 1);
    const console = this.#console.save();
    const { line, dot } = console.raster.clock;
    const drawnCodes = line * PICTURE_WIDTH + Math.min(dot, PICTURE_WIDTH);
    const history = this.#history.save(drawnCodes, historyCapacity(this.#settings, this.timing, true));
    return { console, history, light: this.#light.save() };
  }

  #newLight(settings: LightPathSettings): LightPath {
    const needed = historyCapacity(settings, this.timing, true);
    const { capacity } = this.#history;
    if (needed > capacity)
      throw new LatelightError('LIGHT_PATH', {
        what: 'the light path',
        found: `${needed} pictures long`,
        allowed: `${capacity} pictures or less while a game is played`,
        cure: 'Choose less delay or a faster panel, or begin play anew.',
      });
    return new LightPath({ settings, timing: this.timing, history: this.#history, aim: this.#aim });
  }

  /** Where the spot's weight is half, dots. */
  get spotRadiusDots(): number {
    return this.#light.spotRadiusDots;
  }

  /** Tick up to which the console has run. */
  get tick(): number {
    return this.#console.tick;
  }

  /** The end of the frame that `runFrame` runs next, or that a pull has run into. */
  get nextFrameEnd(): number {
    return this.#frameEnd + ticksPerFrame(this.timing);
  }

  /** What the program has made of a pull at no target in the frame that was run last: a calibration, for most frames nothing. */
  get calibration(): CalibrationOutcome | undefined {
    return this.#calibration;
  }

  /** Let the picture go another way from now on; a shot in flight is dropped. Errors: PARAM_RANGE, LIGHT_PATH. */
  changeLightPath(settings: LightPathSettings): void {
    this.#light = this.#newLight(settings);
    this.#settings = settings;
    this.#watch = undefined;
    this.#moments = this.#newMoments();
  }

  /** Point the wand elsewhere. Error: PARAM_RANGE. */
  moveAim(aim: Aim): void {
    if (aim.x === this.#aim.x && aim.y === this.#aim.y) return;
    const move = { tick: this.tick, aim };
    this.#light.moveAim(move);
    this.#recording?.move(move);
    this.#moments.move(move);
    this.#aim = aim;
  }

  /** Buttons held on a pad, bit 0 = A, then B Select Start Up Down Left Right. */
  holdButtons(port: 1 | 2, held: number): void {
    this.#buttons[port - 1] = held;
    this.#moments.hold(port, held, this.tick);
  }

  /** Run whole instructions up to the first that would start at or after a tick. */
  #runUntil(tick: number): void {
    this.#runsTo = tick;
    this.#console.runUntil(tick);
  }

  /**
   * Pull the trigger now, or as a script has it: at a tick of the frame that is next, which is run into. While its contact is
   * still closed nothing happens.
   */
  pullTrigger(pull: LivePull = { aim: this.#aim, tick: this.tick, squeezeMs: SQUEEZE_MS }): PullKind {
    const { aim, tick, squeezeMs } = pull;
    if (tick < this.#contact.toTick) return 'held';
    this.#aim = aim;
    this.#contact = { pull, toTick: tick + msToTicks(this.timing, squeezeMs) };
    this.#runUntil(tick);
    const isEarly = this.#watch?.isAnswered === false;
    this.#endWatch();
    this.#isEarly = isEarly;
    const { scenario, probes } = this.#prepared;
    this.#moments.close(this.#contact);
    this.#moments.begin(pull);
    this.#watch = new ShotWatch({
      scenario,
      timing: this.timing,
      probes,
      history: this.#history,
      light: this.#light,
      peek: this.#peek,
      shot: this.#pulls++,
      aim: this.#aim,
      triggerTick: tick,
      lines: ALL_LINES,
    });
    this.#answeredTick = Number.POSITIVE_INFINITY;
    this.#recording = new ShotRecording(this.#light);
    return this.#beginWatch(this.#watch);
  }

  /** A pull at a scene without live targets (a title, a calibration), on the glass and in the console, is no shot. */
  #beginWatch(watch: ShotWatch): PullKind {
    let isShot = true;
    try {
      watch.begin();
      isShot = [...watch.targetsAtTrigger, ...this.#prepared.probes.targets(this.#peek)].some(({ isLive }) => isLive);
      if (isShot) {
        this.#calibrationWatch.end();
        return 'shot';
      }
      this.#calibrationWatch.begin(this.tick);
    } catch (error) {
      this.#outcomes.push({ kind: 'not judged', error: asRefusal(error) });
    }
    this.#watch = undefined;
    this.#moments.take(this.tick);
    return isShot ? 'shot' : 'no shot';
  }

  /** Run for one frame. Answers the pulls whose fate is known now. Error: PROGRAM_JAMMED. */
  runFrame(): readonly PullOutcome[] {
    this.#frameEnd = this.nextFrameEnd;
    this.#runUntil(this.#frameEnd);
    if (this.#watch !== undefined) this.#recording?.frameDone(this.#light);
    if (this.#watch?.isAnswered === true) this.#answeredTick = Math.min(this.#answeredTick, this.#frameEnd);
    const wait = this.#light.latencyBoundTicks + AFTERGLOW_FRAMES * ticksPerFrame(this.timing);
    const due = Math.min(this.#answeredTick + wait, this.#watch?.deadlineTick ?? Number.POSITIVE_INFINITY);
    if (this.#frameEnd >= due) this.#endWatch();
    this.#moments.frameDone(this.tick);
    this.#calibration = this.#calibrationWatch.frameDone(this.tick);
    const outcomes = this.#outcomes;
    this.#outcomes = [];
    return outcomes;
  }

  #endWatch(): void {
    const watch = this.#watch;
    this.#watch = undefined;
    if (watch === undefined) return;
    const kept = this.#moments.take(this.tick);
    try {
      this.#light.bitAt(this.tick - 1);
      const result = watch.result();
      const replay = this.#replayOf(result);
      const wires = this.#wiresOf(result);
      const live = this.#liveShot(watch, kept);
      this.#outcomes.push({
        kind: 'judged',
        result,
        lanes: replay.lanes(),
        wires,
        replay,
        isEarly: this.#isEarly,
        live,
      });
    } catch (error) {
      this.#outcomes.push({ kind: 'not judged', error: asRefusal(error) });
    }
  }

  #liveShot(watch: ShotWatch, kept: KeptShot | undefined): LiveShot | NotAgain {
    if (!watch.isAnswered && this.tick < watch.deadlineTick) return 'pulled again';
    if (kept === undefined) return 'too soon';
    return { ...kept, prepared: this.#prepared, lightPath: this.#settings };
  }

  #wiresOf({ ticks }: ShotResult): WireTraces {
    return wireTraces({
      settings: this.#settings,
      timing: this.timing,
      history: this.#history,
      light: this.#light,
      triggerTick: ticks.trigger,
      toTick: this.tick,
    });
  }

  /** A shot that is over, played once more from its trigger. */
  #replayOf(result: ShotResult): ShotReplay {
    const { starts, reads } = this.#recording!;
    const { alignment, targets } = this.#prepared.scenario;
    return new ShotReplay({
      settings: this.#settings,
      timing: this.timing,
      history: this.#history,
      starts,
      result,
      reads: reads.all(),
      endTick: this.tick - 1,
      cpuPhaseTicks: alignment.cpuPhaseTicks,
      marginDots: targets.marginDots,
    });
  }

  /** The latest picture that the console has put out whole; undefined before the first. */
  get sentPicture(): Picture | undefined {
    return this.#history.get(this.#history.newest - 1);
  }

  /** The whole pictures after this index, as far as they are kept. */
  sentAfter(index: number): Picture[] {
    const pictures: Picture[] = [];
    for (let next = index + 1; next < this.#history.newest; next++) {
      const picture = this.#history.get(next);
      if (picture !== undefined) pictures.push(picture);
    }
    return pictures;
  }

  /** The picture that the glass shows at the aim's row; undefined before it shows any. */
  get shownPicture(): Picture | undefined {
    return this.#history.get(this.#light.pictureShownAt(this.tick));
  }

  /** Look at the program's memory without side effects. */
  peek(address: number): number {
    return this.#peek(address);
  }

  put(event: TraceEvent): void {
    if (event.kind === 'vblank') {
      this.#light.bitAt(event.tick);
      this.#earlier?.bitAt(event.tick);
    }
    if (event.kind === 'jam') throw jamError(event, this.timing);
    if (event.kind === 'port-read') this.#note({ ...event, step: 0, count: 1 });
    if (event.kind === 'write') {
      this.#calibrationWatch.write(event.address, event.tick);
      if (cellOf(event.address) !== this.#prepared.probes.saidAt) return;
    }
    this.#watch?.put(event);
  }

  putPortReads(reads: PortReads): void {
    this.#note(reads);
    this.#watch?.putPortReads(reads);
  }

  #note(reads: PortReads): void {
    if (this.#watch !== undefined && this.#prepared.scenario.ports[reads.port - 1] === 'light sensor')
      this.#recording?.reads.add(reads);
  }

  readLight(_port: 1 | 2, tick: number): 0 | 1 {
    return this.#lightAt(tick).bitAt(tick);
  }

  #lightAt(tick: number): LightPath {
    return this.#earlier !== undefined && tick < this.#script!.inputs.lightChangesTick ? this.#earlier : this.#light;
  }

  lightConstantUntil(_port: 1 | 2, tick: number): number {
    const limit = this.#script?.inputs.constantUntil(tick, this.#runsTo) ?? this.#handConstantUntil(tick);
    return limit > tick ? this.#lightAt(tick).bitConstantUntil(tick, limit) : tick;
  }

  /** The first tick at which the contact moves, or the run is over. */
  #handConstantUntil(tick: number): number {
    const { pull, toTick } = this.#contact;
    const change = [pull.tick, toTick].find((edge) => edge > tick) ?? Number.POSITIVE_INFINITY;
    return Math.min(this.#runsTo, change);
  }

  isTriggerClosed(_port: 1 | 2, tick: number): boolean {
    if (this.#script !== undefined) return this.#script.inputs.isTriggerClosed(tick);
    return tick >= this.#contact.pull.tick && tick < this.#contact.toTick;
  }

  buttons(port: 1 | 2, tick: number): number {
    return this.#script?.inputs.buttons(port, tick) ?? this.#buttons[port - 1]!;
  }
}

/** What is no refusal of our own is a defect and goes on. */
function asRefusal(error: unknown): LatelightError {
  if (error instanceof LatelightError) return error;
  throw error;
}
