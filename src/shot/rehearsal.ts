import { LatelightError } from '../errors/latelight-error.ts';
import { msToTicks, ticksToMs } from '../units/timing.ts';
import { buttonsAt } from './inputs.ts';
import { LiveSession, type PullOutcome } from './live-session.ts';
import type { PreparedScenario } from './prepared-scenario.ts';
import type { Scenario, ShotPlan } from './scenario.ts';
import type { Aim } from './truth.ts';

/** A shot that was played through without anybody at the pad. */
export interface Rehearsal {
  readonly outcome: PullOutcome;
  /** The same shot as a scenario's. */
  readonly played: PreparedScenario;
  /** The console where the shot ended. */
  readonly session: LiveSession;
}

/**
 * Play the first shot of a scenario at this aim, from power-on: aim, trigger and pads at the very ticks of the scenario, so that
 * it is the same shot to the bit. A hand that sways is not played.
 * Errors: as `runShot`; INTERNAL without a shot. A pull at no live target is not judged: CALIBRATION_REFUSED, SHOT_WITHOUT_TARGET.
 */
export function rehearse(prepared: PreparedScenario, aim: ShotPlan['aim']): Rehearsal {
  const { scenario } = prepared;
  const [first] = scenario.shots;
  if (first === undefined) throw new LatelightError('INTERNAL', { what: 'a scenario without a shot is rehearsed' });
  const plans = [...scenario.pulls, { ...first, aim }];
  const player = new Player(prepared, plans[0]!.aim);
  const { session } = player;
  const isShot = player.pull(plans);
  const { hand: _, ...still } = scenario;
  const played: Scenario = { ...still, shots: plans.slice(-1) };
  const outcome: PullOutcome = isShot
    ? outcomeOf(player)
    : { kind: 'not judged', error: noShotError(session, prepared) };
  return { outcome, played: { ...prepared, scenario: played }, session };
}

/** Why the pull that was just made is no shot. */
function noShotError(session: LiveSession, { probes, scenario, timing }: PreparedScenario): LatelightError {
  const peek = (address: number): number => session.peek(address);
  if (probes.refusesCalibration?.(peek) === true)
    return new LatelightError('CALIBRATION_REFUSED', { expression: scenario.calibration?.refused ?? '' });
  return new LatelightError('SHOT_WITHOUT_TARGET', { found: ticksToMs(timing, session.tick).toFixed(1) });
}

/** A session with the inputs of a scenario, each at its tick. */
class Player {
  readonly session: LiveSession;
  readonly #prepared: PreparedScenario;
  /** When buttons move, ascending. */
  readonly #edges: readonly number[];
  #edgesDone = 0;

  /** From power-on. Errors: PARAM_RANGE, LIGHT_PATH. */
  constructor(prepared: PreparedScenario, aim: Aim) {
    const { scenario, timing } = prepared;
    this.session = new LiveSession(prepared, aim);
    this.#prepared = prepared;
    const edges = scenario.pads.flatMap(({ fromMs, toMs }) => [msToTicks(timing, fromMs), msToTicks(timing, toMs)]);
    this.#edges = [...new Set(edges)].sort((a, b) => a - b);
  }

  /** Make pulls one after another. Answers whether the last one is a shot. */
  pull(plans: readonly ShotPlan[]): boolean {
    const { scenario, timing } = this.#prepared;
    let isShot = false;
    for (const { aim, atMs, squeezeMs } of plans) {
      this.session.moveAim(aim, this.#runBefore(msToTicks(timing, atMs - scenario.settleMs)));
      isShot = this.session.pullTrigger({ tick: this.#runBefore(msToTicks(timing, atMs)), squeezeMs });
    }
    return isShot;
  }

  runFrame(): readonly PullOutcome[] {
    this.#holdButtons(this.session.nextFrameEnd);
    return this.session.runFrame();
  }

  /**
   * Run up to the frame of a tick, and into it up to the last button that moves before. What became of pulls meanwhile is
   * nobody's. Answers the tick, or a later one within the instruction that is over then.
   */
  #runBefore(tick: number): number {
    while (this.session.nextFrameEnd <= tick) this.runFrame();
    this.#holdButtons(tick);
    return Math.max(tick, this.session.tick);
  }

  /** Move the buttons that move before this tick. */
  #holdButtons(tick: number): void {
    const { scenario, timing } = this.#prepared;
    for (let edge = this.#edges[this.#edgesDone]; edge !== undefined && edge < tick; ) {
      const fromTick = Math.max(edge, this.session.tick);
      for (const port of [1, 2] as const)
        this.session.holdButtons(port, buttonsAt(scenario.pads, port, edge, timing), fromTick);
      this.session.runInto(fromTick);
      edge = this.#edges[++this.#edgesDone];
    }
  }
}

/** How long a target has to be live without a break before somebody shoots at it. Our choice. */
const LIVE_MS = 500;
/** How long is waited for one, s after power-on. Our choice. */
const WATCHED_S = 60;

/**
 * An instant for a shot of a scenario that has none, ms after power-on: a target has been live for a while, pads and pulls
 * as the scenario has them. Errors: NO_LIVE_TARGET, and as `rehearse`.
 */
export function firstLiveMs(prepared: PreparedScenario): number {
  const { scenario, timing, probes } = prepared;
  const player = new Player(prepared, [...scenario.pulls, ...scenario.shots][0]!.aim);
  const { session } = player;
  player.pull(scenario.pulls);
  const neededMs = Math.max(LIVE_MS, ...scenario.pulls.map(({ squeezeMs }) => squeezeMs + scenario.settleMs));
  const needed = msToTicks(timing, neededMs);
  let liveTick = session.tick;
  while (session.tick - liveTick < needed) {
    if (session.tick > msToTicks(timing, WATCHED_S * 1000))
      throw new LatelightError('NO_LIVE_TARGET', { needed: neededMs / 1000, watched: WATCHED_S });
    player.runFrame();
    const isLive = probes.targets((address) => session.peek(address)).some((target) => target.isLive);
    if (!isLive) liveTick = session.tick;
  }
  return ticksToMs(timing, session.tick);
}

/** Frames after which a shot has long been answered: its deadline is 600 frames at most, and light can be a second late. */
const MOST_FRAMES = 800;

function outcomeOf(player: Player): PullOutcome {
  for (let frame = 0; frame < MOST_FRAMES; frame++) {
    const [outcome] = player.runFrame();
    if (outcome !== undefined) return outcome;
  }
  throw new LatelightError('INTERNAL', { what: `a shot without an outcome after ${MOST_FRAMES} frames` });
}
