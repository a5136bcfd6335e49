import { expect, test } from 'vitest';
import { runBuilt } from '../run-built.ts';
import type { RandomPlay } from './random-play.ts';

const SECONDS = 600;
/** The strategy with most to go wrong on every timing, each of the others on one. */
const CASES = [
  ['calibrated', '60hz'],
  ['calibrated', '50hz'],
  ['calibrated', '50hz-clone'],
  ['same-frame-untested', '60hz'],
  ['same-frame-tested', '50hz'],
  ['fixed-delay', '50hz-clone'],
] as const;

test('ten minutes of random play leave nothing behind, on every timing and with every strategy', () => {
  const cases = CASES.map(([strategy, timing], i) => `${strategy}:${timing}:${SECONDS}:${31 + i}`);
  const found = runBuilt('test/demo/print-play.ts', ...cases) as RandomPlay[];
  for (const [i, { faults, pulls, verdicts, calibrations, gamesOver }] of found.entries()) {
    expect(faults).toEqual([]);
    expect(pulls).toBeGreaterThan(500);
    expect(verdicts.reduce((sum, count) => sum + count)).toBeGreaterThan(50);
    expect(gamesOver).toBeGreaterThan(0);
    if (CASES[i]![0] !== 'calibrated') continue;
    expect(calibrations[2]).toBeGreaterThan(0);
    expect(Object.keys(calibrations).length).toBeGreaterThan(1); // some were refused
  }
  expect(found.length).toBe(CASES.length);
});
