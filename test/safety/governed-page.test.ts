import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Picture } from '../../src/picture/picture.ts';
import { displayBytes } from '../../src/references/palette.ts';
import { eachOutlineDot, LINE_COLOUR, RIM_COLOUR } from '../../src/safety/box-outlines.ts';
import { FlashGovernor } from '../../src/safety/flash-governor.ts';
import { type GovernedKind, GovernedRendering } from '../../src/safety/governed-rendering.ts';
import { PictureCells } from '../../src/safety/picture-cells.ts';
import { reducedBytes } from '../../src/safety/reduced-colours.ts';
import { TIMINGS } from '../../src/units/timing.ts';
import { drawingPair, PictureDrawing } from '../../src/workers/picture-drawing.ts';
import { failuresOf, type PageFrame } from './slow-counter.ts';

const [WIDTH, HEIGHT] = [256, 240];
const [WHITE, BLACK, GREY, DIM, RED, BRICK] = [0x20, 0x0f, 0x00, 0x2d, 0x16, 0x06];
const BYTES = displayBytes(false);
const REDUCED = reducedBytes(BYTES, 'dimmed');
/** Area of a dot of the page's large pictures, CSS pixels: 304 x 285 of them are 256 x 240 dots. */
const LARGE_PX = (304 * 285) / (WIDTH * HEIGHT);
const BLANK = new Uint8ClampedArray(4 * WIDTH * HEIGHT).map((_, at) => (at % 4 === 3 ? 255 : 0));

/** A checkerboard within a rectangle, on a ground. */
interface Board {
  readonly squareDots: number;
  readonly isInverse: boolean;
  readonly colours: readonly [number, number];
  readonly ground: number;
  readonly box: { readonly x: number; readonly y: number; readonly width: number; readonly height: number };
}

const boards = new Map<string, Uint16Array>();

function codesOf(board: Board): Uint16Array {
  const key = JSON.stringify(board);
  const known = boards.get(key);
  if (known !== undefined) return known;
  const { squareDots, isInverse, colours, ground, box } = board;
  const codes = new Uint16Array(WIDTH * HEIGHT).fill(ground);
  for (let y = box.y; y < Math.min(HEIGHT, box.y + box.height); y++)
    for (let x = box.x; x < Math.min(WIDTH, box.x + box.width); x++) {
      const isOdd = (Math.floor(x / squareDots) + Math.floor(y / squareDots)) % 2 === 1;
      codes[y * WIDTH + x] = colours[isOdd === isInverse ? 0 : 1]!;
    }
  boards.set(key, codes);
  return codes;
}

const pictureOf = (codes: Uint16Array): Picture => ({
  index: 0,
  lineZeroTick: 0,
  codes,
  drawn: { firstLine: 0, lastLine: HEIGHT - 1 },
  targets: [],
});

function painted(codes: Uint16Array, bytes: Uint8Array): Uint8ClampedArray {
  const rgba = BLANK.slice();
  for (let dot = 0; dot < codes.length; dot++)
    for (let c = 0; c < 3; c++) rgba[4 * dot + c] = bytes[3 * codes[dot]! + c]!;
  return rgba;
}

const WHOLE = { x: 0, y: 0, width: WIDTH, height: HEIGHT };
/** 23 % of the 341 x 256 block at the page's size, whole cells of 8 dots. */
const BELOW_QUARTER = { x: 0, y: 0, width: WIDTH, height: 56 };

const colours = fc.constantFrom(
  [WHITE, BLACK],
  [GREY, BLACK],
  [WHITE, GREY],
  [DIM, BLACK],
  [RED, BLACK],
  [BRICK, BLACK],
  [RED, GREY],
) as fc.Arbitrary<readonly [number, number]>;
const box = fc.oneof(
  fc.constantFrom(WHOLE, BELOW_QUARTER, { ...BELOW_QUARTER, y: 104 }, { x: 20, y: 30, width: 100, height: 90 }),
  fc.record({
    x: fc.nat(200),
    y: fc.nat(200),
    width: fc.integer({ min: 8, max: 256 }),
    height: fc.integer({ min: 8, max: 240 }),
  }),
);
const board: fc.Arbitrary<Board> = fc.record({
  // 240 dots: a plain picture.
  squareDots: fc.oneof(fc.integer({ min: 1, max: 8 }), fc.constant(240)),
  isInverse: fc.boolean(),
  colours,
  ground: fc.constantFrom(BLACK, BLACK, GREY, WHITE),
  box,
});
const afterMs = fc.constantFrom(0, 4, 16.6, 16.6, 16.6, 33, 100, 700);

