import { describe, expect, test } from 'vitest';
import { clopperPearson } from '../../src/sweep/statistics/clopper-pearson.ts';
import { comparePaired } from '../../src/sweep/statistics/paired.ts';
import { wilsonInterval } from '../../src/sweep/statistics/wilson.ts';
import { hashNoise } from '../../src/units/noise.ts';

/** How often the interval holds the true rate, over simulated cells whose shots are drawn as those of a sweep are. */
const CELLS = Number(process.env['LATELIGHT_COVERAGE_CELLS'] ?? 3000);

function covered(
  rate: number,
  n: number,
  interval: (count: number, n: number) => { low: number; high: number },
): number {
  let hits = 0;
  for (let cell = 0; cell < CELLS; cell++) {
    let count = 0;
    for (let shot = 0; shot < n; shot++) if (hashNoise(cell + 1, 17, shot) < rate) count++;
    const { low, high } = interval(count, n);
    if (low <= rate && rate <= high) hits++;
  }
  return hits / CELLS;
}

/** Exact coverage, by summing over all counts that are likely at all. */
function exactCoverage(
  rate: number,
  n: number,
  interval: (count: number, n: number) => { low: number; high: number },
): number {
  let sum = 0;
  let logTerm = n * Math.log(1 - rate);
  for (let count = 0; count <= n; count++) {
    const { low, high } = interval(count, n);
    if (low <= rate && rate <= high) sum += Math.exp(logTerm);
    logTerm += Math.log(((n - count) / (count + 1)) * (rate / (1 - rate)));
  }
  return sum;
}

describe('coverage of the 95 % intervals', () => {
  test.each([
    [0.5, 100],
    [0.9, 400],
    [0.99, 400],
    [0.1, 150],
  ])('a true rate of %d, %i shots a cell: simulated as summed exactly, Clopper-Pearson never below 0.95', (rate, n) => {
    const allowed = 4 * Math.sqrt((0.95 * 0.05) / CELLS);
    const wilson = exactCoverage(rate, n, wilsonInterval);
    expect(Math.abs(covered(rate, n, wilsonInterval) - wilson)).toBeLessThan(allowed);
    expect(wilson).toBeGreaterThan(0.925);
    expect(exactCoverage(rate, n, clopperPearson)).toBeGreaterThanOrEqual(0.95);
  });

  test('a grid of 8 phases is no coin toss: intervals of 400 shots miss the rate of the whole phase axis far too often', () => {
    // The shot is right in a share `rate` of the phases; a grid of 8 sees some multiple of 1/8, drawn phases see the rate.
    let onGrid = 0;
    let drawn = 0;
    for (let cell = 0; cell < 1000; cell++) {
      const rate = 0.8 + 0.15 * hashNoise(1, 1, cell);
      const start = hashNoise(2, 1, cell);
      let gridCount = 0;
      let drawnCount = 0;
      for (let shot = 0; shot < 400; shot++) {
        if ((start + (shot % 8) / 8) % 1 < rate) gridCount++;
        if (hashNoise(cell, 3, shot) < rate) drawnCount++;
      }
      const holds = ({ low, high }: { low: number; high: number }) => low <= rate && rate <= high;
      if (holds(wilsonInterval(gridCount, 400))) onGrid++;
      if (holds(wilsonInterval(drawnCount, 400))) drawn++;
    }
    expect(drawn).toBeGreaterThan(920);
    expect(onGrid).toBeLessThan(800);
  });

  test.each([
    [0.1, 0.02, 100],
    [0.05, 0.05, 400],
    [0.3, 0.2, 60],
  ])('paired difference, only-first %d and only-second %d of %i shots', (first, second, n) => {
    let hits = 0;
    for (let cell = 0; cell < CELLS; cell++) {
      let [onlyFirst, onlySecond] = [0, 0];
      for (let shot = 0; shot < n; shot++) {
        const toss = hashNoise(cell + 1, 23, shot);
        if (toss < first) onlyFirst++;
        else if (toss < first + second) onlySecond++;
      }
      const { low, high } = comparePaired({ n, onlyFirst, onlySecond }).interval;
      if (low <= first - second && first - second <= high) hits++;
    }
    expect(hits / CELLS).toBeGreaterThan(0.935);
    expect(hits / CELLS).toBeLessThan(0.985);
  });
});
