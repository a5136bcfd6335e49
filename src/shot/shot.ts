import type { Console, ConsoleSetup, ConsoleState } from '../console/console.ts';
import { FastConsole } from '../console/fast/fast-console.ts';
import type { Surroundings } from '../console/ports.ts';
import { ReferenceConsole } from '../console/reference/reference-console.ts';
import { LatelightError } from '../errors/latelight-error.ts';
import { type AimMove, historyCapacity, LightPath, type LightPathState } from '../light/light-path.ts';
import { ALL_LINES, PictureHistory, type PictureHistoryState, type TargetRectangle } from '../picture/picture.ts';
import { type CartridgeImage, parseImage } from '../program/image.ts';
import type { Symbols } from '../program/labels.ts';
import { parseLabels } from '../program/labels.ts';
import type { PortReads, TraceEvent, TraceRequest, TraceSink } from '../trace/trace.ts';
import { msToTicks, PICTURE_WIDTH, TIMINGS, type Timing, ticksPerFrame, ticksToMs } from '../units/timing.ts';
import { handMoves } from './hand.ts';
import { buttonsAt } from './inputs.ts';
import { compileProbes, type Probes } from './probes.ts';
import type { Scenario, ShotPlan } from './scenario.ts';
import { deadlineAfter, type ShotResult, ShotWatch, type ShotWatchState } from './shot-watch.ts';
import type { Aim, Truth } from './truth.ts';

export type { ShotResult, ShotTicks } from './shot-watch.ts';

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

/** A shot in flight as plain data. */
export interface ShotState {
  readonly console: ConsoleState;
  readonly history: PictureHistoryState;
  readonly light: LightPathState;
  readonly watch: ShotWatchState;
}

