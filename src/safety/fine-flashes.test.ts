import { describe, expect, test } from 'vitest';
import { hashNoise } from '../units/noise.ts';
import { fineFlashesOf } from './fine-flashes.ts';
import { byteOf, linearOf } from './flash-colour.ts';
import { FLASH_PROFILES, type FlashProfile } from './flash-profile.ts';
import { RedDots, redCodesOf } from './red-dots.ts';
import { RedSwings } from './red-swings.ts';

const WIDTH = 256;
const HEIGHT = 240;
const profileOf = (id: string): FlashProfile => FLASH_PROFILES.find((profile) => profile.id === id)!;
const PROFILE = profileOf('wcag-a');
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
    ['squares of 3 dots at 1.5 pixels a dot are 4.5 pixels, one dot too large: counted', 3, 1.5, 59],
    ['squares of 3 dots at 1.1875 pixels a dot are 3.56 pixels: counted', 3, 1.1875, 59],
    ['squares of 4 dots at 1 pixel a dot: counted', 4, 1, 59],
    ['squares of 5 dots at 0.8 pixels a dot: counted', 5, 0.8, 59],
    ['squares of 3 dots at 1 pixel a dot: left out', 3, 1, 0],
    ['squares of 2 dots at 1 pixel a dot: left out', 2, 1, 0],
    ['squares of 3 dots at 0.8 pixels a dot: left out', 3, 0.8, 0],
    ['squares of 4 dots at 0.8 pixels a dot are 3.2 pixels: left out', 4, 0.8, 0],
  ] as const)('an inverting checkerboard, %s', (_, squareDots, scale, changes) => {
    expect(worstOf(inverting(squareDots), scale)).toBe(changes);
  });

  // The exception is of squares: a stripe of one dot is as long as the picture.
  test.each([
    ['level stripes', 256, 1],
    ['upright stripes', 1, 240],
    ['bricks of 4 by 1', 4, 1],
    ['bricks of 1 by 2', 1, 2],
  ])('what is fine along one axis only counts: inverting %s at 3 pixels a dot', (_, width, height) => {
    const inverse = (k: number) => filled((x, y) => (Math.floor(x / width) + Math.floor(y / height) + k) % 2);
    const pictures = Array.from({ length: 60 }, (_, k) => inverse(k));
    expect(worstOf(pictures, 3)).toBe(59);
  });

  test.each([
    ['x + y, 2 dots', (x: number, y: number) => x + y, 2, 1.5],
    ['x - y, 2 dots', (x: number, y: number) => x - y, 2, 1.1875],
    ['x + y, 3 dots', (x: number, y: number) => x + y, 3, 1],
    ['x + 2 y, 2 dots', (x: number, y: number) => x + 2 * y, 2, 1],
  ] as const)('stripes that run aslant count, inverting and drifting: %s', (_, along, width, scale) => {
    for (const step of [width, 1]) {
      const pictures = Array.from({ length: 60 }, (_, k) =>
        filled((x, y) => Math.floor((along(x, y) + k * step + 1200) / width) % 2),
      );
      expect(worstOf(pictures, scale)).toBeGreaterThanOrEqual(12);
    }
  });

  // Source: WCAG 2.2, SC 2.3.2 has no exception; the other two as second hand and working values have them.
  test.each(['tv-1702', 'trace-24', 'wcag-aaa'])('%s leaves no fine pattern out', (id) => {
    const [general] = fineFlashesOf(profileOf(id), { scale: 1, pixelAspect: 1 }, BYTES);
    for (const [k, codes] of inverting(1).entries()) general!.push(codes, k / 60);
    expect(general!.worst.changes).toBe(59);
  });

  test('faint boards one dot too large count from a tenth of white on, and ones that lie elsewhere each time', () => {
    // Grey 92 is 0.107 of white.
    const faint = new Uint8Array([0, 0, 0, 92, 92, 92]);
    const shifted = (k: number): Uint16Array => {
      const whole = board(3, k % 2 === 1);
      return filled((x, y) => whole[(((y + 2 * k) % 6) + 60) * WIDTH + ((x + k) % 6) + 60]!);
    };
    for (const pictures of [inverting(3), Array.from({ length: 60 }, (_, k) => shifted(k))]) {
      const [general] = fineFlashesOf(PROFILE, { scale: 1.5, pixelAspect: 1 }, faint);
      for (const [k, codes] of pictures.entries()) general!.push(codes, k / 60);
      expect(general!.worst.changes).toBeGreaterThanOrEqual(25);
    }
  });

  test('bright boards of light greys count as well: their darker side is what is below 0.8, not their mean', () => {
    const bytes = new Uint8Array([255, 255, 255, 228, 228, 228]);
    const [general] = fineFlashesOf(PROFILE, { scale: 1.5, pixelAspect: 1 }, bytes);
    for (const [k, codes] of inverting(3).entries()) general!.push(codes, k / 60);
    expect(general!.worst.changes).toBe(59);
  });

  // Source: facts of G176: 48 x 48 dots at 3 pixels a dot are 0.2375 of the block.
  test.each([
    [48, 3, 0],
    [49, 3, 0],
    [50, 3, 59],
    [147, 1, 0],
    [148, 1, 59],
  ])(
    'a box of %i dots that flashes whole at %f pixels a dot has its own area, not a dot more',
    (edge, scale, changes) => {
      const box = (isLit: boolean) =>
        filled((x, y) => (isLit && x >= 50 && x < 50 + edge && y >= 40 && y < 40 + edge ? 1 : 0));
      expect(
        worstOf(
          Array.from({ length: 60 }, (_, k) => box(k % 2 === 1)),
          scale,
        ),
      ).toBe(changes);
    },
  );

  test('slow changes of single dots do not count under the proposed guidelines of 2024, quick ones do', () => {
    // 61 greys of even steps of light: a tenth takes 6 frames, 100 ms.
    const bytes = Uint8Array.from({ length: 61 * 3 }, (_, at) => byteOf(Math.floor(at / 3) / 60));
    const countOf = (stepsAFrame: number): number => {
      const [general] = fineFlashesOf(profileOf('trace-24'), { scale: 4, pixelAspect: 1 }, bytes);
      for (let k = 0; k < 120; k++) {
        const step = (k * stepsAFrame) % 120;
        const up = step <= 60 ? step : 120 - step;
        const whole = board(1, true);
        general!.push(
          whole.map((code) => (code === 1 ? up : 60 - up)),
          k / 60,
        );
      }
      return general!.worst.changes;
    };
    expect(countOf(1)).toBe(0);
    expect(countOf(10)).toBeGreaterThan(6);
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

describe('red that means over cells hide', () => {
  // Linear means of a board of these are 0.75, 0.25, 0: what its cells show stays below every test of red.
  const COLOURS = {
    red: [255, 0, 0],
    'dark red': [60, 0, 0],
    black: [0, 0, 0],
    green: [0, 255, 0],
    brick: [181, 49, 32],
  };
  type Name = keyof typeof COLOURS;

  /** The worst count of a kind where a board of two colours inverts. */
  function redOf(profile: string, kind: string, names: readonly [Name, Name], squareDots = 2, scale = 4): number {
    const bytes = Uint8Array.from(names.flatMap((name) => COLOURS[name]));
    const fine = fineFlashesOf(profileOf(profile), { scale, pixelAspect: 1 }, bytes).find((one) => one.kind === kind)!;
    for (const [k, codes] of inverting(squareDots, 30).entries()) fine.push(codes, k / 60);
    return fine.worst.changes;
  }

  // Sources: BT.1702-3, second hand, for saturated red; WCAG 2.2 term and WCAG 2.0 for the others.
  test.each([
    ['tv-1702', 'saturated red', ['red', 'green'], 29],
    ['tv-1702', 'saturated red', ['brick', 'black'], 29],
    ['tv-1702', 'saturated red', ['green', 'black'], 0],
    ['trace-24', 'red', ['red', 'green'], 29],
    ['trace-24', 'red', ['brick', 'black'], 0],
    ['wcag-a', 'red', ['dark red', 'black'], 29],
    ['wcag-a', 'older red', ['dark red', 'black'], 0],
    ['wcag-a', 'older red', ['brick', 'black'], 29],
  ] as const)('%s, %s: a board of %j that inverts makes %i changes', (profile, kind, names, changes) => {
    expect(redOf(profile, kind, names)).toBe(changes);
  });

  test('squares that are fine enough are left out, ones a dot larger are not', () => {
    for (const kind of ['red', 'older red'])
      expect([1, 2].map((dots) => redOf('wcag-a', kind, ['red', 'green'], dots, 3))).toEqual([0, 29]);
  });

  test('dot by dot the count is that of places, for any colours (law, seeded)', () => {
    const bytes = Uint8Array.from({ length: 3 * 40 }, (_, at) => {
      // Every other colour is a red.
      const isRed = Math.floor(at / 3) % 2 === 0;
      return Math.floor((isRed && at % 3 > 0 ? 110 : 256) * hashNoise(5, 1, at));
    });
    const light = Float64Array.from(bytes, linearOf);
    const places = 200;
    const [dots, swings] = [new RedDots(places, redCodesOf(light)), new RedSwings(places, false)];
    const all = Int32Array.from({ length: places }, (_, i) => i);
    const turned = new Int32Array(places);
    let counted = 0;
    for (let k = 0; k < 60; k++) {
      const codes = Uint16Array.from(all, (i) => Math.floor(40 * hashNoise(7, i, k)));
      const changes = new Int8Array(places);
      swings.step(
        Float64Array.from({ length: 3 * places }, (_, at) => light[3 * codes[Math.floor(at / 3)]! + (at % 3)]!),
        changes,
        all,
      );
      if (k === 0) dots.begin(codes);
      const count = k === 0 ? 0 : dots.step(codes, k / 60, { dots: all, count: places }, turned);
      expect([...turned.subarray(0, count)]).toEqual([...all].filter((i) => changes[i] !== 0));
      counted += count;
    }
    expect(counted).toBeGreaterThan(places);
  });
});
