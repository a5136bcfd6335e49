import { readFileSync } from 'node:fs';
import { expect } from 'vitest';
import { type Explanation, explain } from '../../src/shot/cause/explain.ts';
import { observeLiveShot } from '../../src/shot/cause/live-observation.ts';
import type { Observation } from '../../src/shot/cause/observation.ts';
import { LiveSession, type PullOutcome } from '../../src/shot/live-session.ts';
import { type PreparedScenario, prepareScenario } from '../../src/shot/prepared-scenario.ts';
import { checkScenario } from '../../src/shot/scenario.ts';
import type { Aim } from '../../src/shot/truth.ts';
import { ticksPerFrame, ticksToMs } from '../../src/units/timing.ts';
import { LAMPLIGHTER, type Strategy } from '../lamplighter.ts';

type Judged = Extract<PullOutcome, { readonly kind: 'judged' }>;

/** A judged shot; the session has watched it up to `endTick` or for a frame more. */
export type EndedShot = Judged & { readonly endTick: number };
export type Document = Readonly<Record<string, unknown>>;

/** Targets of the practice street: their centres, and a place where none is. */
export const LAMPS: readonly Aim[] = [
  { x: 52, y: 36 },
  { x: 132, y: 120 },
  { x: 212, y: 204 },
];
/** Where the calibration's mark is. */
export const MARK = { x: 128, y: 120 };
/** Buttons of the pad. */
export const [A, START, RIGHT] = [1, 8, 128] as const;
const SELECT = 4;

export const TUBE = { panel: { kind: 'beam-tube' } };
export const lateLcd = (delayMs: number, values: Document = {}): Document => ({
  stages: [{ kind: 'pure-delay', delayMs }],
  panel: { kind: 'lcd', ...values },
});

/** A light path as a scenario writes it, in a dim room and through the bench's own spot where it says nothing else. */
const lightPath = (path: Document): Document => ({
  room: { kind: 'constant-light', illuminanceLux: 50 },
  optics: { kind: 'gaussian-spot', radiusDots: 6 },
  sensor: { kind: 'wide-band' },
  ...path,
});

/** Where the calibrated program keeps the delay that its shots go by: sixteenths of a poll slot of 14 cycles. */
const CALIBRATION = { at: 'delayTime', bytes: 3, unitCycles: 14 / 16 };
const SQUEEZE_MS = 80;

function prepare(strategy: Strategy, changes: Document): PreparedScenario {
  const document = JSON.parse(readFileSync(`${LAMPLIGHTER}/tube.json`, 'utf8'));
  const calibration = strategy === 'calibrated' ? { calibration: CALIBRATION } : {};
  return prepareScenario(checkScenario({ ...document, ...calibration, ...changes }), {
    image: new Uint8Array(readFileSync(`${LAMPLIGHTER}/${strategy}.bin`)),
    labels: readFileSync(`${LAMPLIGHTER}/${strategy}.lbl`, 'utf8'),
  });
}

/** Lamplighter in somebody's hands: everything done is a step of a script, and what came of the pulls is kept. */
export class PlayedStreet {
  readonly session: LiveSession;
  readonly outcomes: (PullOutcome & { readonly endTick: number })[] = [];
  readonly #strategy: Strategy;
  #path: Document;
  #aim: Aim;
  #aimedTick = 0;
  /** The way of the light before it was changed. */
  #pathBefore: Document | undefined;
  readonly #pulls: { readonly aim: Aim; readonly tick: number; readonly aimedTick: number }[] = [];

  /** From power-on to the practice street, or to the mark in the calibrated version. */
  constructor(strategy: Strategy, path: Document, aim = LAMPS[0]!) {
    this.#strategy = strategy;
    this.#path = path;
    this.#aim = aim;
    this.session = new LiveSession(prepare(strategy, { lightPath: lightPath(path) }), aim);
    this.hold(SELECT).run(24).hold(0);
  }

  run(frames: number): this {
    for (let i = 0; i < frames; i++) {
      // A shot that the next pull has ended comes with the frame after it.
      const endTick = this.session.tick;
      for (const outcome of this.session.runFrame()) this.outcomes.push({ ...outcome, endTick });
    }
    return this;
  }

  aim(aim: Aim): this {
    this.session.moveAim(aim);
    this.#aim = aim;
    this.#aimedTick = this.session.tick;
    return this;
  }

  hold(buttons: number): this {
    this.session.holdButtons(1, buttons);
    return this;
  }

  pull(): this {
    this.#pulls.push({ aim: this.#aim, tick: this.session.tick, aimedTick: this.#aimedTick });
    this.session.pullTrigger();
    return this;
  }

  light(path: Document): this {
    this.#pathBefore = this.#path;
    this.#path = path;
    this.session.changeLightPath(prepare(this.#strategy, { lightPath: lightPath(path) }).scenario.lightPath);
    return this;
  }

  /** Calibrate from where the program asks for it, and turn to the first lamp. */
  calibrate(): this {
    return this.aim(MARK).run(36).pull().run(240).aim(LAMPS[0]!).run(60);
  }

  get judged(): readonly EndedShot[] {
    return this.outcomes.filter((outcome) => outcome.kind === 'judged');
  }

  get latest(): EndedShot {
    return this.judged[this.judged.length - 1]!;
  }

  /**
   * The latest pull as the shot of a scenario, from power-on: Select held for 24 frames, pulls before it, and the aim and the
   * light turned to those of the shot when they were here.
   */
  get asScenario(): PreparedScenario {
    const { timing } = this.session;
    const plans = this.#pulls.map(({ aim, tick }) => ({ aim, atMs: ticksToMs(timing, tick), squeezeMs: SQUEEZE_MS }));
    const { tick, aimedTick } = this.#pulls[this.#pulls.length - 1]!;
    const before = this.#pathBefore && { pullsLightPath: lightPath(this.#pathBefore) };
    return prepare(this.#strategy, {
      ...before,
      lightPath: lightPath(this.#path),
      pulls: plans.slice(0, -1),
      shots: plans.slice(-1),
      settleMs: ticksToMs(timing, tick - aimedTick),
    });
  }
}

/** Run a live shot again from its moment: it is the very shot that was made. */
export function again({ live, result, endTick }: EndedShot): Observation {
  if (typeof live === 'string') throw new Error(live);
  const observation = observeLiveShot(live);
  const { truth, said, judgement, ticks, reads, flips, shownTargets, warnings } = observation.result;
  expect({ truth, said, judgement, reads, shownTargets, warnings }).toEqual({
    truth: result.truth,
    said: result.said,
    judgement: result.judgement,
    reads: result.reads,
    shownTargets: result.shownTargets,
    warnings: result.warnings,
  });
  // An observation ends at the deadline, a session ends a shot soon after its answer: what comes later it has not seen.
  const unseen = Object.entries(result.ticks).filter(([name, tick]) => {
    const found = ticks[name as keyof typeof ticks];
    return tick === null && found !== null && found >= endTick - ticksPerFrame(live.prepared.timing);
  });
  expect({ ...ticks, ...Object.fromEntries(unseen) }).toEqual(result.ticks);
  expect(flips.slice(0, result.flips.length)).toEqual(result.flips);
  return observation;
}

export const whyOf = (shot: EndedShot): Explanation => explain(again(shot), { stopsAtFirst: true });

/** The first cause by name, or what there is instead. */
export function causeOf(shot: EndedShot): string {
  const explanation = whyOf(shot);
  return explanation.kind === 'proved' ? explanation.causes[0]!.id : explanation.kind;
}
