import { describe, expect, test } from 'vitest';
import { hashNoise } from '../units/noise.ts';
import { fineFlashesOf } from './fine-flashes.ts';
import { FLASH_PROFILES } from './flash-profile.ts';

const WIDTH = 256;
const HEIGHT = 240;
const PROFILE = FLASH_PROFILES.find(({ id }) => id === 'wcag-a')!;
/** Code 0 is black, 1 white, 2 a grey of half the light. */
const BYTES = new Uint8Array([0, 0, 0, 255, 255, 255, 188, 188, 188]);

const filled = (codeAt: (x: number, y: number) => number): Uint16Array =>
  Uint16Array.from({ length: WIDTH * HEIGHT }, (_, at) => codeAt(at % WIDTH, Math.floor(at / WIDTH)));

const board = (squareDots: number, isInverse: boolean): Uint16Array =>
  filled((x, y) => (((Math.floor(x / squareDots) + Math.floor(y / squareDots)) % 2 === 0) === isInverse ? 0 : 1));

/** The worst count of luminance of pictures shown 1/60 s each. */
function worstOf(pictures: readonly Uint16Array[], scale: number): number {
  const [general] = fineFlashesOf(PROFILE, { scale, pixelAspect: 1 }, BYTES);
  for (const [k, codes] of pictures.entries()) general!.push(codes, k / 60);
  return general!.worst.changes;
}

const inverting = (squareDots: number, count = 60): Uint16Array[] =>
  Array.from({ length: count }, (_, k) => board(squareDots, k % 2 === 1));

describe('patterns that means over cells hide', () => {
  // Source: WCAG 2.2, term "general flash and red flash thresholds", exception: squares below 0.1 degree; G176: 341 px are 10 degrees.
  test.each([
    ['squares of 4 dots at 3 pixels a dot are 12 pixels', 4, 3, 59],
    ['squares of 2 dots at 1.5 pixels a dot are 3 pixels, below 3.41: left out', 2, 1.5, 0],
    ['squares of 2 dots at 1.75 pixels a dot are 3.5 pixels: counted', 2, 1.75, 59],
    ['squares of 1 dot at 3 pixels a dot are left out', 1, 3, 0],
    ['squares of 1 dot at 4 pixels a dot are counted', 1, 4, 59],
  ] as const)('an inverting checkerboard, %s', (_, squareDots, scale, changes) => {
    expect(worstOf(inverting(squareDots), scale)).toBe(changes);
  });

  test('a board that stands still does not flash, and one that fills less than a quarter of the block does not count', () => {
    expect(
      worstOf(
        Array.from({ length: 60 }, () => board(4, true)),
        3,
      ),
    ).toBe(0);
    const small = (isInverse: boolean) => {
      const whole = board(4, isInverse);
      return filled((x, y) => (x < 48 && y < 48 ? whole[y * WIDTH + x]! : 0));
    };
    expect(
      worstOf(
        Array.from({ length: 60 }, (_, k) => small(k % 2 === 1)),
        3,
      ),
    ).toBe(0);
  });

  test('a change of less than a tenth of white does not count (WCAG 2.2, general flash)', () => {
    const bytes = new Uint8Array([0, 0, 0, 80, 80, 80]);
    const [general] = fineFlashesOf(PROFILE, { scale: 3, pixelAspect: 1 }, bytes);
    for (let k = 0; k < 60; k++) general!.push(board(4, k % 2 === 1), k / 60);
    expect(general!.worst.changes).toBe(0);
  });
});

test('random whole pictures: the count is that of one dot counted by hand', () => {
  for (let seed = 0; seed < 12; seed++) {
    const levels = Array.from({ length: 40 }, (_, k) => Math.floor(3 * hashNoise(seed, 3, k)));
    let [direction, low, high, changes] = [0, 0, 0, 0];
    for (const [k, code] of levels.entries()) {
      const level = [0, 1, 0.5028864580325687][code]!;
      if (k === 0) low = high = level;
      low = Math.min(low, level);
      high = Math.max(high, level);
      const isUp = direction <= 0 && level - low >= 0.1 && low < 0.8;
      const isDown = direction >= 0 && high - level >= 0.1 && level < 0.8;
      if (!isUp && !isDown) continue;
      direction = isUp ? 1 : -1;
      low = high = level;
      changes++;
    }
    expect(
      worstOf(
        levels.map((code) => filled(() => code)),
        4,
      ),
    ).toBe(changes);
  }
});

test('a copy goes on by itself, to the same count', () => {
  const [general] = fineFlashesOf(PROFILE, { scale: 3, pixelAspect: 1 }, BYTES);
  const pictures = inverting(4, 20);
  for (let k = 0; k < 10; k++) general!.push(pictures[k]!, k / 60);
  const copy = general!.copy();
  for (let k = 10; k < 20; k++) copy.push(pictures[k]!, k / 60);
  expect([general!.worst.changes, copy.worst.changes]).toEqual([9, 19]);
});
