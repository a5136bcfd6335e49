import { LatelightError } from '../errors/latelight-error.ts';
import { msToTicks, ticksToMs } from '../units/timing.ts';
import type { LiveSession, PullOutcome } from './live-session.ts';
import type { PreparedScenario } from './prepared-scenario.ts';
import type { ShotPlan } from './scenario.ts';
import { ScriptedSession } from './scripted-session.ts';

/** Frames after which a shot has long been answered: its deadline is 600 frames at most, and light can be a second late. */
const MOST_FRAMES = 800;

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
  const script = new ScriptedSession(prepared, plans);
  const outcomes: PullOutcome[] = [];
  while (script.pulls.length < plans.length) outcomes.push(...script.runFrame());
  const { session, pulls } = script;
  const { hand: _, ...still } = scenario;
  const played = { ...prepared, scenario: { ...still, shots: plans.slice(-1) } };
  if (pulls[pulls.length - 1] !== 'shot')
    return { outcome: { kind: 'not judged', error: noShotError(session, prepared) }, played, session };
  const shots = pulls.filter((pull) => pull === 'shot').length;
  for (let frame = 0; frame < MOST_FRAMES && outcomes.length < shots; frame++) outcomes.push(...script.runFrame());
  const outcome = outcomes[shots - 1];
  if (outcome === undefined)
    throw new LatelightError('INTERNAL', { what: `a shot without an outcome after ${MOST_FRAMES} frames` });
  return { outcome, played, session };
}

/** Why the pull that was just made is no shot. */
function noShotError(session: LiveSession, { probes, scenario, timing }: PreparedScenario): LatelightError {
  const peek = (address: number): number => session.peek(address);
  if (probes.refusesCalibration?.(peek) === true)
    return new LatelightError('CALIBRATION_REFUSED', { expression: scenario.calibration?.refused ?? '' });
  return new LatelightError('SHOT_WITHOUT_TARGET', { found: ticksToMs(timing, session.tick).toFixed(1) });
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
  const script = new ScriptedSession(prepared, scenario.pulls);
  const { session } = script;
  while (script.pulls.length < scenario.pulls.length) script.runFrame();
  const neededMs = Math.max(LIVE_MS, ...scenario.pulls.map(({ squeezeMs }) => squeezeMs + scenario.settleMs));
  const needed = msToTicks(timing, neededMs);
  let liveTick = session.tick;
  while (session.tick - liveTick < needed) {
    if (session.tick > msToTicks(timing, WATCHED_S * 1000))
      throw new LatelightError('NO_LIVE_TARGET', { needed: neededMs / 1000, watched: WATCHED_S });
    script.runFrame();
    const isLive = probes.targets((address) => session.peek(address)).some((target) => target.isLive);
    if (!isLive) liveTick = session.tick;
  }
  return ticksToMs(timing, session.tick);
}