/** The files that a scenario names. */
export interface ScenarioFiles {
  readonly image: Uint8Array;
  readonly labels?: string;
}

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
  readonly #history: PictureHistory;
  readonly #light: LightPath;
  readonly #watch: ShotWatch;
  readonly #console: Console;
  /** When the trigger's contact is closed: ascending, [from, to). */
  readonly #closures: readonly { readonly from: number; readonly to: number }[];
  readonly #peek = (address: number): number => this.#console.peek(address);
  /** The tick up to which the console is to run. */
  #runsTo = 0;

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
    const settings = scenario.lightPath;
    const movesAim = scenario.pulls.length > 0 || scenario.hand !== undefined;
    this.#history = new PictureHistory(historyCapacity(settings, timing, movesAim));
    this.#light = new LightPath({ settings, timing, history: this.#history, ...aimsOf(scenario, plan, timing) });
    this.#sway(scenario, plan, shot);
    const draws = options.draws === 'aim' ? this.#light.sees : ALL_LINES;
    this.#closures = [...scenario.pulls, plan].map(({ atMs, squeezeMs }) => {
      const from = msToTicks(timing, atMs);
      return { from, to: from + msToTicks(timing, squeezeMs) };
    });
    this.#watch = new ShotWatch({
      scenario,
      timing,
      probes,
      history: this.#history,
      light: this.#light,
      peek: this.#peek,
      shot,
      aim: plan.aim,
      triggerTick: msToTicks(timing, plan.atMs),
      lines: draws,
    });
    const setup: ConsoleSetup = {
      timing,
      image,
      devices: scenario.ports,
      surroundings: this,
      history: this.#history,
      trace: this,
      request: requestOf(probes),
      alignment: scenario.alignment,
      draws,
      hooks: { targetsForNextPicture: () => probes.targets(this.#peek) },
    };
    this.#console = options.engine === 'reference' ? new ReferenceConsole(setup) : new FastConsole(setup);
  }

  /** From the trigger to the deadline the hand moves the aim. */
  #sway(scenario: Scenario, { aim, atMs }: ShotPlan, shot: number): void {
    const { hand, seed } = scenario;
    if (hand === undefined) return;
    const trigger = msToTicks(this.#timing, atMs);
    const deadline = deadlineAfter(trigger, scenario, this.#light, this.#timing);
    const moves = handMoves(hand, aim, trigger, deadline, { seed, shot }, this.#timing);
    for (const move of moves) this.#light.moveAim(move);
  }

  /** Tick of the start of the next processor cycle. */
  get tick(): number {
    return this.#console.tick;
  }

  /** Tick at which the trigger's contact closes, and the last tick at which the program may say something. */
  get triggerTick(): number {
    return this.#watch.triggerTick;
  }

  get deadlineTick(): number {
    return this.#watch.deadlineTick;
  }

  /** What the aim was on; undefined before the trigger. */
  get truth(): Truth | undefined {
    return this.#watch.truth;
  }

  /** The targets that the glass showed when the trigger was pulled; none before it. */
  get shownTargets(): readonly TargetRectangle[] {
    return this.#watch.targetsAtTrigger;
  }

  /** Run on; cutting a shot anywhere changes nothing. Errors: PROGRAM_JAMMED, SHOT_TOO_EARLY. */
  runUntil(tick: number): void {
    if (!this.#watch.hasBegun && tick >= this.triggerTick) {
      this.#run(this.triggerTick);
      this.#watch.begin();
    }
    this.#run(tick);
  }

  #run(tick: number): void {
    this.#runsTo = tick;
    this.#console.runUntil(tick);
  }

  /** Run to the deadline and judge. Errors: as `runUntil`; SAID_RANGE, BOX_MISMATCH. */
  finish(): ShotResult {
    this.runUntil(this.deadlineTick);
    this.#light.bitAt(this.deadlineTick); // brings the list of flips up to the deadline
    // A flash may stand in the picture in progress: look at it when it is complete.
    if (!this.#watch.hasFlash) this.#run(this.deadlineTick + ticksPerFrame(this.#timing));
    return this.#watch.result();
  }

  /** Everything needed to go on from here; a shot in flight included. */
  save(): ShotState {
    // How far the light was asked depends on the engine: bring it to where the console stands.
    this.#light.bitAt(this.tick - 1);
    const console = this.#console.save();
    const { line, dot } = console.raster.clock;
    const history = this.#history.save(line * PICTURE_WIDTH + Math.min(dot, PICTURE_WIDTH));
    return { console, history, light: this.#light.save(), watch: this.#watch.save() };
  }

  /** Take over a state of the same scenario and shot. Error: STATE_FIELD. */
  load(state: ShotState): void {
    this.#history.load(state.history);
    this.#console.load(state.console);
    this.#light.load(state.light);
    this.#watch.load(state.watch);
  }

  /**
   * Take over the state of another shot of the scenario, saved before anything was different between the two: the aims
   * still to come are those of this shot. Error: STATE_FIELD.
   */
  goOnFrom(state: ShotState): void {
    this.load({ ...state, light: { ...state.light, moves: this.#light.movesToCome } });
  }

  put(event: TraceEvent): void {
    // Once a frame, so that no picture is forgotten before the panel has shown it, whether or not the program looks.
    if (event.kind === 'vblank') this.#light.bitAt(event.tick);
    if (event.kind === 'jam') throw jamError(event, this.#timing);
    this.#watch.put(event);
  }

  putPortReads(reads: PortReads): void {
    this.#watch.putPortReads(reads);
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
}

/** Where the wand points, and when: on the next aim `settleMs` before its pull. */
function aimsOf({ pulls, settleMs }: Scenario, plan: ShotPlan, timing: Timing): { aim: Aim; moves: AimMove[] } {
  const [first, ...later] = [...pulls, plan];
  const moves = later.map(({ aim, atMs }) => ({ tick: msToTicks(timing, atMs - settleMs), aim }));
  return { aim: first!.aim, moves };
}

/** The accesses that say something. */
export const requestOf = ({ saidOn, saidAt }: Probes): TraceRequest => ({
  fetches: saidOn === 'fetch' ? mirrorsOf(saidAt) : [],
  writes: saidOn === 'write' ? mirrorsOf(saidAt) : [],
  reads: [],
});

export const jamError = ({ tick, address, opcode }: Extract<TraceEvent, { kind: 'jam' }>, timing: Timing) =>
  new LatelightError('PROGRAM_JAMMED', {
    opcode: hex(opcode, 2),
    address: hex(address, 4),
    ms: ticksToMs(timing, tick).toFixed(3),
  });

/** Every address under which the program reaches the same cell. */
const mirrorsOf = (address: number): number[] =>
  address < 0x2000 ? [0, 0x800, 0x1000, 0x1800].map((mirror) => (address & 0x7ff) | mirror) : [address];

const hex = (value: number, digits: number): string => `$${value.toString(16).toUpperCase().padStart(digits, '0')}`;
