import type { Console, ConsoleSetup, ConsoleState } from '../console/console.ts';
import { FastConsole } from '../console/fast/fast-console.ts';
import type { Surroundings } from '../console/ports.ts';
import { ReferenceConsole } from '../console/reference/reference-console.ts';
import { LatelightError } from '../errors/latelight-error.ts';
import {
  type AimMove,
  historyCapacity,
  LightPath,
  type LightPathSettings,
  type LightPathState,
} from '../light/light-path.ts';
import type { SpotWeights } from '../light/optics/optics.ts';
import {
  ALL_LINES,
  type LineRange,
  PictureHistory,
  type PictureHistoryState,
  type TargetRectangle,
} from '../picture/picture.ts';
import type { CartridgeImage } from '../program/image.ts';
import { type PortReads, putEach, type TraceEvent, type TraceRequest, type TraceSink } from '../trace/trace.ts';
import { hex } from '../units/hex.ts';
import { msToTicks, PICTURE_WIDTH, type Timing, ticksPerFrame, ticksToMs } from '../units/timing.ts';
import { handMoves } from './hand.ts';
import { PullInputs } from './inputs.ts';
import type { PreparedScenario } from './prepared-scenario.ts';
import type { Probes } from './probes.ts';
import type { Scenario, ShotPlan } from './scenario.ts';
import { deadlineAfter, type ShotResult, ShotWatch, type ShotWatchState } from './shot-watch.ts';
import type { Aim, Truth } from './truth.ts';

export type { ShotResult } from './shot-watch.ts';

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
  /** Is given every event of the trace as well; changes nothing. */
  readonly tap?: TraceSink;
}

/** A shot in flight as plain data. */
export interface ShotState {
  readonly console: ConsoleState;
  readonly history: PictureHistoryState;
  readonly light: LightPathState;
  readonly watch: ShotWatchState;
  /** Of a scenario whose pulls have a light path of their own. */
  readonly pullsLight?: LightPathState;
}

/**
 * Run one shot of the scenario from power-on to its deadline.
 * Errors: PROGRAM_JAMMED, SAID_RANGE, BOX_MISMATCH, PARAM_RANGE, LIGHT_PATH.
 */
export function runShot(prepared: PreparedScenario, shot: number, options: ShotOptions = {}): ShotResult {
  return new Shot(prepared, shot, options).finish();
}

interface Pull {
  readonly light: LightPath;
  /** The way of the light before it changes, where the scenario has another one for its pulls. */
  readonly pullsLight: LightPath | undefined;
  readonly watch: ShotWatch;
  readonly inputs: PullInputs;
  readonly aim: Aim;
  readonly hand: readonly AimMove[];
}

/** One shot of a scenario, from power-on to its deadline; it can be stopped, saved and gone on with anywhere. */
export class Shot implements TraceSink, Surroundings {
  /** What the console was built with. */
  readonly #prepared: PreparedScenario;
  readonly #timing: Timing;
  readonly #history: PictureHistory;
  readonly #console: Console;
  /** The scanlines that the console draws. */
  readonly #drawn: LineRange;
  readonly #isWhole: boolean;
  readonly #peek = (address: number): number => this.#console.peek(address);
  readonly #tap: TraceSink | undefined;
  #pull: Pull;
  /** The tick up to which the console is to run. */
  #runsTo = 0;