/** Stretches in which each picture alternates between a board and another, or its own inverse. */
const stretch = fc.record({
  boards: fc.tuple(board, board),
  others: fc.option(fc.tuple(board, board)),
  frames: fc.integer({ min: 1, max: 25 }),
  lag: fc.nat(1),
  afterMs,
});
type Stretch = typeof stretch extends fc.Arbitrary<infer T> ? T : never;

/** What each of the two pictures is asked to show at each frame. */
function* framesOf(stretches: readonly Stretch[]): Generator<{ codes: [Uint16Array, Uint16Array]; timeMs: number }> {
  let timeMs = 1000;
  for (const { boards: first, others, frames, lag, afterMs: stepMs } of stretches)
    for (let k = 0; k < frames; k++) {
      const codes = ([0, 1] as const).map((i) => {
        const isOther = (k + i * lag) % 2 === 1;
        const other = others?.[i] ?? { ...first[i], isInverse: !first[i].isInverse };
        return codesOf(isOther ? other : first[i]);
      });
      yield { codes: codes as [Uint16Array, Uint16Array], timeMs };
      timeMs += stepMs;
    }
}

describe('two pictures on one page never have 7 opposing changes in a second, at dots, cells or over the field', () => {
  test('the page’s own pictures, outlined or reduced, whatever is asked of them and when', () => {
    const kinds = fc.array(fc.constantFrom('outline' as const, 'outline' as const, 'reduced' as const), {
      minLength: 1,
      maxLength: 5,
    });
    fc.assert(
      fc.property(
        fc.array(stretch, { minLength: 1, maxLength: 5 }),
        kinds,
        fc.nat(30),
        (stretches, renderings, jitterMs) => {
          const { sent, shown } = drawingPair(TIMINGS['60hz']);
          let pictures: readonly Uint8ClampedArray[] = [BLANK, BLANK];
          let numbers: readonly (number | null)[] = [null, null];
          const page: PageFrame[] = [{ timeS: 0, pictures }];
          let k = 0;
          for (const { codes, timeMs } of framesOf(stretches)) {
            const rendering = renderings[Math.floor(k / 7) % renderings.length]!;
            // Clocks of frames and of held instants differ: some times go back.
            const askedMs = k++ % 3 === 0 ? timeMs - jitterMs : timeMs;
            const drawn = [
              sent.draw(pictureOf(codes[0]), rendering, askedMs, numbers[0]),
              shown.draw(pictureOf(codes[1]), rendering, timeMs, numbers[1]),
            ];
            pictures = drawn.map(({ dots }, i) => dots ?? pictures[i]!);
            numbers = drawn.map(({ number }, i) => number ?? numbers[i]!);
            page.push({ timeS: timeMs / 1000, pictures });
          }
          expect(failuresOf(page, LARGE_PX)).toEqual([]);
        },
      ),
      { numRuns: 20, seed: 17, endOnFailure: true },
    );
  });

  test.each([1, 1.1875, 1.5, 2, 3, 4, 6])(
    'full pictures shown %f CSS pixels a line, boards of 1 to 8 dots among them',
    (scale) => {
      const kinds = fc.array(fc.constantFrom<GovernedKind>('full', 'full', 'full', 'reduced', 'outline'), {
        minLength: 1,
        maxLength: 5,
      });
      fc.assert(
        fc.property(fc.array(stretch, { minLength: 1, maxLength: 4 }), kinds, (stretches, renderings) => {
          const view = new FlashGovernor({ scale, pixelAspect: 1 }, { bytes: BYTES, pictures: 2 });
          const places = [0, 1].map((i) => new GovernedRendering(view.place(i)));
          const [light, dim] = [new PictureCells(8, false), new PictureCells(8, false, REDUCED)];
          let pictures: readonly Uint8ClampedArray[] = [BLANK, BLANK];
          const page: PageFrame[] = [{ timeS: 0, pictures }];
          let k = 0;
          for (const { codes, timeMs } of framesOf(stretches)) {
            const wanted = renderings[Math.floor(k++ / 7) % renderings.length]!;
            pictures = codes.map((own, i) => {
              if (k % 20 === 0) places[i]!.allowFull();
              const picture = { light: light.meansOf(own), reduced: dim.meansOf(own), codes: own };
              const { isDrawn, rendering } = places[i]!.present(picture, wanted, timeMs / 1000);
              return isDrawn ? painted(own, rendering === 'reduced' ? REDUCED : BYTES) : pictures[i]!;
            });
            page.push({ timeS: timeMs / 1000, pictures });
          }
          expect(failuresOf(page, scale * scale)).toEqual([]);
        }),
        { numRuns: 10, seed: 23, endOnFailure: true },
      );
    },
  );
});

