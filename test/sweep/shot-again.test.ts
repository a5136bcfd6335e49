import { beforeAll, describe, expect, test } from 'vitest';
import type { PreparedScenario } from '../../src/shot/prepared-scenario.ts';
import { runShot, Shot, type ShotState } from '../../src/shot/shot.ts';
import { TIMINGS } from '../../src/units/timing.ts';
import { type FirstLightSetting, firstLight } from '../first-light.ts';

const AIM = { x: 128, y: 112 };
const prepare = (setup: FirstLightSetting = {}): PreparedScenario =>
  firstLight({ shots: [{ aim: AIM, atMs: 500 }], deadlineFrames: 20, ...setup });

describe('one console for shot after shot', () => {
  const first = prepare();
  let shot: Shot;
  let start: ShotState;
  beforeAll(() => {
    shot = new Shot(first, 0);
    start = shot.save();
  });

  test('goes on with another aim, instant and light path of the same program, its image read anew', () => {
    const other = prepare({
      shots: [{ aim: { x: 20, y: 20 }, atMs: 503.3 }],
      lightPath: { sensor: { kind: 'wide-band', thresholdCdM2: 30 } },
    });
    expect(other.image).not.toBe(first.image);
    expect(shot.again(other, 0, start, true)).toBe(true);
    expect(shot.finish()).toEqual(runShot(other, 0));
  });

  const scenarioWith = (changes: Partial<PreparedScenario['scenario']>): PreparedScenario => ({
    ...first,
    scenario: { ...first.scenario, ...changes },
  });
  const program = first.image.program.slice();
  program[100]! ^= 1;
  const { targets, said } = first.scenario;
  test.each<[string, PreparedScenario]>([
    ['image', { ...first, image: { ...first.image, program } }],
    ['timing', { ...first, timing: TIMINGS['50hz'] }],
    ['probes', scenarioWith({ targets: { ...targets, x: `${targets.x} + 1` } })],
    ['probes', scenarioWith({ said: { ...said, target: 'value' } })],
    ['probes', { ...first, probes: { ...first.probes, saidAt: first.probes.saidAt + 1 } }],
    ['ports', scenarioWith({ ports: ['light sensor', 'light sensor'] })],
    ['alignment', scenarioWith({ alignment: { cpuPhaseTicks: 1, putParity: 0 } })],
  ])('refuses another %s', (name, other) => {
    expect(() => shot.again(other, 0, start, true)).toThrow(
      expect.objectContaining({ code: 'INTERNAL', message: expect.stringContaining(`another ${name}`) }),
    );
  });
});
