import type { Console, ConsoleSetup, ConsoleState } from '../console/console.ts';
import { FastConsole } from '../console/fast/fast-console.ts';
import type { Surroundings } from '../console/ports.ts';
import { ReferenceConsole } from '../console/reference/reference-console.ts';
import { LatelightError } from '../errors/latelight-error.ts';
import { type AimMove, historyCapacity, LightPath, type LightPathState } from '../light/light-path.ts';
import {
  ALL_LINES,
  type Picture,
  PictureHistory,
  type PictureHistoryState,
  type TargetRectangle,
} from '../picture/picture.ts';
import { type CartridgeImage, parseImage } from '../program/image.ts';
import type { Symbols } from '../program/labels.ts';
import { parseLabels } from '../program/labels.ts';
import type { TraceEvent, TraceSink } from '../trace/trace.ts';
import { msToTicks, TIMINGS, type Timing, ticksPerFrame, ticksToMs } from '../units/timing.ts';
import { type BoxSighting, type Flash, FlashFinder, pairAt } from './flash.ts';
import { buttonsAt } from './inputs.ts';
import { type Judgement, judge, type Said } from './judgement.ts';
import { isLitAt } from './light-bit.ts';
import { compileProbes, type Probes } from './probes.ts';
import type { Scenario, ShotPlan } from './scenario.ts';
import { type Aim, findTruth, type Rectangle, type Truth } from './truth.ts';

/** A scenario with its files read: ready to run. */
export interface PreparedScenario {
  readonly scenario: Scenario;
  readonly image: CartridgeImage;
  readonly timing: Timing;
  readonly probes: Probes;
}

/** The slow, obvious engine that judges, or the fast one; both give the same bytes. */
export type Engine = 'reference' | 'fast';

export interface ShotOptions {
  /** 'fast' when not given. */
  readonly engine?: Engine;
  /**
   * 'all' (when not given), or 'aim': only the scanlines that the light path sees are drawn, several times sooner. Then
   * the box of the flash is compared with its probe in those lines only; all else is the same.
   */
  readonly draws?: 'all' | 'aim';
}

/** Something that the program said: the tick and the value of the probe. */
interface Heard {
  readonly tick: number;
  readonly says: number;
}

/** A shot in flight as plain data. */
export interface ShotState {
  readonly console: ConsoleState;
  readonly history: PictureHistoryState;
  readonly light: LightPathState;
  readonly truth: Truth | null;
  readonly shownTargets: readonly TargetRectangle[];
  readonly warnings: readonly string[];
  readonly flash: Flash | null;
  readonly aimedTarget: number;
  readonly before: Picture | null;
  readonly mismatch: Extract<BoxSighting, { kind: 'other' }> | null;
  readonly otherLight: number;
  readonly heard: readonly Heard[];
  /** Ticks of the port reads since the trigger. */
  readonly reads: Float64Array;
}

/** The files that a scenario names. */
export interface ScenarioFiles {
  readonly image: Uint8Array;
  readonly labels?: string;
}

/**
 * The instants of a shot, in ticks since power-on; null where a thing did not happen.
 * `flashOnWire` to `crossing` follow the first dot of the flash inside the spot.
 */
export interface ShotTicks {
  readonly trigger: number;
  readonly flashOnWire: number | null;
  /** The panel begins to show the flash's line at the spot. */
  readonly lightAtSpot: number | null;
  /** The light bit first turns lit after that. */
  readonly crossing: number | null;
  /** The first read of the port that saw light, whatever light it was. */
  readonly firstLitRead: number | null;
  readonly lastRead: number | null;
  readonly decision: number | null;
  readonly deadline: number;
}

export interface ShotResult {
  readonly shot: number;
  readonly aim: Aim;
  readonly truth: Truth;
  readonly said: Said;
  /** The program said something more before the deadline: an error of the program. */
  readonly saidTwice: boolean;
  readonly judgement: Judgement;
  readonly ticks: ShotTicks;
  /** Ticks of the port reads from the trigger to the decision (or the deadline). */
  readonly reads: readonly number[];
  /** Ticks at which the light bit changed, from power-on (unlit) to the deadline. */
  readonly flips: readonly number[];
  /** The targets that the glass showed at the aim when the trigger was pulled. */
  readonly shownTargets: readonly TargetRectangle[];
  readonly warnings: readonly string[];
}

const SAFETY_FRAMES = 60;