const inverting = (squareDots: number, area: Board['box']): Stretch => {
  const one: Board = { squareDots, isInverse: false, colours: [WHITE, BLACK], ground: BLACK, box: area };
  return { boards: [one, one], others: null, frames: 60, lag: 0, afterMs: 16.6 };
};

/** The page if whatever is asked of it were drawn. */
const ungoverned = (stretches: readonly Stretch[], isSecondBlank = false): PageFrame[] =>
  [...framesOf(stretches)].map(({ codes, timeMs }) => ({
    timeS: timeMs / 1000,
    pictures: [painted(codes[0], BYTES), isSecondBlank ? BLANK : painted(codes[1], BYTES)],
  }));

describe('what was not held back before', () => {
  test('the counter itself: 23 % of the view that flashes does not fail, twice that does, nor does a still page', () => {
    const plain = inverting(240, BELOW_QUARTER);
    expect(failuresOf(ungoverned([plain], true), LARGE_PX)).toEqual([]);
    expect(failuresOf(ungoverned([plain]), LARGE_PX)).toEqual([
      'general, dots',
      'general, cells',
      'general, field of dots',
      'general, field of cells',
    ]);
    expect(failuresOf(ungoverned([inverting(3, WHOLE)]), LARGE_PX)).toContain('general, dots');
    expect(failuresOf(ungoverned([{ ...inverting(3, WHOLE), frames: 1 }]), LARGE_PX)).toEqual([]);
  });

  test.each([1, 2, 3, 4, 5, 6, 7, 8])('an inverting board of %i dots, outlined, is held', (squareDots) => {
    const { sent } = drawingPair(TIMINGS['60hz']);
    let [shown, changes]: [Uint16Array | undefined, number] = [undefined, 0];
    for (const { codes, timeMs } of framesOf([inverting(squareDots, WHOLE)])) {
      if (sent.draw(pictureOf(codes[0]), 'outline', timeMs).dots === null || codes[0] === shown) continue;
      shown = codes[0];
      changes++;
    }
    // The first picture, and what two pictures may change together within a second.
    expect(changes).toBeLessThanOrEqual(3);
  });

  test('two pictures, each flashing over 23 % of the view: together they are held, and so are two that know nothing of each other', () => {
    // Plain pictures are told by means: a board of 8 dots aligned with cells too.
    const apart = { sent: new PictureDrawing(TIMINGS['60hz']), shown: new PictureDrawing(TIMINGS['60hz']) };
    for (const { sent, shown } of [drawingPair(TIMINGS['60hz']), apart])
      for (const squareDots of [3, 8]) {
        let pictures: readonly Uint8ClampedArray[] = [BLANK, BLANK];
        const page: PageFrame[] = [];
        for (const { codes, timeMs } of framesOf([inverting(squareDots, BELOW_QUARTER)])) {
          const asked = timeMs + squareDots * 10_000;
          const drawn = [
            sent.draw(pictureOf(codes[0]), 'outline', asked),
            shown.draw(pictureOf(codes[1]), 'outline', asked),
          ];
          pictures = drawn.map(({ dots }, i) => dots ?? pictures[i]!);
          page.push({ timeS: asked / 1000, pictures });
        }
        expect(failuresOf(page, LARGE_PX)).toEqual([]);
      }
  });

  test('the count goes on while reduced pictures are shown: full, reduced and full again is a change each time', () => {
    const view = new FlashGovernor({ scale: 4, pixelAspect: 1 }, { bytes: BYTES });
    const place = new GovernedRendering(view.place(0));
    const cells = [new PictureCells(8, false), new PictureCells(8, false, REDUCED)] as const;
    // Reduced, this grey is more than a tenth darker: its dots change, the means of cells that are half of it do not.
    const codes = codesOf({ squareDots: 1, isInverse: false, colours: [GREY, BLACK], ground: BLACK, box: WHOLE });
    const page: PageFrame[] = [];
    let shown: Uint8ClampedArray = BLANK;
    for (let k = 0; k < 60; k++) {
      const picture = { light: cells[0].meansOf(codes), reduced: cells[1].meansOf(codes), codes };
      const { isDrawn, rendering } = place.present(picture, k % 2 === 0 ? 'full' : 'reduced', k / 60);
      if (isDrawn) shown = painted(codes, rendering === 'reduced' ? REDUCED : BYTES);
      page.push({ timeS: k / 60, pictures: [shown] });
    }
    expect(failuresOf(page, 16)).toEqual([]);
  });

  test('two parts of a board that invert in turn, wherever its squares lie: no cell’s mean changes, the field does', () => {
    // Squares of 8 dots, 4 off the cells; every 5 frames one part or the other is inverted.
    const parts = (isUpper: boolean, isLower: boolean): Uint16Array =>
      Uint16Array.from({ length: WIDTH * HEIGHT }, (_, at) => {
        const [x, y] = [at % WIDTH, Math.floor(at / WIDTH)];
        const isOdd = (Math.floor((x + 4) / 8) + Math.floor((y + 4) / 8)) % 2 === 1;
        return isOdd === ((y < 136 && isUpper) !== (y >= 104 && isLower)) ? WHITE : BLACK;
      });
    const steps = [parts(false, false), parts(true, false), parts(true, true), parts(false, true)];
    const frames = Array.from({ length: 90 }, (_, k) => steps[Math.floor(k / 5) % 4]!);
    const page = (drawn: (codes: Uint16Array, k: number) => Uint8ClampedArray): PageFrame[] =>
      frames.map((codes, k) => ({ timeS: 1 + k / 60, pictures: [drawn(codes, k)] }));
    const all = new Map(steps.map((codes) => [codes, painted(codes, BYTES)]));
    expect(
      failuresOf(
        page((codes) => all.get(codes)!),
        LARGE_PX,
      ),
    ).toContain('general, field of dots');
    const { sent } = drawingPair(TIMINGS['60hz']);
    let shown: Uint8ClampedArray = BLANK;
    const governed = page((codes, k) => {
      if (sent.draw(pictureOf(codes), 'outline', 1000 + (k * 1000) / 60).dots !== null) shown = all.get(codes)!;
      return shown;
    });
    expect(failuresOf(governed, LARGE_PX)).toEqual([]);
    expect(new Set(governed.map(({ pictures }) => pictures[0])).size).toBeLessThanOrEqual(3);
  });

  test('outlines are a part of what is seen: many that come and go are held, few are not', () => {
    const bars = (count: number, width: number, isLit: boolean): Picture => ({
      ...pictureOf(
        Uint16Array.from({ length: WIDTH * HEIGHT }, (_, at) => {
          const y = Math.floor(at / WIDTH);
          return isLit && at % WIDTH < width && y % 16 < 8 && Math.floor(y / 16) < count ? WHITE : BLACK;
        }),
      ),
      targets: Array.from({ length: count }, (_, i) => ({ x: 0, y: 16 * i, width, height: 8 })) as never,
    });
    const seenOf = (count: number, width: number) => {
      const { sent } = drawingPair(TIMINGS['60hz']);
      const [lit, dark] = [bars(count, width, true), bars(count, width, false)];
      let [dots, outlines, changes] = [BLANK, '', 0];
      const page = Array.from({ length: 120 }, (_, k): PageFrame => {
        const drawn = sent.draw(k % 12 === 0 ? lit : dark, 'outline', 1000 + (k * 1000) / 60);
        dots = (drawn.dots as typeof BLANK | null) ?? dots;
        if (JSON.stringify(drawn.outlines) !== outlines) changes++;
        outlines = JSON.stringify(drawn.outlines);
        const rgba = dots.slice();
        eachOutlineDot(drawn.outlines, (dot, isLine) => rgba.set(isLine ? LINE_COLOUR : RIM_COLOUR, 4 * dot));
        return { timeS: 1 + k / 60, pictures: [rgba] };
      });
      return { failures: failuresOf(page, LARGE_PX), changes };
    };
    const [many, few] = [seenOf(15, WIDTH), seenOf(2, 40)];
    expect([many.failures, few.failures]).toEqual([[], []]);
    expect(many.changes).toBeLessThanOrEqual(6);
    expect(few.changes).toBeGreaterThanOrEqual(18);
  });

  test('long outlines on the borders of cells, where means hide them, change twice a second at most', () => {
    const { sent } = drawingPair(TIMINGS['60hz']);
    const targets = [0, 1, 2].map((i) => ({ x: 16, y: 8 + 72 * i, width: 224, height: 64 }));
    const flash = (lit: number): Picture => ({
      ...pictureOf(
        Uint16Array.from({ length: WIDTH * HEIGHT }, (_, at) => {
          const [x, y] = [at % WIDTH, Math.floor(at / WIDTH)];
          const box = targets[lit];
          return box !== undefined && x >= 16 && x < 240 && y >= box.y && y < box.y + 64 ? WHITE : BLACK;
        }),
      ),
      targets: targets as never,
    });
    const times: number[] = [];
    let outlines = '[]';
    for (let k = 0; k < 240; k++) {
      const drawn = JSON.stringify(sent.draw(flash(Math.floor(k / 12) % 4), 'outline', 1000 + k * 16.64).outlines);
      if (drawn !== outlines) times.push(k / 60);
      outlines = drawn;
    }
    expect(times.length).toBeGreaterThan(2);
    for (const [i, timeS] of times.entries()) expect(timeS - (times[i - 2] ?? -9)).toBeGreaterThan(0.98);
  });

  test('a time that goes back is no error: frames of the page and held instants have clocks of their own', () => {
    const { sent, shown } = drawingPair(TIMINGS['60hz']);
    const codes = codesOf({ squareDots: 8, isInverse: false, colours: [GREY, BLACK], ground: BLACK, box: WHOLE });
    expect(sent.hold({ codes, targets: [] }, 1016.6).dots).not.toBeNull();
    expect(() => shown.draw(pictureOf(codes), 'outline', 1000)).not.toThrow();
    expect(() => sent.draw(pictureOf(codes), 'reduced', 1001)).not.toThrow();
  });

  test('a 50 Hz clone’s emphasis bits stand for other colours: its dots are counted in its own', () => {
    const { sent } = drawingPair(TIMINGS['60hz']);
    const clone = TIMINGS['50hz-clone'];
    sent.begin(clone, 0);
    expect(clone.swapsRedGreenEmphasis).toBe(true);
    const page: PageFrame[] = [];
    let shown: Uint8ClampedArray = BLANK;
    const one: Board = { squareDots: 3, isInverse: false, colours: [0x46, 0x06], ground: BLACK, box: WHOLE };
    for (const { codes, timeMs } of framesOf([{ ...inverting(3, WHOLE), boards: [one, one] }])) {
      shown = sent.draw(pictureOf(codes[0]), 'outline', timeMs).dots ?? shown;
      page.push({ timeS: timeMs / 1000, pictures: [shown] });
    }
    expect(failuresOf(page, LARGE_PX)).toEqual([]);
  });
});
