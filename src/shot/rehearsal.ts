import { LatelightError } from '../errors/latelight-error.ts';
import { msToTicks, ticksToMs } from '../units/timing.ts';
import { buttonsAt } from './inputs.ts';
import { LiveSession, type PullOutcome } from './live-session.ts';
import type { PreparedScenario } from './prepared-scenario.ts';
import type { Scenario, ShotPlan } from './scenario.ts';

/** A shot that was played through without anybody at the pad. */
export interface Rehearsal {
  readonly outcome: PullOutcome;
  /** The same shot as a scenario's, every pull at the very tick at which it was made. */
  readonly played: PreparedScenario;
  /** The console where the shot ended. */
  readonly session: LiveSession;
}

/**
 * Play the first shot of a scenario at this aim, from power-on. Pulls are made between frames as a person's are, the first
 * one after the instant of the scenario, and pads are read once a frame; a hand that sways is not played.
 * Errors: as `runShot`; INTERNAL without a shot. A pull at no live target is not judged: CALIBRATION_REFUSED, SHOT_WITHOUT_TARGET.
 */
export function rehearse(prepared: PreparedScenario, aim: ShotPlan['aim']): Rehearsal {
  const { scenario } = prepared;
  const [first] = scenario.shots;
  if (first === undefined) throw new LatelightError('INTERNAL', { what: 'a scenario without a shot is rehearsed' });
  const plans = [...scenario.pulls, { ...first, aim }];
  const session = new LiveSession(prepared, plans[0]!.aim);
  const pulls = makePulls(session, prepared, plans);
  const { hand: _, ...still } = scenario;
  const played: Scenario = { ...still, pulls: pulls.slice(0, -1), shots: pulls.slice(-1) };
  const refused = refusedAt(session, prepared);
  const outcome: PullOutcome =
    refused === undefined ? outcomeOf(session, prepared) : { kind: 'not judged', error: refused };
  return { outcome, played: { ...prepared, scenario: played }, session };
}

/** Why the pull that was just made is no shot; undefined if it is one. */
function refusedAt(session: LiveSession, { probes, scenario, timing }: PreparedScenario): LatelightError | undefined {
  const peek = (address: number): number => session.peek(address);
  if (probes.targets(peek).some(({ isLive }) => isLive)) return undefined;
  if (probes.refusesCalibration?.(peek) === true)
    return new LatelightError('CALIBRATION_REFUSED', { expression: scenario.calibration?.refused ?? '' });
  return new LatelightError('SHOT_WITHOUT_TARGET', { found: ticksToMs(timing, session.tick).toFixed(1) });
}

/** Make pulls one after another. Answers the instants at which they were made. */
function makePulls(session: LiveSession, prepared: PreparedScenario, plans: readonly ShotPlan[]): ShotPlan[] {
  const { scenario, timing } = prepared;
  return plans.map((plan) => {
    const trigger = msToTicks(timing, plan.atMs);
    runTo(session, prepared, trigger - msToTicks(timing, scenario.settleMs));
    session.moveAim(plan.aim);
    runTo(session, prepared, trigger);
    const atMs = ticksToMs(timing, session.tick);
    session.pullTrigger();
    return { ...plan, atMs };
  });
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
  const session = new LiveSession(prepared, [...scenario.pulls, ...scenario.shots][0]!.aim);
  makePulls(session, prepared, scenario.pulls);
  const neededMs = Math.max(LIVE_MS, ...scenario.pulls.map(({ squeezeMs }) => squeezeMs + scenario.settleMs));
  const needed = msToTicks(timing, neededMs);
  let liveTick = session.tick;
  while (session.tick - liveTick < needed) {
    if (session.tick > msToTicks(timing, WATCHED_S * 1000))
      throw new LatelightError('NO_LIVE_TARGET', { needed: neededMs / 1000, watched: WATCHED_S });
    runFrame(session, prepared);
    const isLive = probes.targets((address) => session.peek(address)).some((target) => target.isLive);
    if (!isLive) liveTick = session.tick;
  }
  return ticksToMs(timing, session.tick);
}

/** Whole frames up to this tick, with the buttons of the scenario. Outcomes of pulls before the shot are nobody's. */
function runTo(session: LiveSession, prepared: PreparedScenario, tick: number): void {
  while (session.tick < tick) runFrame(session, prepared);
}

function runFrame(session: LiveSession, { scenario, timing }: PreparedScenario): readonly PullOutcome[] {
  session.holdButtons(1, buttonsAt(scenario.pads, 1, session.tick, timing));
  session.holdButtons(2, buttonsAt(scenario.pads, 2, session.tick, timing));
  return session.runFrame();
}

/** Frames after which a shot has long been answered: its deadline is 600 frames at most, and light can be a second late. */
const MOST_FRAMES = 800;

function outcomeOf(session: LiveSession, prepared: PreparedScenario): PullOutcome {
  for (let frame = 0; frame < MOST_FRAMES; frame++) {
    const [outcome] = runFrame(session, prepared);
    if (outcome !== undefined) return outcome;
  }
  throw new LatelightError('INTERNAL', { what: `a shot without an outcome after ${MOST_FRAMES} frames` });
}
