import { describe, expect, test } from 'vitest';
import type { FlashVerdict, WorstFlash } from './flash-analyser.ts';
import { FLASH_PROFILES } from './flash-profile.ts';
import { careLines, flashAdvice, notJudgedLines, percentOf, playedLine } from './flash-text.ts';
import { FlashWatch } from './flash-watch.ts';
import { PictureCells } from './picture-cells.ts';

/** Code 0 is black, 1 white. */
const BYTES = new Uint8Array([0, 0, 0, 255, 255, 255]);

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
    [9, 16],
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

test('the box that is advised stands the check at every place, however large dots are shown', () => {
  const profile = FLASH_PROFILES.find(({ id }) => id === 'wcag-a')!;
  const advised = (scale: number): number => {
    return Number(/box of at most (\d+) dots/.exec(adviceAt(scale, 'wcag-a'))?.[1] ?? 0);
  };
  for (const scale of [1, 3, 8, 10, 12, 16, 20]) {
    const edge = advised(scale);
    for (let at = 0; edge > 0 && at < 8; at++) {
      const watch = new FlashWatch({ profiles: [profile], size: { scale, pixelAspect: 1 }, bytes: BYTES });
      const cells = new PictureCells(8, false, BYTES);
      for (let k = 0; k < 40; k++) {
        const codes = Uint16Array.from({ length: 256 * 240 }, (_, dot) => {
          const [x, y] = [(dot % 256) - 40 - at, Math.floor(dot / 256) - 40 - at];
          return k % 2 === 1 && x >= 0 && x < edge && y >= 0 && y < edge ? 1 : 0;
        });
        const light = cells.meansOf(codes);
        watch.push({ light, timeS: k / 60, codes, changed: cells.changed, picture: () => null });
      }
      expect([scale, edge, at, watch.verdicts()[0]!.passes]).toEqual([scale, edge, at, true]);
    }
  }
  expect([1, 3, 20].map(advised)).toEqual([32, 32, 0]);
});

test('a share that rounds to none is told as what it is', () => {
  expect([0, 1 / 87_296, 0.005, 0.25, 1.3].map(percentOf)).toEqual(['0', 'less than 1', '1', '25', '100']);
});
