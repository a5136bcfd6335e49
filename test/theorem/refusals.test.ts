import { beforeAll, describe, expect, test } from 'vitest';
import { runBuilt } from '../run-built.ts';
import { ALL_TIMINGS, calibrateOn, type LampTrial, REFUSALS } from './refusals.ts';

describe('each refusal, provoked by a light path and read from the name table', () => {
  test.each(REFUSALS)('$says', ({ code, says, path, delayMs = 50, aim }) => {
    const outcome = calibrateOn(path, delayMs, '60hz', aim);
    expect(outcome.code).toBe(code);
    expect(outcome.text).toContain(says);
    expect(outcome.text).toContain('THE WAND COULD NOT BE SET');
  });
});

describe('lamps that flicker at 100 and 120 Hz', () => {
  let found: Record<'alone' | 'withScreen' | 'switchedOn', readonly LampTrial[]>;
  beforeAll(() => {
    found = runBuilt('test/theorem/print-lamps.ts', '1', '6') as typeof found;
  }, 600_000);

  test.each(['alone', 'switchedOn'] as const)('%s: never pass the calibration, on any timing', (how) => {
    expect(found[how]).toHaveLength(2 * ALL_TIMINGS.length);
    for (const { codes, timing } of found[how]) expect(Object.keys(codes), timing).not.toContain('2');
    const refusals = new Set(found[how].flatMap(({ codes }) => Object.keys(codes)));
    expect(refusals.size).toBeGreaterThan(1);
  });

  test('before a lit screen: refused, or too weak to be seen and the delay is right', () => {
    for (const { codes, delayUnits } of found.withScreen) {
      expect(codes['129']).toBeGreaterThan(2);
      for (const units of delayUnits) expect(Math.abs(units - 98.5)).toBeLessThanOrEqual(2); // 50 ms, 0.51 ms a unit
    }
  });
});
