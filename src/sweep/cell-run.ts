import { LatelightError } from '../errors/latelight-error.ts';
import { isCalibrationRefused } from '../shot/calibration.ts';
import type { PreparedScenario } from '../shot/prepared-scenario.ts';
import type { Scenario } from '../shot/scenario.ts';
import { sentenceOf } from '../shot/sentence.ts';
import { type Engine, Shot, type ShotResult, type ShotState } from '../shot/shot.ts';
import { type Aim, centreOf } from '../shot/truth.ts';
import { Fingerprint } from '../units/hash.ts';
import { msToTicks, ticksPerFrame, ticksToMs } from '../units/timing.ts';
import type { CellPlace } from './cells.ts';
import { drawnShot, sharesStart } from './draws.ts';
import { OUTCOME_NAMES, type Outcome, outcomeOf, outcomeOfJam, packOutcomes } from './outcome.ts';
import { type PreparedCell, prepareCell, type Sweep } from './plan.ts';

/** Least, mean and largest of some time, ms. */
export interface TimeRange {
  readonly count: number;
  readonly leastMs: number;
  readonly meanMs: number;
  readonly largestMs: number;
}

/** The first shot of a cell that was not right, and why. */
export interface WrongShot {
  /** Number of the shot, counted from 1. */
  readonly shot: number;
  readonly outcome: string;
  readonly atMs: number;
  readonly sentence: string;
}

/** What came of a cell; plain data that depends on plan and cell only. */
export interface CellResult extends CellPlace {
  readonly cell: number;
  readonly n: number;
  /** The aim in dots and scanlines. */
  readonly x: number;
  readonly y: number;
  /** One letter a shot, runs of equal ones packed: see `Outcome`. */
  readonly outcomes: string;
  readonly saidTwice: number;
  /** From the trigger to what the program said. */
  readonly decision: TimeRange | null;
  /** From the program's last look to the light of its flash, in shots that missed it: positive = looked too early. */
  readonly lightAfterLook: TimeRange | null;
  readonly firstWrong: WrongShot | null;
  readonly warnings: readonly string[];
  /** Over every instant and every flip of every shot. */
  readonly fingerprint: string;
  /** The cell could not be shot: what is wrong with its scenario. */
  readonly refused: string | null;
}

export interface CellOptions {
  readonly engine?: Engine;
  /** false: run every shot from power-on, even where all shots of a cell have the same start. Gives the same bytes. */
  readonly sharesStart?: boolean;
}

/** Warnings of a cell beyond these are not kept: they repeat. */
const MOST_WARNINGS = 5;
/** Where a trial is aimed that finds out where the targets are. */
const CENTRE: Aim = { x: 128, y: 120 };

/**
 * Runs the shots of one cell one by one.
 *
 * The first is run from power-on with whole pictures, which holds the box against its probe. Where nothing that runs free
 * differs, the others go on from its state a frame before the earliest trigger or turn of the wand; where a backlight or a
 * lamp has a phase of its own, every shot is run from power-on, calibration included. A fault of the scenario
 * (box, too early, said out of range) ends the cell: it is refused.
 */
export class CellRun {
  readonly #cell: PreparedCell;
  readonly #options: CellOptions;
  /** Where it is aimed; null where a refused calibration has left no target to aim at. */
  #aim: Aim | null | undefined;
  /** Where the shots after the first begin, and whether that is where all of them have been one so far. */
  #start: ShotState | undefined;
  #isShared = false;
  #shot: Shot | undefined;
  #outcomes = '';
  #saidTwice = 0;
  readonly #decision = new Times();
  readonly #lightAfterLook = new Times();
  #firstWrong: WrongShot | null = null;
  readonly #warnings = new Set<string>();
  readonly #fingerprint = new Fingerprint();
  #refused: string | null = null;

  constructor(cell: PreparedCell, options: CellOptions = {}) {
    this.#cell = cell;
    this.#options = options;
  }

  /** Shots that have been run. */
  get done(): number {
    return this.#refused === null ? this.#outcomes.length : this.#cell.n;
  }

  get isDone(): boolean {
    return this.done >= this.#cell.n;
  }

