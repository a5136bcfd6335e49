import { beforeAll, describe, expect, test } from 'vitest';
import { runBuilt } from '../run-built.ts';
import type { BandTrial, WindowTrial } from './other-strategies.ts';

let found: { windows: readonly WindowTrial[]; bands: readonly BandTrial[] };
beforeAll(() => {
  found = runBuilt('test/theorem/print-strategies.ts') as typeof found;
}, 600_000);
const windowsOf = (strategy: string): WindowTrial[] => found.windows.filter((trial) => trial.strategy === strategy);

test('what each strategy says is predicted from one trace, 0.1 ms from every edge', () => {
  expect(found.windows).toHaveLength(18);
  for (const { different, trials } of found.windows) {
    expect(different).toEqual([]);
    expect(trials).toBeGreaterThanOrEqual(6);
  }
});

test('a fixed delay of 3 frames is right only in its window, two pictures wide', () => {
  for (const { hitsMs } of windowsOf('fixed-delay')) {
    const [from, to] = hitsMs[hitsMs.length - 1]!;
    expect(from).toBeGreaterThan(34);
    expect(to).toBeLessThan(81);
    expect(to - from).toBeGreaterThan(30);
    expect(to - from).toBeLessThan(34);
  }
});

// Common practice, no source: code that looks in the frame of its own flash is right on a prompt screen only.
test.each(['same-frame-untested', 'same-frame-tested'])(
  '%s hits up to 14.3 ms at most, lower rows less',
  (strategy) => {
    for (const { hitsMs, lamp } of windowsOf(strategy)) {
      expect(hitsMs).toHaveLength(1);
      expect(hitsMs[0]![0]).toBe(0);
      expect(hitsMs[0]![1]).toBeLessThan([14.3, 9, 3.6][lamp]!);
    }
  },
);

// Common practice, no source: 0 to 1 frame of lag makes a bright sky a hit now and then.
describe('a white scene on a panel that is late by less than a frame', () => {
  test('untested: a hit in exactly the rows below 1 - L / 15.24 ms, less what lies between picture end and first read', () => {
    for (const { isOneBand, firstRow, exactRow, ruleRow } of found.bands) {
      expect(isOneBand).toBe(true);
      expect(firstRow).toBeGreaterThanOrEqual(exactRow);
      expect(firstRow - exactRow).toBeLessThanOrEqual(5); // aims are 4 scanlines apart
      expect(Math.abs(exactRow - ruleRow)).toBeLessThan(8); // 0.5 ms of handler and panel
    }
  });

  test('tested: never', () => {
    for (const { testedHits, untestedHits } of found.bands) {
      expect(untestedHits).toBeGreaterThan(0);
      expect(testedHits).toBe(0);
    }
  });
});