/** Check a scenario against its files. Errors: IMAGE_*, LABELS_INVALID, EXPRESSION_*, PARAM_RANGE. */
export function prepareScenario(scenario: Scenario, files: ScenarioFiles): PreparedScenario {
  const image = parseImage(files.image);
  const labels: Symbols = files.labels === undefined ? new Map() : parseLabels(files.labels);
  const symbols = new Map([...labels, ...Object.entries(scenario.symbols)]);
  const id = scenario.timing === 'image' ? (image.timing === 'both' ? '60hz' : image.timing) : scenario.timing;
  return { scenario, image, timing: TIMINGS[id], probes: compileProbes(scenario, symbols) };
}

/**
 * Run one shot of the scenario from power-on to its deadline.
 * Errors: PROGRAM_JAMMED, SAID_RANGE, BOX_MISMATCH, PARAM_RANGE, LIGHT_PATH.
 */
export function runShot(prepared: PreparedScenario, shot: number, options: ShotOptions = {}): ShotResult {
  return new Shot(prepared, shot, options).finish();
}

/** One shot of a scenario, from power-on to its deadline; it can be stopped, saved and gone on with anywhere. */
export class Shot implements TraceSink, Surroundings {
  readonly #scenario: Scenario;
  readonly #timing: Timing;
  readonly #probes: Probes;
  readonly #shot: number;
  readonly #plan: ShotPlan;
  readonly #history: PictureHistory;
  readonly #light: LightPath;
  readonly #finder: FlashFinder;
  readonly #console: Console;
  readonly #triggerTick: number;
  /** When the trigger's contact is closed: ascending, [from, to). */
  readonly #closures: readonly { readonly from: number; readonly to: number }[];
  readonly #deadline: number;
  readonly #peek = (address: number): number => this.#console.peek(address);
  readonly #reads: number[] = [];
  readonly #warnings: string[] = [];
  #truth: Truth | undefined;
  #shownTargets: readonly TargetRectangle[] = [];
  /** The tick up to which the console is to run. */
  #runsTo = 0;
  /** The target that the shot is about: the truth's, else the one with the largest share; -1 = none. */
  #aimedTarget = -1;
  /** The last picture that was complete when the trigger was pulled. */
  #before: Picture | undefined;
  #flash: Flash | undefined;
  #mismatch: Extract<BoxSighting, { kind: 'other' }> | undefined;
  /** The first picture after the flash that makes the spot brighter again; -1 = none. */
  #otherLight = -1;
  readonly #heard: Heard[] = [];

