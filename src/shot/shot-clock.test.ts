import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { TIMINGS, type TimingId, ticksPerFrame, ticksPerLine } from '../units/timing.ts';
import { msOfTick, nextFrameMs, nextScanlineMs, placeAt, type ShotClock, tickOfMs } from './shot-clock.ts';

const FIRST = 3_000_000_000;

/** Eight frames, every other one short by a dot where the timing says so. */
function clockOf(id: TimingId): ShotClock {
  const timing = TIMINGS[id];
  const frameTicks = [FIRST];
  for (let k = 1; k < 8; k++) {
    const short = timing.skipsOddDot && k % 2 === 0 ? timing.dotDivider : 0;
    frameTicks.push(frameTicks[k - 1]! + ticksPerFrame(timing) - short);
  }
  return { timing: id, triggerTick: FIRST + 1_234_567, cpuPhaseTicks: 3, firstFrame: 900, frameTicks };
}

describe.each(['60hz', '50hz', '50hz-clone'] as const)('%s', (id) => {
  const clock = clockOf(id);
  const timing = TIMINGS[id];
  const tick = fc.integer({ min: FIRST, max: FIRST + 12 * ticksPerFrame(timing) });

  test('a tick is got back from its ms, its frame, scanline and dot, and its cycle', () => {
    fc.assert(
      fc.property(tick, (at) => {
        expect(tickOfMs(clock, msOfTick(clock, at))).toBe(at);
        const { frame, scanline, dot, cycle } = placeAt(clock, msOfTick(clock, at));
        const start = clock.frameTicks[frame! - 900] ?? clock.frameTicks[7]! + (frame! - 907) * ticksPerFrame(timing);
        const since = at - start - scanline! * ticksPerLine(timing) - dot! * timing.dotDivider;
        expect(since).toBeGreaterThanOrEqual(0);
        expect(since).toBeLessThan(timing.dotDivider);
        expect(scanline).toBeLessThan(timing.linesPerFrame);
        expect(dot).toBeLessThan(timing.dotsPerLine);
        expect(at - 3 - cycle * timing.cpuDivider).toBeGreaterThanOrEqual(0);
        expect(at - 3 - cycle * timing.cpuDivider).toBeLessThan(timing.cpuDivider);
      }),
      { seed: 8, numRuns: 500 },
    );
  });

  test('the next scanline and the next frame begin where they are said to', () => {
    fc.assert(
      fc.property(tick, (at) => {
        const now = placeAt(clock, msOfTick(clock, at));
        const line = placeAt(clock, nextScanlineMs(clock, now.ms));
        const isLast = now.scanline === timing.linesPerFrame - 1;
        expect([line.frame, line.scanline, line.dot]).toEqual(
          isLast ? [now.frame! + 1, 0, 0] : [now.frame, now.scanline! + 1, 0],
        );
        const frame = placeAt(clock, nextFrameMs(clock, now.ms));
        expect([frame.frame, frame.scanline, frame.dot]).toEqual([now.frame! + 1, 0, 0]);
      }),
      { seed: 9, numRuns: 500 },
    );
  });

  test('before the first known frame there is no place, and the next one is that frame', () => {
    const ms = msOfTick(clock, FIRST - 100);
    expect(placeAt(clock, ms)).toMatchObject({ frame: null, scanline: null, dot: null, tick: FIRST - 100 });
    for (const next of [nextScanlineMs, nextFrameMs]) expect(tickOfMs(clock, next(clock, ms))).toBe(FIRST);
  });
});
