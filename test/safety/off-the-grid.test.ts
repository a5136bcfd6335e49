import { describe, expect, test } from 'vitest';
import { fineFlashesOf } from '../../src/safety/fine-flashes.ts';
import { FlashAnalyser } from '../../src/safety/flash-analyser.ts';
import { byteOf } from '../../src/safety/flash-colour.ts';
import { FLASH_PROFILES, type FlashProfile } from '../../src/safety/flash-profile.ts';
import { PictureFlashes } from '../../src/shot/flash-check.ts';

const [WIDTH, HEIGHT] = [256, 240];
const [WHITE, BLACK] = [0x20, 0x0f];
const profileOf = (id: string): FlashProfile => FLASH_PROFILES.find((profile) => profile.id === id)!;

type CodeAt = (x: number, y: number) => number;
const filled = (codeAt: CodeAt): Uint16Array =>
  Uint16Array.from({ length: WIDTH * HEIGHT }, (_, at) => codeAt(at % WIDTH, Math.floor(at / WIDTH)));

/** Counts of luminance by way of counting, of pictures in turn, 60.0988 a second. */
function countsOf(frames: readonly Uint16Array[], scale: number, id = 'wcag-a') {
  const flashes = new PictureFlashes({ profiles: [profileOf(id)], size: { scale, pixelAspect: 1 } }, false);
  for (const [k, codes] of frames.entries()) flashes.push(codes, k / 60.0988);
  const [verdict] = flashes.found.verdicts;
  const general = verdict!.worst.filter(({ kind }) => kind === 'general');
  return {
    passes: verdict!.passes,
    ...Object.fromEntries(general.map(({ counting, changes }) => [counting, changes])),
    share: Math.max(...general.map(({ share }) => share)),
  };
}

const OFFSETS = [
  [0, 0],
  [4, 4],
  [1, 0],
  [3, 6],
  [7, 5],
] as const;

/** Each for 5 frames, in turn. */
const inTurn = (steps: readonly Uint16Array[], count = 90): Uint16Array[] =>
  Array.from({ length: count }, (_, k) => steps[Math.floor(k / 5) % steps.length]!);

/** A board of squares of 8 dots, two parts of which, more than half each, are inverted or not. */
const parts = (dx: number, dy: number, isUpper: boolean, isLower: boolean): Uint16Array =>
  filled((x, y) => {
    const isOdd = (Math.floor((x + dx) / 8) + Math.floor((y + dy) / 8)) % 2 === 1;
    return isOdd === ((y < 136 && isUpper) !== (y >= 104 && isLower)) ? WHITE : BLACK;
  });

