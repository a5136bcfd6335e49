import { describe, expect, test } from 'vitest';
import type { FlashVerdict, WorstFlash } from './flash-analyser.ts';
import { careLines, flashAdvice, notJudgedLines, playedLine } from './flash-text.ts';

const worst = (changes: number): WorstFlash => ({
  kind: 'general',
  counting: 'place',
  changes,
  frame: 0,
  timeS: 0,
  block: { x: 0, y: 0, width: 8, height: 8 },
  share: 1,
});
const failing = (...profiles: readonly string[]): FlashVerdict[] =>
  profiles.map((profile) => ({ profile, frames: 1, passes: false, worst: [worst(20)] }));
const adviceAt = (scale: number, ...profiles: readonly string[]): string =>
  flashAdvice(failing(...profiles), { scale, pixelAspect: 1 }).join('\n');

describe('advice does not contradict itself', () => {
  // Source: G176: a quarter of the block is 21 824 CSS pixels.
  test.each([
    [1, 32],
    [3, 32],
    [4, 32],
    [5, 29],
    [6, 24],
    [20, 7],
  ])('at %i pixels a line a box of %i dots is small enough', (scale, edge) => {
    expect(adviceAt(scale, 'wcag-a')).toMatch(`a box of at most ${edge} dots`);
    expect((edge * scale) ** 2).toBeLessThan(21_824);
  });

  test('where any size counts no smaller box is advised, and light is told by that profile’s own limit', () => {
    const advice = adviceAt(3, 'wcag-aaa');
    expect(advice).not.toMatch(/a box of at most|into the box alone|10 %/);
    expect(advice).toMatch(/below 2 % of white/);
    expect(advice).toMatch(/wcag-aaa counts flashes of any size/);
  });

  test('where one profile counts area and another does not, each is named', () => {
    const advice = adviceAt(5, 'wcag-a', 'wcag-aaa');
    expect(advice).toMatch(/a box of at most 29 dots .* what wcag-a looks at/);
    expect(advice).toMatch(/wcag-aaa counts flashes of any size/);
    expect(adviceAt(3, 'wcag-a')).not.toMatch(/wcag-aaa/);
  });
});

test('flashes that are above a limit are not called allowed', () => {
  const load = (isAbove: boolean) => careLines([{ kind: 'kept up', isAbove, fromS: 0, toS: 5 }], null).join();
  expect(load(true)).not.toMatch(/allowed/);
  expect(load(true)).toMatch(/above the limits/);
  expect(load(false)).toMatch(/allowed there, but much/);
});

test('what was played and what was not watched is told with its times', () => {
  const played = { madeMs: [500, 1500], notWatchedMs: [1500, 9000], heldMs: [1530], alternatives: 3 };
  expect(playedLine(played)).toMatch(
    /2 shots and pulls \(at 0\.50, 1\.50 s; 3 more at the same times are alternatives/,
  );
  expect(playedLine(played)).toMatch(/NOT judged/);
  expect(notJudgedLines(played)).toEqual([
    expect.stringMatching(/2 shots and pulls \(at 1\.50, 9\.00 s\)/),
    expect.stringMatching(/1 shot or pull \(at 1\.53 s\): the trigger was still held/),
  ]);
  expect(notJudgedLines({ ...played, notWatchedMs: [], heldMs: [] })).toEqual([]);
});
