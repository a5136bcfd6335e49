import { msToTicks } from '../units/timing.ts';
import { PullInputs } from './inputs.ts';
import { LiveSession, type PullKind, type PullOutcome } from './live-session.ts';
import type { PreparedScenario } from './prepared-scenario.ts';
import type { Scenario, ShotPlan } from './scenario.ts';

/** The share of the time between two shots that the wand takes at most to settle on the second. Our choice. */
const SETTLING_SHARE = 1 / 4;

/** A session from power-on in which pads, aim and trigger move as a scenario says, at its very ticks. A hand does not sway. */
export class ScriptedSession {
  readonly session: LiveSession;
  readonly #plans: readonly (ShotPlan & { readonly tick: number })[];
  readonly #pulls: PullKind[] = [];

  /**
   * `plans`: the scenario's pulls and then shots, made one after another, the wand on the first from the beginning.
   * Errors: PARAM_RANGE, LIGHT_PATH.
   */
  constructor(prepared: PreparedScenario, plans: readonly ShotPlan[]) {
    const { scenario, timing } = prepared;
    const ticksOf = (ms: number): number => msToTicks(timing, ms);
    this.#plans = plans.map((plan) => ({ ...plan, tick: ticksOf(plan.atMs) }));
    const shot = plans[scenario.pulls.length];
    const changesTick = shot === undefined ? Number.POSITIVE_INFINITY : ticksOf(shot.atMs - scenario.settleMs);
    const inputs = new PullInputs(
      { pads: scenario.pads, pulls: plans.slice(0, -1) },
      plans[plans.length - 1],
      timing,
      scenario.pullsLightPath === undefined ? 0 : changesTick,
    );
    const moves = plans.slice(1).map(({ aim }, i) => ({ tick: ticksOf(settledMs(scenario, plans, i + 1)), aim }));
    this.session = new LiveSession(prepared, (plans[0] ?? scenario.shots[0]!).aim, { inputs, moves });
  }

  /** What became of the pulls that have been made so far. */
  get pulls(): readonly PullKind[] {
    return this.#pulls;
  }

  /** Run for one frame. Answers the shots whose fate is known now. Error: PROGRAM_JAMMED. */
  runFrame(): readonly PullOutcome[] {
    const { session } = this;
    const end = session.nextFrameEnd;
    for (let next = this.#plans[this.#pulls.length]; next !== undefined && next.tick < end; ) {
      this.#pulls.push(session.pullTrigger(next));
      next = this.#plans[this.#pulls.length];
    }
    return session.runFrame();
  }
}

/** When the wand turns to a plan: as in a shot of its own, but for three quarters of the time it stays with a shot before it. */
function settledMs({ pulls, settleMs }: Scenario, plans: readonly ShotPlan[], i: number): number {
  const { atMs } = plans[i]!;
  if (i <= pulls.length) return atMs - settleMs;
  return atMs - Math.min(settleMs, SETTLING_SHARE * (atMs - plans[i - 1]!.atMs));
}