  /** Run the next shot. */
  step(): void {
    try {
      this.#shoot(this.#outcomes.length);
    } catch (error) {
      if (!(error instanceof LatelightError) || error.code === 'INTERNAL') throw error;
      this.#refused = `${error.message}. ${error.hint}`;
    }
  }

  result(): CellResult {
    const { cell, place, n } = this.#cell;
    return {
      cell,
      ...place,
      n,
      x: this.#aim?.x ?? 0,
      y: this.#aim?.y ?? 0,
      outcomes: this.#refused === null ? packOutcomes(this.#outcomes) : '',
      saidTwice: this.#saidTwice,
      decision: this.#decision.range(),
      lightAfterLook: this.#lightAfterLook.range(),
      firstWrong: this.#firstWrong,
      warnings: [...this.#warnings].slice(0, MOST_WARNINGS),
      fingerprint: this.#fingerprint.digest(),
      refused: this.#refused,
    };
  }

  #shoot(number: number): void {
    const { prepared, free, seed } = this.#cell;
    if (this.#aim === undefined) this.#aim = placedAim(this.#cell);
    const drawn = drawnShot(prepared, this.#aim ?? CENTRE, free, seed, number);
    const shot = number === 0 ? this.#firstShot(drawn) : this.#laterShot(drawn);
    const { atMs } = drawn.scenario.shots[0]!;
    try {
      if (isCalibrationRefused(drawn, shot)) this.#takeRefusal(number, atMs);
      else if (this.#aim === null) throw noTarget(this.#cell);
      else this.#take(number, atMs, shot.finish());
    } catch (error) {
      this.#takeJam(number, atMs, shot, error);
    }
  }

  #firstShot(drawn: PreparedScenario): Shot {
    const shot = new Shot(drawn, 0, { ...this.#options, draws: 'all' });
    if (this.#cell.n > 1) this.#saveStart(shot);
    return shot;
  }

  /** Built once a cell and used again, which saves as much time as a few pictures take. */
  #laterShot(drawn: PreparedScenario): Shot {
    if (this.#shot?.again(drawn, 0, this.#start!, !this.#isShared)) return this.#shot;
    this.#shot = new Shot(drawn, 0, { ...this.#options, draws: 'aim' });
    if (this.#isShared) this.#shot.goOnFrom(this.#start!);
    return this.#shot;
  }

  /** Keep the state up to which all shots are one: a frame before the earliest difference, or power-on. */
  #saveStart(shot: Shot): void {
    const { prepared, free } = this.#cell;
    const { scenario, timing } = prepared;
    const { atMs } = scenario.shots[0]!;
    const earliest = msToTicks(timing, scenario.pulls.length > 0 ? atMs - scenario.settleMs : atMs);
    // A frame before: the console may overshoot by an instruction, and the light path is asked up to its tick.
    const tick = earliest - ticksPerFrame(timing);
    this.#isShared = this.#options.sharesStart !== false && sharesStart(free) && tick > 0;
    if (this.#isShared) shot.runUntil(tick);
    this.#start = shot.save();
  }

  #take(number: number, atMs: number, result: ShotResult): void {
    const { timing } = this.#cell.prepared;
    const { ticks, flips, warnings } = result;
    for (const tick of Object.values(ticks)) this.#fingerprint.addDouble(tick ?? -1);
    for (const tick of flips) this.#fingerprint.addDouble(tick);
    this.#fingerprint.addInt(flips.length).addInt(result.reads.length);
    for (const warning of warnings) if (this.#warnings.size < MOST_WARNINGS) this.#warnings.add(warning);
    if (result.saidTwice) this.#saidTwice++;
    if (ticks.decision !== null) this.#decision.add(ticksToMs(timing, ticks.decision - ticks.trigger));
    const outcome = outcomeOf(result);
    if ((outcome === 'm' || outcome === 'd') && ticks.crossing !== null && ticks.lastRead !== null)
      this.#lightAfterLook.add(ticksToMs(timing, ticks.crossing - ticks.lastRead));
    this.#add(number, atMs, outcome, () => sentenceOf(result, timing));
  }

  /** Neither right nor wrong: the shot is not taken. */
  #takeRefusal(number: number, atMs: number): void {
    this.#fingerprint.addText(OUTCOME_NAMES.r);
    this.#add(number, atMs, 'r', () => OUTCOME_NAMES.r);
  }

  /** A jam after the trigger is an outcome; before it, nothing can be shot. */
  #takeJam(number: number, atMs: number, shot: Shot, error: unknown): void {
    const truth = error instanceof LatelightError && error.code === 'PROGRAM_JAMMED' ? shot.truth : undefined;
    if (truth === undefined) throw error;
    this.#fingerprint.addText((error as Error).message);
    this.#add(number, atMs, outcomeOfJam(truth), () => (error as Error).message);
  }

  #add(number: number, atMs: number, outcome: Outcome, why: () => string): void {
    this.#outcomes += outcome;
    if ('hner'.includes(outcome)) return;
    this.#firstWrong ??= { shot: number + 1, outcome: OUTCOME_NAMES[outcome], atMs: rounded(atMs), sentence: why() };
  }
}

/** The scenario of one shot of the sweep, by itself: what `shot` (counted from 0) has drawn is written in it. */
export function drawnScenario(sweep: Sweep, cell: number, shot: number): Scenario {
  const prepared = prepareCell(sweep, cell);
  return drawnShot(prepared.prepared, placedAim(prepared) ?? CENTRE, prepared.free, prepared.seed, shot).scenario;
}

/** How often a worker says how far it is. */
const TELL_EVERY_MS = 50;

/** Run a whole cell in a worker: `tell` hears now and then how many of its shots are done. */
export function runCellTelling(
  sweep: Sweep,
  cell: number,
  clockMs: () => number,
  tell: (done: number) => void,
): CellResult {
  const run = new CellRun(prepareCell(sweep, cell));
  let told = clockMs();
  while (!run.isDone) {
    run.step();
    if (clockMs() - told < TELL_EVERY_MS) continue;
    told = clockMs();
    tell(run.done);
  }
  return run.result();
}

/** Run a whole cell. */
export function runCell(sweep: Sweep, cell: number, options: CellOptions = {}): CellResult {
  const run = new CellRun(prepareCell(sweep, cell), options);
  while (!run.isDone) run.step();
  return run.result();
}

/**
 * The aim as a place. One that is relative to a target is taken from what the glass shows at the screen's centre in a trial
 * with the trigger pulled where the scenario says; the target's centre is its zero. null where the trial has refused to
 * calibrate, and so has no targets. Error: PARAM_RANGE if there is no such target.
 */
function placedAim(cell: PreparedCell): Aim | null {
  const { aim, prepared } = cell;
  if (!('target' in aim)) return aim;
  const plan = { ...prepared.scenario.shots[0]!, aim: CENTRE };
  const { hand: _, ...still } = prepared.scenario;
  const trialled = { ...prepared, scenario: { ...still, shots: [plan] } };
  const trial = new Shot(trialled, 0, { draws: 'aim' });
  trial.runUntil(trial.triggerTick);
  const { target, dx, dy } = aim;
  const found = trial.shownTargets[target];
  if (found === undefined || !found.isLive) {
    if (isCalibrationRefused(trialled, trial)) return null;
    throw noTarget(cell);
  }
  const centre = centreOf(found);
  return { x: centre.x + dx, y: centre.y + dy };
}

const noTarget = ({ aim }: PreparedCell): LatelightError =>
  new LatelightError('PARAM_RANGE', {
    name: 'target of the aim',
    found: 'target' in aim ? aim.target : 'none',
    allowed: 'a target that is live and on the glass at the trigger (else shoot later, atMs)',
  });

/** Least, sum and largest; the mean is a sum in the order of the shots, so that its bytes are the same everywhere. */
class Times {
  #count = 0;
  #sum = 0;
  #least = Number.POSITIVE_INFINITY;
  #largest = Number.NEGATIVE_INFINITY;

  add(ms: number): void {
    this.#count++;
    this.#sum += ms;
    this.#least = Math.min(this.#least, ms);
    this.#largest = Math.max(this.#largest, ms);
  }

  range(): TimeRange | null {
    if (this.#count === 0) return null;
    return {
      count: this.#count,
      leastMs: rounded(this.#least),
      meanMs: rounded(this.#sum / this.#count),
      largestMs: rounded(this.#largest),
    };
  }
}

/** To the microsecond. */
const rounded = (ms: number): number => Math.round(ms * 1000) / 1000;