  constructor(prepared: PreparedScenario, shot: number, options: ShotOptions = {}) {
    const { scenario, image, timing, probes } = prepared;
    const plan = scenario.shots[shot];
    if (plan === undefined) {
      throw new LatelightError('PARAM_RANGE', {
        name: 'shot',
        found: shot,
        allowed: `0 to ${scenario.shots.length - 1}`,
      });
    }
    this.#prepared = prepared;
    this.#timing = timing;
    this.#tap = options.tap;
    this.#history = new PictureHistory(capacityFor(prepared));
    this.#isWhole = options.draws !== 'aim';
    this.#pull = this.#pullOf(prepared, shot);
    this.#drawn = this.#isWhole || this.#pull.pullsLight !== undefined ? ALL_LINES : this.#pull.light.sees;
    const setup: ConsoleSetup = {
      timing,
      image,
      devices: scenario.ports,
      surroundings: this,
      history: this.#history,
      trace: this,
      request: requestOf(probes),
      alignment: scenario.alignment,
      draws: this.#drawn,
      hooks: { targetsForNextPicture: () => probes.targets(this.#peek) },
    };
    this.#console = options.engine === 'reference' ? new ReferenceConsole(setup) : new FastConsole(setup);
  }

  /** What belongs to one pull of the trigger: the way of the light with the wand in it, and who watches. */
  #pullOf({ scenario, timing, probes }: PreparedScenario, shot: number): Pull {
    const plan = scenario.shots[shot]!;
    const history = this.#history;
    const light = new LightPath({ settings: scenario.lightPath, timing, history, ...aimsOf(scenario, plan, timing) });
    const hand = sway(light, scenario, shot, timing);
    const pullsLight = pullsLightOf(scenario, plan, timing, history);
    const lightChangesTick = pullsLight === undefined ? 0 : msToTicks(timing, plan.atMs - scenario.settleMs);
    const inputs = new PullInputs(scenario, plan, timing, lightChangesTick);
    const watch = new ShotWatch({
      scenario,
      timing,
      probes,
      history,
      light,
      peek: this.#peek,
      shot,
      aim: plan.aim,
      triggerTick: msToTicks(timing, plan.atMs),
      lines: this.#isWhole ? ALL_LINES : light.sees,
    });
    return { light, pullsLight, watch, inputs, aim: plan.aim, hand };
  }

  /**
   * Become another shot of the same program with the same ports and inputs, without building the console anew. Only light
   * path, aims and instants may differ. `start` is where it goes on: a state from before anything was different, or one from
   * power-on, of which then the console's part is taken alone. False if this shot draws too few lines or keeps another
   * number of pictures: it is of no use any more then. Error: INTERNAL for another program, other ports or another timing.
   */
  again(prepared: PreparedScenario, shot: number, start: ShotState, isPowerOn: boolean): boolean {
    const other = otherThan(this.#prepared, prepared);
    if (other !== undefined)
      throw new LatelightError('INTERNAL', { what: `a shot is to go on with another ${other} than it was built with` });
    if (capacityFor(prepared) !== this.#history.capacity) return false;
    this.#history.load(NO_PICTURES);
    const pull = this.#pullOf(prepared, shot);
    const { firstLine, lastLine } = pull.light.sees;
    if (firstLine <= lastLine && (firstLine < this.#drawn.firstLine || lastLine > this.#drawn.lastLine)) return false;
    this.#pull = pull;
    this.#runsTo = 0;
    if (!isPowerOn) this.goOnFrom(start);
    else {
      this.#history.load(start.history);
      this.#console.load(start.console);
    }
    return true;
  }

  /** Tick of the start of the next processor cycle. */
  get tick(): number {
    return this.#console.tick;
  }

  /** Tick at which the trigger's contact closes, and the last tick at which the program may say something. */
  get triggerTick(): number {
    return this.#pull.watch.triggerTick;
  }

  get deadlineTick(): number {
    return this.#pull.watch.deadlineTick;
  }

  /** What the aim was on; undefined before the trigger. */
  get truth(): Truth | undefined {
    return this.#pull.watch.truth;
  }

  /** The targets that the glass showed when the trigger was pulled; none before it. */
  get shownTargets(): readonly TargetRectangle[] {
    return this.#pull.watch.targetsAtTrigger;
  }

  /** Where the shot aims. */
  get aim(): Aim {
    return this.#pull.aim;
  }

  /** The program has said something. */
  get isAnswered(): boolean {
    return this.#pull.watch.isAnswered;
  }

  /** What the console has put out, to look at between two runs. */
  get history(): PictureHistory {
    return this.#history;
  }

  /** Sensitivity of the sensor to red, green and blue. */
  get spectralWeights(): readonly [red: number, green: number, blue: number] {
    return this.#pull.light.spectralWeights;
  }

  /** How the hand moves the aim from the trigger on. */
  get movesOfHand(): readonly AimMove[] {
    return this.#pull.hand;
  }

  /** Weights of the dots that matter under an aim. */
  spotAt(aim: Aim): SpotWeights {
    return this.#pull.light.spotAt(aim);
  }

  /** Index of the picture that the glass showed at the aim; -1 before the first. */
  pictureShownAt(tick: number): number {
    return this.#pull.light.pictureShownAt(tick);
  }

  /** The raster unit as it stands; changes nothing. */
  saveRaster(): ConsoleState['raster'] {
    return this.#console.save().raster;
  }

  /** Judge what has happened so far, after a jam. The trigger must have been pulled. Errors: SAID_RANGE, BOX_MISMATCH. */
  resultSoFar(): ShotResult {
    return this.#pull.watch.result();
  }

  /** Run on; cutting a shot anywhere changes nothing. Errors: PROGRAM_JAMMED, SHOT_TOO_EARLY. */
  runUntil(tick: number): void {
    if (!this.#pull.watch.hasBegun && tick >= this.triggerTick) {
      this.#run(this.triggerTick);
      this.#pull.watch.begin();
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
    this.#pull.light.bitAt(this.deadlineTick); // brings the list of flips up to the deadline
    // A flash may stand in the picture in progress: look at it when it is complete.
    if (!this.#pull.watch.hasFlash) this.#run(this.deadlineTick + ticksPerFrame(this.#timing));
    return this.#pull.watch.result();
  }

  /** Everything needed to go on from here; a shot in flight included. */
  save(): ShotState {
    // How far the light was asked depends on the engine: bring it to where the console stands.
    this.#pull.light.bitAt(this.tick - 1);
    this.#pull.pullsLight?.bitAt(this.tick - 1);
    const console = this.#console.save();
    const { line, dot } = console.raster.clock;
    const history = this.#history.save(line * PICTURE_WIDTH + Math.min(dot, PICTURE_WIDTH));
    const state = { console, history, light: this.#pull.light.save(), watch: this.#pull.watch.save() };
    return this.#pull.pullsLight === undefined ? state : { ...state, pullsLight: this.#pull.pullsLight.save() };
  }

  /** Take over a state of the same scenario and shot. Error: STATE_FIELD. */
  load(state: ShotState): void {
    this.#history.load(state.history);
    this.#console.load(state.console);
    this.#pull.light.load(state.light);
    if (state.pullsLight !== undefined) this.#pull.pullsLight?.load(state.pullsLight);
    this.#pull.watch.load(state.watch);
  }

  /**
   * Take over the state of another shot of the scenario, saved before anything was different between the two: the aims
   * still to come are those of this shot. Error: STATE_FIELD.
   */
  goOnFrom(state: ShotState): void {
    this.load({ ...state, light: { ...state.light, moves: this.#pull.light.movesToCome } });
  }

  put(event: TraceEvent): void {
    // Once a frame, so that no picture is forgotten before the panel has shown it, whether or not the program looks.
    if (event.kind === 'vblank') {
      this.#pull.light.bitAt(event.tick);
      this.#pull.pullsLight?.bitAt(event.tick);
    }
    this.#tap?.put(event);
    if (event.kind === 'jam') throw jamError(event, this.#timing);
    this.#pull.watch.put(event);
  }

  putPortReads(reads: PortReads): void {
    if (this.#tap !== undefined) putReads(reads, this.#tap);
    this.#pull.watch.putPortReads(reads);
  }

  readLight(_port: 1 | 2, tick: number): 0 | 1 {
    return this.#lightAt(tick).bitAt(tick);
  }

  /** The way of the light at a tick. */
  #lightAt(tick: number): LightPath {
    const { light, pullsLight, inputs } = this.#pull;
    return pullsLight === undefined || tick >= inputs.lightChangesTick ? light : pullsLight;
  }

  lightConstantUntil(_port: 1 | 2, tick: number): number {
    const limit = this.#pull.inputs.constantUntil(tick, this.#runsTo);
    return limit > tick ? this.#lightAt(tick).bitConstantUntil(tick, limit) : tick;
  }

  isTriggerClosed(_port: 1 | 2, tick: number): boolean {
    return this.#pull.inputs.isTriggerClosed(tick);
  }

  buttons(port: 1 | 2, tick: number): number {
    return this.#pull.inputs.buttons(port, tick);
  }
}

const NO_PICTURES: PictureHistoryState = { newest: -1, pictures: [] };

/** What a console is built with and may not change under it; the first that differs. */
function otherThan(built: PreparedScenario, asked: PreparedScenario): string | undefined {
  if (built.timing !== asked.timing) return 'timing';
  if (!isSameImage(built.image, asked.image)) return 'image';
  const entriesOf = ({ scenario: { targets, said, symbols, labels, ports, alignment }, probes }: PreparedScenario) => ({
    probes: [targets, said, symbols, labels, probes.saidAt],
    ports,
    alignment,
  });
  const [was, is] = [entriesOf(built), entriesOf(asked)];
  return (['probes', 'ports', 'alignment'] as const).find(
    (name) => JSON.stringify(was[name]) !== JSON.stringify(is[name]),
  );
}

function isSameImage(a: CartridgeImage, b: CartridgeImage): boolean {
  const isSame = (one: Uint8Array, other: Uint8Array): boolean =>
    one.length === other.length && one.every((byte, i) => byte === other[i]);
  return a === b || (isSame(a.program, b.program) && isSame(a.pattern, b.pattern) && a.mirroring === b.mirroring);
}

/** Number of pictures that a run keeps. */
export const capacityFor = ({ scenario, timing }: PreparedScenario): number => {
  const { lightPath, pullsLightPath = lightPath, pulls, hand } = scenario;
  const capacity = (settings: LightPathSettings) =>
    historyCapacity(settings, timing, pulls.length > 0 || hand !== undefined);
  return Math.max(capacity(lightPath), capacity(pullsLightPath));
};

/** The light path of the pulls, where it is another than that of the shot. */
function pullsLightOf(
  scenario: Scenario,
  plan: ShotPlan,
  timing: Timing,
  history: PictureHistory,
): LightPath | undefined {
  const { pullsLightPath: settings } = scenario;
  if (settings === undefined) return undefined;
  return new LightPath({ settings, timing, history, ...aimsOf(scenario, plan, timing) });
}

function putReads(reads: PortReads, sink: TraceSink): void {
  if (sink.putPortReads === undefined) putEach(reads, sink);
  else sink.putPortReads(reads);
}

/** From the trigger to the deadline the hand moves the aim. */
function sway(light: LightPath, scenario: Scenario, shot: number, timing: Timing): readonly AimMove[] {
  const { hand, seed } = scenario;
  if (hand === undefined) return [];
  const { aim, atMs } = scenario.shots[shot]!;
  const trigger = msToTicks(timing, atMs);
  const deadline = deadlineAfter(trigger, scenario, light, timing);
  const moves = handMoves(hand, aim, trigger, deadline, { seed, shot }, timing);
  light.moveAims(moves);
  return moves;
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
export const mirrorsOf = (address: number): number[] =>
  address < 0x2000 ? [0, 0x800, 0x1000, 0x1800].map((mirror) => (address & 0x7ff) | mirror) : [address];