describe('a verdict does not depend on where the cells of 8 dots lie', () => {
  test('two parts of a board of 8 dots that invert in turn: the field has the same count wherever the squares lie', () => {
    const counts = OFFSETS.map(([dx, dy]) => {
      const upper = (isUpper: boolean) => (isLower: boolean) => parts(dx, dy, isUpper, isLower);
      const [no, yes] = [upper(false), upper(true)];
      return countsOf(inTurn([no(false), yes(false), yes(true), no(true)]), 1.5);
    });
    // An inversion every 5 frames is 12 a second, up in one half of the squares and down in the other.
    expect(counts[0]).toMatchObject({ passes: false, field: 26 });
    for (const one of counts) expect(one).toMatchObject({ passes: false, field: 26 });
  });

  // Source: G176 and the area of the boxes: 40 x 40 dots at 4 pixels are 0.293 of the block.
  test('two boxes of 40 dots at 4 pixels a dot that light in turn', () => {
    for (const [dx, dy] of OFFSETS) {
      const box = (left: number): Uint16Array =>
        filled((x, y) => (x >= left + dx && x < left + dx + 40 && y >= 80 + dy && y < 120 + dy ? WHITE : BLACK));
      const dark = filled(() => BLACK);
      const frames = inTurn([box(40), dark, box(85), dark], 60);
      expect(countsOf(frames, 4)).toMatchObject({ passes: false, field: 11 });
    }
  });

  // Source: the same; the sheet of facts: 32 x 32 at 4x 0.1877, 48 x 48 at 3x 0.2375 of the block: both pass.
  test.each([
    [32, 4],
    [48, 3],
  ])('a box of %i dots that flashes at %i pixels a dot has its own area, wherever it lies', (edge, scale) => {
    for (const [dx, dy] of OFFSETS) {
      const box = filled((x, y) =>
        x >= 64 + dx && x < 64 + dx + edge && y >= 64 + dy && y < 64 + dy + edge ? WHITE : BLACK,
      );
      const frames = Array.from({ length: 60 }, (_, k) => (k % 2 === 0 ? box : filled(() => BLACK)));
      expect(countsOf(frames, scale)).toMatchObject({ passes: true, place: 0, dots: 0, field: 0 });
    }
  });

  test('scattered dots count as the whole of what they are in: an eighth of the dots at a time, each in its turn', () => {
    // No dot flashes more than 4 times a second, and no more than an eighth of the picture at once.
    const turn = (k: number) => filled((x, y) => ((x * 5 + y * 3) % 8 === k % 8 ? WHITE : BLACK));
    const dark = filled(() => BLACK);
    const frames = Array.from({ length: 60 }, (_, k) => (k % 2 === 0 ? turn(k / 2) : dark));
    for (const scale of [1, 3]) expect(countsOf(frames, scale)).toMatchObject({ passes: false, place: 59 });
  });
});

// Source: the sheet of facts: cells of 8 dots have the mean of their light.
test.each([1.1875, 1.5, 4])(
  'lines of 2 dots that flash in every 8, a quarter of the picture, at %f pixels a dot',
  (scale) => {
    const lines = (isLit: boolean, first: number) =>
      filled((_, y) => (isLit && (y + first) % 8 < 2 && y % 64 < 56 ? WHITE : BLACK));
    for (const first of [0, 3, 7]) {
      const frames = Array.from({ length: 60 }, (_, k) => lines(k % 2 === 0, first));
      expect(countsOf(frames, scale)).toMatchObject({ passes: false });
    }
  },
);

describe('what is small in every cell flashes as their means do, wherever the cells lie', () => {
  // Source: WCAG 2.2, relative luminance: dithered colours are averaged; the sheet of facts averages cells of 8 dots.
  test.each([
    [3, 5],
    [2, 4],
    [3, 3],
    [2, 7],
    [1, 8],
    [3, 7],
  ])('clusters of %i x %i dots, one a cell', (width, height) => {
    for (const [dx, dy] of OFFSETS.slice(0, 2))
      for (const scale of [1, 1.1875, 1.5, 2, 4]) {
        const tiles = filled((x, y) => ((x + dx) % 8 < width && (y + dy) % 8 < height ? WHITE : BLACK));
        const frames = Array.from({ length: 60 }, (_, k) => (k % 2 === 0 ? tiles : filled(() => BLACK)));
        expect(countsOf(frames, scale)).toMatchObject({ passes: false, place: 59 });
      }
  });
});

// Source: G176 and the advice of the tool: edges of a box below a quarter of the block.
test.each([
  [29, 5],
  [24, 6],
  [18, 8],
  [48, 3],
])(
  'a box of %i dots at %i pixels a dot passes at all 64 places beside the cells, in white and in dark red',
  (edge, scale) => {
    const dark = filled(() => BLACK);
    for (let place = 0; place < 64; place += 7)
      for (const code of [WHITE, 0x06]) {
        const [left, top] = [80 + (place % 8), 64 + Math.floor(place / 8)];
        const box = filled((x, y) => (x >= left && x < left + edge && y >= top && y < top + edge ? code : BLACK));
        const flashes = new PictureFlashes({ profiles: [profileOf('wcag-a')], size: { scale, pixelAspect: 1 } }, false);
        for (let k = 0; k < 30; k++) flashes.push(k % 2 === 0 ? box : dark, k / 60.0988);
        expect([place, code, flashes.found.verdicts[0]!.passes]).toEqual([place, code, true]);
      }
  },
);

