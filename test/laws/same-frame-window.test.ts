import { describe, expect, test } from 'vitest';
import { runShot, type ShotResult } from '../../src/shot/shot.ts';
import { hashNoise } from '../../src/units/noise.ts';
import { TIMINGS, ticksToMs } from '../../src/units/timing.ts';
import { firstLight } from '../first-light.ts';

const timing = TIMINGS['60hz'];

/** One shot at the lamp on a black scene; the delay is in ms. */
function shoot(panel: object, delayMs: number): ShotResult {
  const stages = delayMs === 0 ? [] : [{ kind: 'pure-delay', delayMs }];
  return runShot(
    firstLight({
      isSceneBlack: true,
      deadlineFrames: 8,
      shots: [{ aim: { x: 128, y: 112 }, atMs: 140 }],
      lightPath: { stages, panel },
    }),
    0,
  );
}

// Common practice, no source: code that looks in the frame of its own flash is right as long as the light comes before
// its last read, and wrong from then on.
describe.each([
  ['a tube behind a delay', { kind: 'beam-tube' }],
  ['an LCD', { kind: 'lcd', scanMs: 15.5, riseMs: 4 }],
])('same-frame code on a black scene, %s', (_, panel) => {
  const late = shoot(panel, 60);
  const prompt = shoot(panel, 0);
  const response = prompt.ticks.crossing! - prompt.ticks.flashOnWire!;
  const limitMs = ticksToMs(timing, late.ticks.lastRead! - late.ticks.flashOnWire! - response);

  test('it hits at once without a delay and misses 60 ms late', () => {
    expect(prompt.judgement).toBe('hit');
    expect(late.judgement).toBe('miss');
    expect(limitMs).toBeGreaterThan(5);
    expect(limitMs).toBeLessThan(16.7);
  });

  test('it hits up to the limit predicted from the trace and misses above it, within 0.1 ms', () => {
    expect(shoot(panel, limitMs - 0.1).judgement).toBe('hit');
    expect(shoot(panel, limitMs + 0.1).judgement).toBe('miss');
  });

  test('20 random delays fall on the right side', () => {
    for (let i = 0; i < 20; i++) {
      const delay = 40 * hashNoise(11, 1, i);
      if (Math.abs(delay - limitMs) > 0.1)
        expect(shoot(panel, delay).judgement, `${delay} ms`).toBe(delay < limitMs ? 'hit' : 'miss');
    }
  });
});
