import { describe, expect, test } from 'vitest';
import { openScenario } from '../../src/cli/files.ts';
import { explainShot } from '../../src/shot/cause/explain.ts';
import { readLightPathSettings } from '../../src/shot/light-path-settings.ts';
import type { PreparedScenario } from '../../src/shot/prepared-scenario.ts';
import { firstLiveMs, rehearse } from '../../src/shot/rehearsal.ts';
import { runShot } from '../../src/shot/shot.ts';
import { hashNoise } from '../../src/units/noise.ts';

const FILES = [
  'homebrew-demo/lamplighter/tube.json',
  'homebrew-demo/lamplighter/calibrated-late-lcd.json',
  'homebrew-demo/first-light/late-lcd.json',
];

const LAMP = { x: 52, y: 36 };

/** The same with shot and buttons so much later. */
function shifted(prepared: PreparedScenario, shotMs: number, padsMs: number): PreparedScenario {
  const { scenario } = prepared;
  const shots = scenario.shots.map((shot) => ({ ...shot, atMs: shot.atMs + shotMs }));
  const pads = scenario.pads.map((press) => ({
    ...press,
    fromMs: press.fromMs + padsMs,
    toMs: press.toMs + padsMs,
  }));
  return { ...prepared, scenario: { ...scenario, shots, pads } };
}

test.each(FILES)(
  '%s: a rehearsed shot is the shot of its scenario to the tick, wherever in a frame it is made',
  (file) => {
    for (let k = 0; k < 8; k++) {
      const aim = { x: 256 * hashNoise(k, 1, 1), y: 240 * hashNoise(k, 1, 2) };
      const own = shifted(openScenario(file), 17 * hashNoise(k, 1, 3), 17 * hashNoise(k, 1, 4));
      const { outcome, played } = rehearse(own, k < 2 ? LAMP : aim);
      if (outcome.kind !== 'judged') throw outcome.error;
      const [shot] = own.scenario.shots;
      expect(played.scenario).toEqual({ ...own.scenario, shots: [{ ...shot, aim: k < 2 ? LAMP : aim }] });
      const { judgement, said, truth, ticks, reads } = runShot(played, 0);
      expect(outcome.result).toMatchObject({ judgement, said, truth, ticks, reads });
    }
  },
);

test('pulls go by their own way of the light, which may be longer than a game that is played has room for', () => {
  const own = openScenario('homebrew-demo/lamplighter/calibrated-late-lcd.json');
  const { lightPath } = own.scenario;
  const late = (delayMs: number) => ({ ...lightPath, stages: [{ kind: 'pure-delay', delayMs }] });
  const said = [late(20), { ...late(500), stages: Array(4).fill({ kind: 'pure-delay', delayMs: 450 }) }].map(
    (pullsLightPath) => {
      const { outcome, played } = rehearse({ ...own, scenario: { ...own.scenario, pullsLightPath } }, LAMP);
      if (outcome.kind !== 'judged') return outcome.error.code;
      const { judgement, said, ticks, reads } = runShot(played, 0);
      expect(outcome.result).toMatchObject({ judgement, said, ticks, reads });
      return judgement;
    },
  );
  expect(said).toEqual(['wrong target', 'CALIBRATION_REFUSED']);
});

test('what is due at one tick, or within one instruction, is done at that tick all the same', () => {
  const own = openScenario('homebrew-demo/first-light/tube.json');
  const [shot] = own.scenario.shots;
  for (let k = 0; k < 40; k++) {
    const atMs = 500 + 20 * hashNoise(k, 2, 1);
    const press = (port: 1 | 2, fromMs: number) => ({ port, button: 'B' as const, fromMs, toMs: fromMs + 30 });
    const pads = [press(1, atMs), press(2, atMs - 0.001), press(1, atMs + 0.002)];
    const scenario = { ...own.scenario, pads, settleMs: k % 2 === 0 ? 0 : 200, shots: [{ ...shot!, atMs }] };
    const { outcome, played } = rehearse({ ...own, scenario }, shot!.aim);
    if (outcome.kind !== 'judged') throw outcome.error;
    const { ticks, reads } = runShot(played, 0);
    expect(outcome.result).toMatchObject({ ticks, reads });
  }
});

test('what explains the scenario explains the rehearsed shot: First Light on a late LCD reads too early', () => {
  const late = openScenario('homebrew-demo/first-light/late-lcd.json');
  const { outcome, played } = rehearse(late, { x: 128, y: 112 });
  expect(outcome).toMatchObject({ kind: 'judged', result: { judgement: 'miss' } });
  expect(explainShot(played, 0)).toMatchObject({ kind: 'proved', causes: [{ id: 'too-early' }] });
});

test('a refused calibration leaves no target, and neither does the title: the shot is not judged, and says why', () => {
  const calibrated = openScenario('homebrew-demo/lamplighter/calibrated-late-lcd.json');
  const { room, optics } = calibrated.scenario.lightPath;
  const lightPath = readLightPathSettings({ panel: { kind: 'lcd' }, room, optics, sensor: { kind: 'line-rate' } }, []);
  const blind = { ...calibrated.scenario, lightPath };
  const refused = rehearse({ ...calibrated, scenario: blind }, LAMP).outcome;
  expect(refused).toMatchObject({ kind: 'not judged', error: { code: 'CALIBRATION_REFUSED' } });
  const tube = openScenario('homebrew-demo/lamplighter/tube.json');
  const title = rehearse({ ...tube, scenario: { ...tube.scenario, pads: [] } }, LAMP).outcome;
  expect(title).toMatchObject({ kind: 'not judged', error: { code: 'SHOT_WITHOUT_TARGET' } });
});

test('a lone dim lamp is a scene, and what had only begun when the shot ended has no name', () => {
  const { outcome } = rehearse(openScenario('homebrew-demo/first-light/late-lcd.json'), { x: 128, y: 112 });
  if (outcome.kind !== 'judged') throw outcome.error;
  const { pictures } = outcome.lanes;
  const names = pictures.map(({ name }) => name).join(' ');
  expect(names).toMatch(/^scene scene scene black box 0( scene){4,}$/);
  const last = pictures[pictures.length - 1]!;
  expect(last.toMs - last.fromMs).toBeGreaterThan(15);
});

describe('an instant for a scenario without a shot', () => {
  test('a lamp of the practice street has been live for half a second', () => {
    const tube = openScenario('homebrew-demo/lamplighter/tube.json');
    const atMs = firstLiveMs(tube);
    console.log(`Lamplighter's first target is shot at ${atMs.toFixed(1)} ms after power-on`);
    expect(atMs).toBeGreaterThan(500);
    expect(atMs).toBeLessThan(1500);
    const { scenario } = tube;
    const outcome = rehearse(
      { ...tube, scenario: { ...scenario, shots: [{ ...scenario.shots[0]!, atMs }] } },
      LAMP,
    ).outcome;
    expect(outcome).toMatchObject({ kind: 'judged', result: { judgement: 'hit' } });
  });

  test('on the title nothing is live', () => {
    const tube = openScenario('homebrew-demo/lamplighter/tube.json');
    const untouched = { ...tube, scenario: { ...tube.scenario, pads: [] } };
    const begun = performance.now();
    expect(() => firstLiveMs(untouched)).toThrow(/no target was live for 0\.5 s in the first 60 s/);
    console.log(`a minute of title was watched in ${(performance.now() - begun).toFixed(0)} ms`);
  });
});
