import { describe, expect, test } from 'vitest';
import { openScenario } from '../../src/cli/files.ts';
import { explain, explainShot } from '../../src/shot/cause/explain.ts';
import { type LiveShot, liveLeadTicks, observeLiveShot } from '../../src/shot/cause/live-observation.ts';
import { leadTicks, observeShot } from '../../src/shot/cause/observation.ts';
import type { PreparedScenario } from '../../src/shot/prepared-scenario.ts';
import { rehearse } from '../../src/shot/rehearsal.ts';
import { Shot } from '../../src/shot/shot.ts';
import { msToTicks } from '../../src/units/timing.ts';
import { PLANTS } from './plants/index.ts';
import { type Planted, planted } from './plants/planted.ts';

/** A shot of a scenario as a session would keep it: a moment some time before its lead, and nothing that came earlier. */
function liveOf(prepared: PreparedScenario, earlierMs: number): LiveShot {
  const { scenario, timing } = prepared;
  const [plan] = scenario.shots as [(typeof scenario.shots)[0]];
  const tick = msToTicks(timing, plan.atMs);
  const shot = new Shot(prepared, 0);
  shot.runUntil(Math.max(1, tick - leadTicks(prepared) - msToTicks(timing, earlierMs)));
  const { console, history, light } = shot.save();
  return {
    prepared,
    lightPath: scenario.lightPath,
    moment: { console, history, light: { ...light, moves: [] } },
    moves: light.moves,
    presses: scenario.pads.map(({ port, button, fromMs, toMs }) => ({
      port,
      button,
      fromTick: msToTicks(timing, fromMs),
      toTick: msToTicks(timing, toMs),
    })),
    pulls: scenario.pulls
      .filter(({ atMs, squeezeMs }) => msToTicks(timing, atMs + squeezeMs) > shot.tick)
      .map(({ aim, atMs, squeezeMs }) => ({ aim, tick: msToTicks(timing, atMs), squeezeMs })),
    shot: { aim: plan.aim, tick, squeezeMs: plan.squeezeMs },
  };
}

/**
 * Causes in their order. Sentences are equal too, but for those that tell when a light goes out: the levels at which a new path
 * begins follow from the pictures that are still kept.
 */
const named = (explanation: ReturnType<typeof explain>) =>
  explanation.kind === 'proved'
    ? explanation.causes.map(({ id, sentence }) => (/still up/.test(sentence) ? id : [id, sentence]))
    : explanation;

/** A second and a half later, in a run that keeps as many pictures as a session; only where nothing moves. */
function late({ prepared, setting }: Planted): PreparedScenario {
  const { scenario } = prepared;
  const [plan] = scenario.shots as [(typeof scenario.shots)[0]];
  if (setting.constants.SPEED !== 0 || scenario.pulls.length > 0) return prepared;
  const pulls = [{ aim: plan.aim, atMs: 0, squeezeMs: 1 }];
  return {
    ...prepared,
    scenario: { ...scenario, pulls, shots: [{ ...plan, atMs: plan.atMs + 96 * 16.6393 }] },
  };
}

describe.each(PLANTS.filter(({ prepare }) => prepare === undefined).map((plant) => [plant.id, plant] as const))(
  '%s',
  (id, plant) => {
    test('from a moment before the trigger the shot is the same and so is its cause', () => {
      const [first] = planted(plant, 31) as Iterable<Planted>;
      const prepared = late(first!);
      const live = observeLiveShot(liveOf(prepared, 30));
      const whole = observeShot(prepared, 0);
      const { truth, said, judgement, ticks, reads, flips } = whole.result;
      expect(live.result).toMatchObject({ truth, said, judgement, ticks, reads, flips });
      const explanation = named(explain(live));
      expect(explanation).toEqual(named(explain(whole)));
      expect(JSON.stringify(explanation)).toContain(`"${id}"`);
    });
  },
);

test('a rehearsed shot of the calibrated strategy, long after its calibration', () => {
  const scenario = openScenario('homebrew-demo/lamplighter/calibrated-late-lcd.json');
  const { outcome, played } = rehearse(scenario, { x: 60, y: 44 });
  if (outcome.kind !== 'judged') throw outcome.error;
  const live = liveOf(played, 200);
  expect(live.pulls).toEqual([]);
  expect(live.moves.length).toBeGreaterThan(0);
  const { result } = observeLiveShot(live);
  const { judgement, said, truth, ticks } = outcome.result;
  expect(result).toMatchObject({ judgement, said, truth });
  expect([result.ticks.trigger, result.ticks.crossing, result.ticks.decision]).toEqual([
    ticks.trigger,
    ticks.crossing,
    ticks.decision,
  ]);
  expect(named(explain(observeLiveShot(live)))).toEqual(named(explainShot(played, 0)));
});

test('a moment that lies too late is refused, and the period at which to keep them says so', () => {
  const scenario = openScenario('homebrew-demo/first-light/late-lcd.json');
  const plan = { ...scenario.scenario.shots[0]!, atMs: 3000 };
  const pulls = [{ ...plan, atMs: 0, squeezeMs: 1 }];
  const prepared = { ...scenario, scenario: { ...scenario.scenario, pulls, shots: [plan] } };
  expect(liveLeadTicks(prepared, prepared.scenario.lightPath)).toBe(leadTicks(prepared));
  expect(() => observeLiveShot(liveOf(prepared, -200))).toThrow(expect.objectContaining({ code: 'PARAM_RANGE' }));
  expect(observeLiveShot(liveOf(prepared, 30)).result.judgement).toBe('miss');
});
