import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Picture } from '../picture/picture.ts';
import { PICTURE_HEIGHT, PICTURE_WIDTH, TIMINGS } from '../units/timing.ts';
import { drawingPair, type PictureDrawing } from './picture-drawing.ts';
import type { DrawnPicture, Rendering } from './play.api.ts';

const [WHITE, GREY, BLACK] = [0x20, 0x00, 0x0f];
const TIMING = TIMINGS['60hz'];
const BOX = { x: 40, y: 40, width: 24, height: 24 };

/** A ground with a box on it. */
function pictureOf(ground: number, box: number): Picture {
  const codes = new Uint16Array(PICTURE_WIDTH * PICTURE_HEIGHT).fill(ground);
  for (let y = BOX.y; y < BOX.y + BOX.height; y++)
    codes.fill(box, y * PICTURE_WIDTH + BOX.x, y * PICTURE_WIDTH + BOX.x + BOX.width);
  return {
    index: 0,
    lineZeroTick: 0,
    codes,
    drawn: { firstLine: 0, lastLine: PICTURE_HEIGHT - 1 },
    targets: [{ isLive: true, ...BOX }],
  };
}

const PICTURES = [BLACK, GREY, WHITE].flatMap((ground) => [BLACK, GREY, WHITE].map((box) => pictureOf(ground, box)));

/** A page that draws what it is answered. */
class Page {
  readonly #drawing = drawingPair(TIMING).shown;
  dots: DrawnPicture['dots'] = null;
  /** Of the picture that it shows. */
  number: number | null = null;

  get drawing(): PictureDrawing {
    return this.#drawing;
  }

  draw(picture: Picture, rendering: Rendering, timeMs: number): DrawnPicture {
    const drawn = this.#drawing.draw(picture, rendering, timeMs, this.number);
    this.dots = drawn.dots ?? this.dots;
    this.number = drawn.number ?? this.number;
    return drawn;
  }
}

describe('a picture that is on the page already stays', () => {
  const page = new Page();
  const draw = (picture: Picture, rendering: Rendering, timeMs: number) => page.draw(picture, rendering, timeMs);
  const copyOf = (picture: Picture): Picture => ({ ...picture, codes: picture.codes.slice() });
  const [street, lit] = [pictureOf(GREY, GREY), pictureOf(BLACK, WHITE)];

  test('until another is asked for, or the same in another rendering', () => {
    expect(draw(street, 'outline', 0).dots).not.toBeNull();
    expect(draw(copyOf(street), 'outline', 17).dots).toBeNull();
    expect(draw(street, 'reduced', 2000).dots).not.toBeNull();
    expect(draw(street, 'reduced', 2017).dots).toBeNull();
    expect(draw(street, 'full', 4000).dots).not.toBeNull();
    expect(draw(street, 'full', 4017).dots).toBeNull();
    expect(draw(street, 'outline', 6000).dots).not.toBeNull();
  });

  test('its outline comes and goes all the same', () => {
    page.drawing.look(lit, 8000);
    expect(draw(street, 'outline', 8000)).toEqual({ dots: null, number: null, outlines: [BOX] });
    expect(draw(street, 'outline', 8017)).toEqual({ dots: null, number: null, outlines: [BOX] });
    expect(draw(street, 'outline', 8200)).toEqual({ dots: null, number: null, outlines: [] });
  });

  test('a program that begins is drawn, whatever stood there', () => {
    page.drawing.begin(TIMING, 0);
    expect(draw(street, 'outline', 9000).dots).not.toBeNull();
  });

  test('a page that has not drawn what it was answered, or shows an earlier one again, is told it again', () => {
    expect(draw(street, 'full', 11_000).dots).not.toBeNull();
    page.number = null;
    expect(draw(street, 'full', 11_017).dots).not.toBeNull();
    const { number } = page;
    expect(draw(lit, 'full', 13_000).number).not.toBe(number);
    page.number = number;
    expect(draw(lit, 'full', 13_017).dots).not.toBeNull();
    expect(draw(lit, 'full', 13_034).dots).toBeNull();
  });

  test('what is on the screen is what it is where every picture is drawn again', () => {
    const step = fc.record({
      picture: fc.constantFrom(...PICTURES.map((picture) => ({ ...picture, targets: [] }))),
      frames: fc.integer({ min: 1, max: 30 }),
      rendering: fc.constantFrom('outline' as const, 'outline' as const, 'reduced' as const, 'full' as const),
      frameMs: fc.constantFrom(4, 16.6, 20, 100),
    });
    fc.assert(
      fc.property(fc.array(step, { minLength: 2, maxLength: 12 }), (steps) => {
        const [kept, again] = [new Page(), new Page()];
        let timeMs = 0;
        for (const { picture, frames, rendering, frameMs } of steps)
          for (let frame = 0; frame < frames; frame++, timeMs += frameMs) {
            again.number = null;
            for (const one of [kept, again]) one.draw(picture, rendering, timeMs);
            const [one, other] = [kept, again].map(({ dots }) => Buffer.from(dots?.buffer ?? new ArrayBuffer(0)));
            expect(one!.equals(other!)).toBe(true);
          }
      }),
      { numRuns: 10, seed: 5, endOnFailure: true },
    );
  });
});
