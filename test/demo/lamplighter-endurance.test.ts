import { expect, test } from 'vitest';
import type { TimingId } from '../../src/units/timing.ts';
import type { Strategy } from '../lamplighter.ts';
import { playAtRandom } from './random-play.ts';

const SECONDS = 600;
/** The strategy with most to go wrong on every timing, each of the others on one. */
const CASES: readonly (readonly [Strategy, TimingId])[] = [
  ['calibrated', '60hz'],
  ['calibrated', '50hz'],
  ['calibrated', '50hz-clone'],
  ['same-frame-untested', '60hz'],
  ['same-frame-tested', '50hz'],
  ['fixed-delay', '50hz-clone'],
];

test.each(CASES)('%s, %s: ten minutes of random play leave nothing behind', (strategy, timing) => {
  const seed = 31 + CASES.findIndex(([a, b]) => a === strategy && b === timing);
  const { faults, pulls, verdicts, calibrations, gamesOver } = playAtRandom(strategy, timing, SECONDS, seed);
  expect(faults).toEqual([]);
  expect(pulls).toBeGreaterThan(500);
  expect(verdicts.reduce((sum, count) => sum + count)).toBeGreaterThan(50);
  expect(gamesOver).toBeGreaterThan(0);
  if (strategy !== 'calibrated') return;
  expect(calibrations[2]).toBeGreaterThan(0);
  expect(Object.keys(calibrations).length).toBeGreaterThan(1); // some were refused
});
