import { describe, expect, test } from 'vitest';
import { GAUSSIAN_SPOT, SIGMAS_TO_HALF, spotShare } from './gaussian-spot.ts';
import type { SpotWeights } from './optics.ts';

const spotOf = (radiusDots: number) => GAUSSIAN_SPOT.create({ radiusDots }, {});
const total = ({ weight }: SpotWeights): number => weight.reduce((sum, one) => sum + one, 0);
const at = (spot: SpotWeights, row: number, dot: number): number =>
  spot.weight[(row - spot.firstRow) * spot.dotCount + dot - spot.firstDot]!;

describe('Gaussian spot', () => {
  test('full width at half height = 2.3548 sigma (derived)', () => {
    expect(2 * SIGMAS_TO_HALF).toBeCloseTo(2.3548, 4);
    expect(SIGMAS_TO_HALF).toBe(Math.sqrt(2 * Math.log(2)));
  });

  test('the weight is half at the radius, a quarter where both axes are there, a sixteenth at the cut', () => {
    const spot = spotOf(6).spot({ x: 100.5, y: 80.5 }, 240);
    const middle = at(spot, 80, 100);
    expect(at(spot, 80, 106) / middle).toBeCloseTo(0.5, 12);
    expect(at(spot, 74, 100) / middle).toBeCloseTo(0.5, 12);
    expect(at(spot, 74, 94) / middle).toBeCloseTo(0.25, 12);
    expect(at(spot, 92, 100) / middle).toBeCloseTo(1 / 16, 12);
    expect([spot.firstRow, spot.rowCount, spot.firstDot, spot.dotCount]).toEqual([68, 25, 88, 25]);
  });

  test.each([240, 250, 1080, 4320])('the weights add up to 1 on a panel of %i rows', (rows) => {
    for (const radius of [0.5, 1, 6, 33.3])
      expect(total(spotOf(radius).spot({ x: 128.2, y: 119.7 }, rows))).toBeCloseTo(1, 12);
  });

  test('rows of a finer panel share the weight of the scanline that they lie in', () => {
    const coarse = spotOf(8).spot({ x: 128, y: 100 }, 240);
    const fine = spotOf(8).spot({ x: 128, y: 100 }, 960);
    const line = [0, 1, 2, 3].reduce((sum, k) => sum + at(fine, 4 * 100 + k, 128), 0);
    expect(line / at(coarse, 100, 128)).toBeCloseTo(1, 2);
  });

  test('what lies off the screen is dark: half at an edge, a quarter in a corner, nothing beyond', () => {
    expect(total(spotOf(6).spot({ x: 0, y: 120 }, 240))).toBeCloseTo(0.5, 12);
    expect(total(spotOf(6).spot({ x: 256, y: 240 }, 240))).toBeCloseTo(0.25, 12);
    const beyond = spotOf(6).spot({ x: -13, y: 120 }, 240);
    expect(beyond.dotCount).toBe(0);
    expect(beyond.weight).toHaveLength(0);
    expect(spotOf(6).spot({ x: 100, y: 253 }, 240).rowCount).toBe(0);
  });
});

describe('share of the spot on a rectangle', () => {
  const screen = { x: 0, y: 0, width: 256, height: 240 };

  test('all of it on the screen, none beside it', () => {
    expect(spotShare({ x: 100, y: 100 }, 6, screen)).toBeCloseTo(1, 12);
    expect(spotShare({ x: 100, y: 100 }, 6, { x: 120, y: 80, width: 40, height: 40 })).toBe(0);
  });

  test('equals the sum of the weights of a 240-row panel within the rectangle', () => {
    const aim = { x: 97.3, y: 61.8 };
    const spot = spotOf(7).spot(aim, 240);
    let sum = 0;
    for (let row = 58; row < 74; row++) for (let dot = 90; dot < 106; dot++) sum += at(spot, row, dot);
    expect(spotShare(aim, 7, { x: 90, y: 58, width: 16, height: 16 })).toBeCloseTo(sum, 12);
  });

  test('a 16 x 16 target with a margin of 4 holds all of a spot of radius 6 at its centre, without it the product of two sums', () => {
    const sigma = 6 / SIGMAS_TO_HALF;
    const share = spotShare({ x: 108, y: 108 }, 6, { x: 96, y: 96, width: 24, height: 24 });
    expect(share).toBeCloseTo(1, 12);
    const inner = spotShare({ x: 108, y: 108 }, 6, { x: 100, y: 100, width: 16, height: 16 });
    let [within, all] = [0, 0];
    for (let d = -11.5; d < 12; d++) {
      const weight = Math.exp((-d * d) / (2 * sigma * sigma));
      all += weight;
      if (Math.abs(d) < 8) within += weight;
    }
    expect(inner).toBeCloseTo((within / all) ** 2, 12);
  });

  test('the part of a rectangle off the screen does not count', () => {
    expect(spotShare({ x: 0, y: 120 }, 6, { x: -100, y: 0, width: 200, height: 240 })).toBeCloseTo(0.5, 12);
  });
});
