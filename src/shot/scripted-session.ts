import { msToTicks } from '../units/timing.ts';
import { buttonsAt } from './inputs.ts';
import { LiveSession, type PullKind, type PullOutcome } from './live-session.ts';
import type { PreparedScenario } from './prepared-scenario.ts';
import type { ShotPlan } from './scenario.ts';

/** Something that is due at a tick. */
interface Due {
  readonly tick: number;
  readonly act: (tick: number) => void;
}

/** A session from power-on in which pads, aim and trigger move as a scenario says, at its very ticks. A hand does not sway. */
export class ScriptedSession {
  readonly session: LiveSession;
  readonly #pulls: PullKind[] = [];
  /** By ascending tick. */
  #due: readonly Due[];

  /**
   * `plans`: the scenario's pulls and then shots, made one after another, the wand on the first from the beginning.
   * Errors: PARAM_RANGE, LIGHT_PATH.
   */
  constructor(prepared: PreparedScenario, plans: readonly ShotPlan[]) {
    const { scenario, timing } = prepared;
    const ticksOf = (ms: number): number => msToTicks(timing, ms);
    const shot = plans[scenario.pulls.length];
    const changesTick = shot === undefined ? Number.POSITIVE_INFINITY : ticksOf(shot.atMs - scenario.settleMs);
    this.session = new LiveSession(prepared, (plans[0] ?? scenario.shots[0]!).aim, changesTick);
    const { session } = this;
    const edges = new Set(scenario.pads.flatMap(({ fromMs, toMs }) => [ticksOf(fromMs), ticksOf(toMs)]));
    const due: Due[] = [...edges].map((edge) => ({
      tick: edge,
      act: (tick) => {
        for (const port of [1, 2] as const)
          session.holdButtons(port, buttonsAt(scenario.pads, port, edge, timing), tick);
      },
    }));
    for (const { aim, atMs, squeezeMs } of plans) {
      due.push({ tick: ticksOf(atMs - scenario.settleMs), act: (tick) => session.moveAim(aim, tick) });
      due.push({
        tick: ticksOf(atMs),
        act: (tick) => this.#pulls.push(session.pullTrigger({ tick, squeezeMs })),
      });
    }
    this.#due = due.sort((a, b) => a.tick - b.tick);
  }

  /** What became of the pulls that have been made so far. */
  get pulls(): readonly PullKind[] {
    return this.#pulls;
  }

  /** Run for one frame. Answers the shots whose fate is known now. Errors: PROGRAM_JAMMED, PARAM_RANGE for an aim. */
  runFrame(): readonly PullOutcome[] {
    const { session } = this;
    const end = session.nextFrameEnd;
    const now = this.#due.filter(({ tick }) => tick < end);
    this.#due = this.#due.slice(now.length);
    for (const { tick, act } of now) {
      // An instruction may end behind it.
      const from = Math.max(tick, session.tick);
      act(from);
      session.runInto(from);
    }
    return session.runFrame();
  }
}
