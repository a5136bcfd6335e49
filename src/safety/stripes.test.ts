import { describe, expect, test } from 'vitest';
import { StripeWatch } from './stripes.ts';

/** Code 0 is black, 1 white, 2 below the least light. */
const LEVELS = new Float64Array([0, 1, 0.2]);
const SIZE = { scale: 3, pixelAspect: 1 } as const;

const upright = (widthDots: number, light = 1, shift = 0): Uint16Array =>
  Uint16Array.from({ length: 256 * 240 }, (_, at) =>
    Math.floor(((at % 256) + shift) / widthDots) % 2 === 0 ? 0 : light,
  );
const level = (heightDots: number): Uint16Array =>
  Uint16Array.from({ length: 256 * 240 }, (_, at) => (Math.floor(at / 256 / heightDots) % 2 === 0 ? 0 : 1));

/** Pictures at 4 a second. */
function foundIn(pictures: readonly Uint16Array[]) {
  const watch = new StripeWatch(LEVELS, SIZE);
  for (const [k, codes] of pictures.entries()) watch.push(codes, k / 4, k === 0 || codes !== pictures[k - 1]);
  return watch.found;
}
const still = (picture: Uint16Array) => Array.from({ length: 8 }, () => picture);

// Source of the figures: expert consensus, Epilepsia 46(9):1423, 2005: 5 pairs that change, 8 that stand, a quarter of the block, 0.5 s.
describe('stripes', () => {
  test('10 upright pairs in a block of 114 dots that stand are told, 7 are not', () => {
    expect(foundIn(still(upright(5)))).toMatchObject({ run: 'upright', isMoving: false, fromS: 0 });
    expect(foundIn(still(upright(5)))!.pairs).toBeGreaterThan(8);
    expect(foundIn(still(upright(8)))).toBeNull();
  });

  test('7 pairs are told where they move', () => {
    const moving = Array.from({ length: 8 }, (_, k) => upright(8, 1, k));
    expect(foundIn(moving)).toMatchObject({ run: 'upright', isMoving: true });
  });

  test('7 that stand still are not told for a figure that moves before them; ones that swap light and dark are', () => {
    const withFigure = (k: number) =>
      upright(8).map((code, at) =>
        Math.abs((at % 256) - 9 * k) < 6 && Math.abs(at / 256 - 100) < 6 ? 1 - code : code,
      );
    expect(foundIn(Array.from({ length: 24 }, (_, k) => withFigure(k)))).toBeNull();
    const swapping = Array.from({ length: 8 }, (_, k) => upright(8, 1, 8 * (k % 2)));
    expect(foundIn(swapping)).toMatchObject({ isMoving: true });
  });

  test('level stripes too; dim ones, plain pictures and ones for less than half a second are not', () => {
    expect(foundIn(still(level(4)))).toMatchObject({ run: 'level' });
    expect(foundIn(still(upright(5, 2)))).toBeNull();
    expect(foundIn(still(new Uint16Array(256 * 240)))).toBeNull();
    expect(foundIn([upright(5), ...still(new Uint16Array(256 * 240)), upright(5)])).toBeNull();
  });

  test.each([1, 2, 3, 4, 5, 6, 8, 15, 30])('ones that come and go, %i frames each, are told: they flash', (frames) => {
    const [stripes, dark] = [upright(8), new Uint16Array(256 * 240)];
    const watch = new StripeWatch(LEVELS, SIZE);
    for (let k = 0; k < 240; k++) {
      const isOther = k % frames === 0;
      watch.push(Math.floor(k / frames) % 2 === 0 ? stripes : dark, k / 60.0988, isOther);
    }
    expect(watch.found).toMatchObject({ run: 'upright', isMoving: true });
  });
});
