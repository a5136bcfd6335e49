import { expect, test } from 'vitest';
import { PlayClock } from './play-clock.ts';

test('over a minute of uneven drawing the console keeps its own speed', () => {
  const clock = new PlayClock(60.0988);
  let [frames, nowMs] = [clock.framesDue(1000), 1000];
  for (let i = 0; nowMs < 61_000; i++) {
    nowMs += [16.7, 8.3, 16.7, 33.3, 41.7][i % 5]!;
    frames += clock.framesDue(nowMs);
  }
  expect(frames).toBe(Math.floor(((nowMs - 1000) * 60.0988) / 1000));
});

test('after a long pause of the page four frames are made up for, the rest is left out', () => {
  const clock = new PlayClock(50);
  expect([clock.framesDue(0), clock.framesDue(10_000), clock.framesDue(10_010), clock.framesDue(10_020)]).toEqual([
    0, 4, 0, 1,
  ]);
});