describe('the proposed guidelines of 2024', () => {
  const size = { scale: 3, pixelAspect: 1 };
  const grey = (level: number, count = 1): Float64Array[] =>
    Array.from({ length: count }, () => new Float64Array(3 * 960).fill(level));
  const analysed = (frames: readonly Float64Array[]): number => {
    const analyser = new FlashAnalyser({ profile: profileOf('trace-24'), size });
    for (const [k, light] of frames.entries()) analyser.push(light, k / 60.0988);
    return analyser.worstChanges;
  };

  // Source: working value of the guidelines: a change of 66 ms and less counts.
  test('a change in two quick steps after a picture that stood counts', () => {
    const steps = [...grey(0.2, 4), ...grey(0.26), ...grey(0.32, 4), ...grey(0.26)];
    expect(analysed(Array.from({ length: 6 }, () => steps).flat())).toBe(11);
    // In single dots: a board of such greys, the means of which stay.
    const bytes = Uint8Array.from([0.2, 0.26, 0.32].flatMap((level) => [level, level, level].map(byteOf)));
    const [general] = fineFlashesOf(profileOf('trace-24'), { scale: 4, pixelAspect: 1 }, bytes);
    for (let k = 0; k < 60; k++) {
      const step = [0, 0, 0, 0, 1, 2, 2, 2, 2, 1][k % 10]!;
      general!.push(
        filled((x, y) => ((x + y) % 2 === 0 ? step : 2 - step)),
        k / 60.0988,
      );
    }
    expect(general!.worst.changes).toBe(11);
  });

  test('a slow start does not hide the jump that follows it', () => {
    const round = [0, 0.026, 0.052, 0.078, 0.104, 0.9, 0.874, 0.848, 0.822, 0.794];
    const frames = Array.from({ length: 6 }, () => round.flatMap((level) => grey(level))).flat();
    expect(analysed(frames)).toBeGreaterThanOrEqual(11);
  });

  // Source: working value of the guidelines: changes of one direction within 20 ms are one.
  test('what changed in the frame before is added to the next once, not counted again', () => {
    const half = (isLeft: boolean, isRight: boolean): Float64Array =>
      Float64Array.from({ length: 3 * 960 }, (_, at) => ((Math.floor(at / 3) % 32 < 16 ? isLeft : isRight) ? 0.6 : 0));
    // Left on, right off a frame later, and the other way round after 24 frames.
    const round = [
      half(true, true),
      ...Array.from({ length: 24 }, () => half(true, false)),
      half(false, false),
      ...Array.from({ length: 24 }, () => half(false, true)),
    ];
    const frames = Array.from({ length: 3 }, () => round).flat();
    expect(analysed(frames)).toBe(3);
  });

  test('two parts of a change, a frame apart and each too small, are one change', () => {
    // A cell of 24 pixels is 0.00333 of 416 x 416: 74 of them are 0.246, 76 are 0.253.
    const flashing = (cells: number) =>
      Array.from({ length: 60 }, (_, k) =>
        Float64Array.from({ length: 3 * 960 }, (_, at) => {
          const cell = Math.floor(at / 3);
          const [column, row] = [cell % 32, Math.floor(cell / 32)];
          const place = row * 6 + (column % 6);
          if (column >= 12 || place >= cells) return 0;
          return Math.floor((k + (column < 6 ? 0 : 1)) / 6) % 2 === 1 ? 0.6 : 0;
        }),
      );
    expect([analysed(flashing(37)), analysed(flashing(38))]).toEqual([0, 9]);
  });
});
