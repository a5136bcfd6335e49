import { expect, test } from 'vitest';
import { openScenario } from '../../src/cli/files.ts';
import { observeShot } from '../../src/shot/cause/observation.ts';
import { firstWorld, observeAgain, runAgain, sampleLevels } from '../../src/shot/cause/rerun.ts';
import { runShot } from '../../src/shot/shot.ts';
import { firstLight } from '../first-light.ts';

const FILES = [
  'homebrew-demo/first-light/tube.json',
  'homebrew-demo/first-light/late-lcd.json',
  'homebrew-demo/lamplighter/tube.json',
  'homebrew-demo/lamplighter/calibrated-late-lcd.json',
];

test.each(FILES)('%s: observing changes nothing, and an unchanged world says the same at the same tick', (file) => {
  const prepared = openScenario(file);
  for (let shot = 0; shot < prepared.scenario.shots.length; shot++) {
    const first = observeShot(prepared, shot);
    expect(first.result).toEqual(runShot(prepared, shot));
    const world = firstWorld(first);
    const said = [first.result.said, first.result.ticks.decision];
    for (const same of [world, { ...world, isLightNew: true }, { ...world, startsTicksBefore: 1e7 }]) {
      const again = runAgain(first, same);
      expect([again.said, again.decisionTick]).toEqual(said);
    }
    expect(runAgain(first, { ...world, startsAtPulls: true }).decisionTick).toBe(first.result.ticks.decision);
  }
});

test('the level that the sensor reaches is that of a white box less the baseline', () => {
  const prepared = openScenario('homebrew-demo/first-light/late-lcd.json');
  const first = observeShot(prepared, 0);
  const { lightAtSpot, deadline } = first.result.ticks;
  const { aboveCdM2, atTick } = sampleLevels(first, firstWorld(first), [lightAtSpot!, deadline], 1000);
  // White 350, black 0.1, and the share of the spot that lies on the box.
  expect(aboveCdM2).toBeGreaterThan(345);
  expect(aboveCdM2).toBeLessThan(350);
  expect(atTick).toBeGreaterThan(lightAtSpot!);
});

test("what is said after the first run's deadline is not said", () => {
  const aim = { x: 128, y: 112 };
  const pulls = [{ aim, atMs: 203 }];
  const first = observeShot(firstLight({ pulls, shots: [{ aim, atMs: 903 }], deadlineFrames: 3 }), 0);
  expect(first.result).toMatchObject({ judgement: 'no decision', ticks: { decision: null } });
  const world = firstWorld(first);
  for (const same of [
    world,
    { ...world, startsAtPulls: true },
    { ...world, startsTicksBefore: 1e7 },
    { ...world, keepsNmi: true },
  ]) {
    expect(runAgain(first, same)).toEqual({
      said: { kind: 'nothing' },
      judgement: 'no decision',
      isAccident: false,
      decisionTick: null,
    });
    expect(observeAgain(first, same).result).toMatchObject({ judgement: 'no decision', ticks: { decision: null } });
  }
});