  constructor({ scenario, image, timing, probes }: PreparedScenario, shot: number, options: ShotOptions = {}) {
    const plan = scenario.shots[shot];
    if (plan === undefined) {
      throw new LatelightError('PARAM_RANGE', {
        name: 'shot',
        found: shot,
        allowed: `0 to ${scenario.shots.length - 1}`,
      });
    }
    this.#scenario = scenario;
    this.#timing = timing;
    this.#probes = probes;
    this.#shot = shot;
    this.#plan = plan;
    const settings = scenario.lightPath;
    this.#history = new PictureHistory(historyCapacity(settings, timing, scenario.pulls.length > 0));
    this.#light = new LightPath({ settings, timing, history: this.#history, ...aimsOf(scenario, plan, timing) });
    const draws = options.draws === 'aim' ? this.#light.sees : ALL_LINES;
    this.#finder = new FlashFinder(timing, this.#light.spotAt(plan.aim), this.#light.spectralWeights, draws);
    this.#triggerTick = msToTicks(timing, plan.atMs);
    this.#closures = [...scenario.pulls, plan].map(({ atMs, squeezeMs }) => {
      const from = msToTicks(timing, atMs);
      return { from, to: from + msToTicks(timing, squeezeMs) };
    });
    this.#deadline = this.#triggerTick + this.#deadlineFrames() * ticksPerFrame(timing);
    const setup: ConsoleSetup = {
      timing,
      image,
      devices: scenario.ports,
      surroundings: this,
      history: this.#history,
      trace: this,
      request: {
        fetches: probes.saidOn === 'fetch' ? mirrorsOf(probes.saidAt) : [],
        writes: probes.saidOn === 'write' ? mirrorsOf(probes.saidAt) : [],
        reads: [],
      },
      alignment: scenario.alignment,
      draws,
      hooks: { targetsForNextPicture: () => probes.targets(this.#peek) },
    };
    this.#console = options.engine === 'reference' ? new ReferenceConsole(setup) : new FastConsole(setup);
  }

  /** Tick of the start of the next processor cycle. */
  get tick(): number {
    return this.#console.tick;
  }

  /** Tick at which the trigger's contact closes, and the last tick at which the program may say something. */
  get triggerTick(): number {
    return this.#triggerTick;
  }

  get deadlineTick(): number {
    return this.#deadline;
  }

  /** Run on; cutting a shot anywhere changes nothing. Errors: PROGRAM_JAMMED, SAID_RANGE, BOX_MISMATCH. */
  runUntil(tick: number): void {
    if (this.#truth === undefined && tick >= this.#triggerTick) {
      this.#run(this.#triggerTick);
      this.#lookAtGlass();
    }
    this.#run(tick);
  }

  #run(tick: number): void {
    this.#runsTo = tick;
    this.#console.runUntil(tick);
  }

  /** Run to the deadline and judge. */
  finish(): ShotResult {
    this.runUntil(this.#deadline);
    this.#light.bitAt(this.#deadline); // brings the list of flips up to the deadline
    // A flash may stand in the picture in progress: look at it when it is complete.
    if (this.#flash === undefined) this.#run(this.#deadline + ticksPerFrame(this.#timing));
    this.#checkBox();
    const said = this.#said();
    const reads = this.#reads.filter(
      (tick) => tick <= Math.min(this.#deadline, this.#heard[0]?.tick ?? this.#deadline),
    );
    return {
      shot: this.#shot,
      aim: this.#plan.aim,
      truth: this.#truth!,
      said,
      saidTwice: this.#heard.length > 1,
      judgement: judge(this.#truth!, said),
      ticks: this.#instants(reads),
      reads,
      flips: this.#light.flips.filter((tick) => tick <= this.#deadline),
      shownTargets: this.#shownTargets,
      warnings: this.#warnings,
    };
  }

  /** The truth is what the glass shows when the trigger is pulled. */
  #lookAtGlass(): void {
    const { targets, limits } = this.#scenario;
    this.#shownTargets = this.#targetsOnGlass();
    this.#truth = findTruth(this.#plan.aim, this.#light.spotRadiusDots, this.#shownTargets, targets.marginDots, limits);
    this.#warnOfSmallTargets(this.#shownTargets);
    this.#warnOfLateGlass();
    const { shares } = this.#truth;
    const largest = Math.max(0, ...shares);
    this.#aimedTarget = this.#truth.kind === 'target' ? this.#truth.target : largest > 0 ? shares.indexOf(largest) : -1;
    const { newest } = this.#history;
    this.#before = copyOf(this.#history.get(newest - 1) ?? this.#history.get(newest)!);
  }

  /** Everything needed to go on from here; a shot in flight included. */
  save(): ShotState {
    const console = this.#console.save();
    return {
      console,
      history: this.#history.save(),
      light: this.#light.save(),
      truth: this.#truth ?? null,
      shownTargets: this.#shownTargets,
      warnings: [...this.#warnings],
      flash: this.#flash ?? null,
      aimedTarget: this.#aimedTarget,
      before: this.#before === undefined ? null : copyOf(this.#before),
      mismatch: this.#mismatch ?? null,
      otherLight: this.#otherLight,
      heard: [...this.#heard],
      reads: Float64Array.from(this.#reads),
    };
  }

  /** Take over a state of the same scenario and shot. Error: STATE_FIELD. */
  load(state: ShotState): void {
    this.#history.load(state.history);
    this.#console.load(state.console);
    this.#light.load(state.light);
    this.#truth = state.truth ?? undefined;
    this.#shownTargets = state.shownTargets;
    this.#warnings.splice(0, Number.POSITIVE_INFINITY, ...state.warnings);
    this.#flash = state.flash ?? undefined;
    this.#aimedTarget = state.aimedTarget;
    this.#before = state.before ?? undefined;
    this.#mismatch = state.mismatch ?? undefined;
    this.#otherLight = state.otherLight;
    this.#heard.splice(0, Number.POSITIVE_INFINITY, ...state.heard);
    this.#reads.length = 0;
    for (const tick of state.reads) this.#reads.push(tick);
  }

  put(event: TraceEvent): void {
    switch (event.kind) {
      case 'vblank':
        // Once a frame, so that no picture is forgotten before the panel has shown it, whether or not the program looks.
        this.#light.bitAt(event.tick);
        this.#pictureDone();
        break;
      case 'port-read':
        if (this.#scenario.ports[event.port - 1] === 'light sensor' && this.#isOpenAt(event.tick))
          this.#reads.push(event.tick);
        break;
      case 'write':
        if (this.#probes.saidOn === 'write') this.#hear(event.tick, event.value);
        break;
      case 'fetch':
        if (this.#probes.saidOn === 'fetch') this.#hear(event.tick, 0);
        break;
      case 'jam':
        throw new LatelightError('PROGRAM_JAMMED', {
          opcode: hex(event.opcode, 2),
          address: hex(event.address, 4),
          ms: ticksToMs(this.#timing, event.tick).toFixed(3),
        });
      default:
    }
  }

  readLight(_port: 1 | 2, tick: number): 0 | 1 {
    return this.#light.bitAt(tick);
  }

  lightConstantUntil(_port: 1 | 2, tick: number): number {
    let limit = this.#runsTo;
    for (const { from, to } of this.#closures) {
      if (from > tick) limit = Math.min(limit, from);
      else if (to > tick) limit = Math.min(limit, to);
    }
    return limit > tick ? this.#light.bitConstantUntil(tick, limit) : tick;
  }

  isTriggerClosed(_port: 1 | 2, tick: number): boolean {
    return this.#closures.some(({ from, to }) => tick >= from && tick < to);
  }

  buttons(port: 1 | 2, tick: number): number {
    return buttonsAt(this.#scenario.pads, port, tick, this.#timing);
  }

  /** Frames from the trigger to the deadline: declared, or the light path's latency and a second more. */
  #deadlineFrames(): number {
    return (
      this.#scenario.deadlineFrames ??
      Math.ceil(this.#light.stageLatencyTicks / ticksPerFrame(this.#timing)) + SAFETY_FRAMES
    );
  }

  #isOpenAt(tick: number): boolean {
    return tick >= this.#triggerTick && tick <= this.#deadline && this.#heard.length === 0;
  }

  /** What the glass showed at the aim's row when the trigger was pulled. */
  #targetsOnGlass(): readonly TargetRectangle[] {
    const index = this.#light.pictureShownAt(this.#triggerTick);
    if (index < 0) throw this.#tooEarly();
    return index < 0 ? [] : (this.#history.get(index)?.targets ?? []);
  }

  #tooEarly(): LatelightError {
    const earliest = this.#light.latencyBoundTicks + ticksPerFrame(this.#timing);
    const ms = (ticks: number): number => Math.ceil(ticksToMs(this.#timing, ticks));
    return new LatelightError('SHOT_TOO_EARLY', { found: this.#plan.atMs, expected: ms(earliest) });
  }

  /** By the console's own picture the aim is on a target that the glass does not show there yet. */
  #warnOfLateGlass(): void {
    const newest = this.#history.get(this.#history.newest)?.targets ?? [];
    const { targets, limits } = this.#scenario;
    const truth = findTruth(this.#plan.aim, this.#light.spotRadiusDots, newest, targets.marginDots, limits);
    if (this.#truth?.kind !== 'nothing' || truth.kind !== 'target') return;
    this.#warnings.push(
      `the console already has target ${truth.target} at the aim, but the glass did not show it there when the trigger was pulled: shoot later to aim at it`,
    );
  }

  #warnOfSmallTargets(targets: readonly TargetRectangle[]): void {
    const { marginDots } = this.#scenario.targets;
    for (let k = 0; k < targets.length; k++) {
      const target = targets[k]!;
      if (!target.isLive) continue;
      const centre = { x: target.x + target.width / 2, y: target.y + target.height / 2 };
      const truth = findTruth(centre, this.#light.spotRadiusDots, [target], marginDots, this.#scenario.limits);
      if (truth.kind !== 'target') {
        this.#warnings.push(
          `target ${k} is smaller than the spot: even at its centre the share is ${(truth.shares[0] ?? 0).toFixed(3)}`,
        );
      }
    }
  }

  /** The picture in progress is complete: is it the flash, or what comes after it? */
  #pictureDone(): void {
    const pair = pairAt(this.#history, this.#history.newest);
    const target = this.#aimedTarget;
    if (pair === undefined || target < 0) return;
    const [picture, previous] = pair;
    if (this.#flash !== undefined) {
      if (this.#otherLight < 0 && this.#finder.isSpotBrighter(picture, previous)) this.#otherLight = picture.index;
      return;
    }
    const at = picture.targets[target];
    if (at === undefined) return;
    const { marginDots } = this.#scenario.targets;
    const sighting = this.#finder.sight(picture, previous, this.#before, at, marginDots);
    if (sighting.kind === 'other') this.#mismatch ??= sighting;
    if (sighting.kind !== 'flash') return;
    this.#flash = this.#finder.firstDot(picture, previous, at, marginDots, this.#triggerTick);
  }

  /** A box was seen, but never where target and margin say. Error: BOX_MISMATCH. */
  #checkBox(): void {
    if (this.#flash !== undefined || this.#mismatch === undefined || this.#truth?.kind !== 'target') return;
    const { found, expected } = this.#mismatch;
    throw new LatelightError('BOX_MISMATCH', { found: describe(found), expected: describe(expected) });
  }

  /** The program may have said something. The first write of a read-modify-write instruction is none: the second counts. */
  #hear(tick: number, value: number): void {
    if (tick < this.#triggerTick || tick > this.#deadline) return;
    const { saidOn, saidAt, said } = this.#probes;
    // An expression that reads the address sees what is being written.
    const peek =
      saidOn === 'write' ? (address: number) => (address === saidAt ? value : this.#peek(address)) : this.#peek;
    const heard = { tick, says: said(peek, value) };
    const last = this.#heard[this.#heard.length - 1];
    if (saidOn === 'write' && last !== undefined && tick - last.tick === this.#timing.cpuDivider) this.#heard.pop();
    this.#heard.push(heard);
  }

  /** What counts is the first thing said. Error: SAID_RANGE. */
  #said(): Said {
    const [first] = this.#heard;
    if (first === undefined) return { kind: 'nothing' };
    const { count } = this.#scenario.targets;
    if (!Number.isInteger(first.says) || first.says < -1 || first.says >= count) {
      throw new LatelightError('SAID_RANGE', { found: first.says, allowed: `-1 for none, or 0 to ${count - 1}` });
    }
    return first.says < 0 ? { kind: 'none' } : { kind: 'target', target: first.says };
  }

  #instants(reads: readonly number[]): ShotTicks {
    const flash = this.#flash;
    const arrival =
      flash === undefined ? Number.POSITIVE_INFINITY : this.#light.rowTick(flash.pictureIndex, flash.y, flash.x);
    const end = Math.min(this.#deadline, this.#otherLightTick() - 1);
    const crossing = firstLitFlip(this.#light.flips, arrival, end);
    const decision = this.#heard[0]?.tick ?? null;
    return {
      trigger: this.#triggerTick,
      flashOnWire: flash !== undefined && flash.wireTick <= this.#deadline ? flash.wireTick : null,
      lightAtSpot: arrival <= this.#deadline ? arrival : null,
      crossing,
      firstLitRead: reads.find((tick) => isLitAt(this.#light.flips, tick)) ?? null,
      lastRead: reads[reads.length - 1] ?? null,
      decision,
      deadline: this.#deadline,
    };
  }

  /** When the panel begins to show the first picture after the flash that makes the spot brighter. */
  #otherLightTick(): number {
    if (this.#otherLight < 0) return Number.POSITIVE_INFINITY;
    return this.#light.rowTick(this.#otherLight, this.#finder.firstSpotLine, 0);
  }
}

/** Where the wand points, and when: on the next aim `settleMs` before its pull. */
function aimsOf({ pulls, settleMs }: Scenario, plan: ShotPlan, timing: Timing): { aim: Aim; moves: AimMove[] } {
  const [first, ...later] = [...pulls, plan];
  const moves = later.map(({ aim, atMs }) => ({ tick: msToTicks(timing, atMs - settleMs), aim }));
  return { aim: first!.aim, moves };
}

/** The first flip to lit in [from, to]: flips alternate and the first of all is to lit. */
function firstLitFlip(flips: readonly number[], from: number, to: number): number | null {
  for (let i = 0; i < flips.length; i += 2) if (flips[i]! >= from) return flips[i]! <= to ? flips[i]! : null;
  return null;
}

const copyOf = (picture: Picture): Picture => ({ ...picture, codes: picture.codes.slice() });

/** Every address under which the program reaches the same cell. */
const mirrorsOf = (address: number): number[] =>
  address < 0x2000 ? [0, 0x800, 0x1000, 0x1800].map((mirror) => (address & 0x7ff) | mirror) : [address];

const describe = ({ x, y, width, height }: Rectangle): string => `${width} x ${height} dots at (${x}, ${y})`;

const hex = (value: number, digits: number): string => `$${value.toString(16).toUpperCase().padStart(digits, '0')}`;
