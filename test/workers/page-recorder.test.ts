import { describe, expect, test } from 'vitest';
import { PageFlashRecorder } from '../../src/workers/flash-check.recorder.ts';

const picture = (level: number): Uint8ClampedArray =>
  Uint8ClampedArray.from({ length: 256 * 240 * 4 }, (_, at) => (at % 4 === 3 ? 255 : level));
const BLACK = picture(0);
const WHITE = picture(255);
const LARGE = { x: 0, y: 0, width: 400, height: 375 };
const SMALL = { x: 0, y: 0, width: 144, height: 135 };

/** `count` pictures in turn, 60 a second. */
function alternating(
  recorder: PageFlashRecorder,
  box: typeof LARGE,
  count: number,
  surface = 'shown',
  fromMs = 0,
): void {
  for (let k = 0; k < count; k++)
    recorder.present({ surface, box, timeMs: fromMs + (k * 1000) / 60, rgba: k % 2 === 0 ? BLACK : WHITE });
}
const passes = (recorder: PageFlashRecorder): boolean => recorder.report().findings.every((finding) => finding.passes);
const most = (recorder: PageFlashRecorder): number =>
  Math.max(0, ...recorder.report().findings.flatMap(({ counts }) => counts.map(({ changes }) => changes)));

describe('what the page presents', () => {
  test('nothing was presented: nothing flashes', () => {
    expect(new PageFlashRecorder().report()).toMatchObject({ stream: 'This page', findings: [], advice: [] });
  });

  test('7 changes at 400 x 375 CSS pixels are above the limit, 6 are not, and the place is in CSS pixels', () => {
    const [seven, six] = [new PageFlashRecorder(), new PageFlashRecorder()];
    alternating(seven, LARGE, 8);
    alternating(six, LARGE, 7);
    expect([most(seven), passes(seven), most(six), passes(six)]).toEqual([7, false, 6, true]);
    expect(seven.report().findings[0]!.counts[0]!.where).toMatch(/^CSS pixels 0 to 3\d\d across/);
  });

  // Source: WCAG 2.2, technique G176: 144 x 135 is 0.223 of the block.
  test('one of 144 x 135 never counts, two of them beside each other do', () => {
    const [one, two] = [new PageFlashRecorder(), new PageFlashRecorder()];
    alternating(one, SMALL, 60);
    expect(passes(one)).toBe(true);
    for (let k = 0; k < 60; k++) {
      const rgba = k % 2 === 0 ? BLACK : WHITE;
      two.present({ surface: 'sent', box: SMALL, timeMs: (k * 1000) / 60, rgba });
      two.present({ surface: 'shown', box: { ...SMALL, x: 144 }, timeMs: (k * 1000) / 60, rgba });
    }
    expect(passes(two)).toBe(false);
  });

  test('pictures that grow within the second count at the new size, and what was found before stays', () => {
    const grown = new PageFlashRecorder();
    alternating(grown, SMALL, 6);
    alternating(grown, LARGE, 3, 'shown', 100);
    expect(most(grown)).toBeGreaterThanOrEqual(7);
    alternating(grown, SMALL, 2, 'shown', 5000);
    expect(passes(grown)).toBe(false);
    grown.remove('shown', 5200);
    expect(passes(grown)).toBe(false);
  });
});

/** A checkerboard of squares that cells of 8 dots average away. */
const board = (isInverse: boolean): Uint8ClampedArray =>
  Uint8ClampedArray.from({ length: 256 * 240 * 4 }, (_, at) => {
    const dot = Math.floor(at / 4);
    const isOdd = (Math.floor((dot % 256) / 4) + Math.floor(dot / 1024)) % 2 === 1;
    return at % 4 === 3 || isOdd === isInverse ? 255 : 0;
  });
const BOARDS = [board(false), board(true)] as const;

describe('what means and places hide', () => {
  test('a board that inverts is counted by its dots, and its place is in CSS pixels', () => {
    const recorder = new PageFlashRecorder();
    for (let k = 0; k < 12; k++)
      recorder.present({ surface: 'shown', box: LARGE, timeMs: (k * 1000) / 60, rgba: BOARDS[k % 2]! });
    const { counts } = recorder.report().findings[0]!;
    // The first board comes up out of black; then half of the squares go up and half go down: two changes over the field.
    const [count, field] = ['at single dots', 'over the field'].map((way) =>
      counts.find(({ rule }) => rule === `general, ${way}`),
    );
    expect(field).toMatchObject({ changes: 23, isAbove: true });
    expect(count).toMatchObject({ changes: 12, isAbove: true });
    expect(count!.where).toMatch(/^CSS pixels 0 to 3[34]\d across, 0 to 25\d down$/);
  });

  test('boards on two pictures beside each other, each too small by itself, are counted together', () => {
    const [one, two] = [new PageFlashRecorder(), new PageFlashRecorder()];
    const part = (rgba: Uint8ClampedArray) => rgba.map((value, at) => (at >= 4 * 256 * 40 && at % 4 < 3 ? 0 : value));
    const parts = BOARDS.map(part);
    for (let k = 0; k < 12; k++) {
      const picture = { box: LARGE, timeMs: (k * 1000) / 60, rgba: parts[k % 2]! };
      one.present({ ...picture, surface: 'sent' });
      two.present({ ...picture, surface: 'sent' });
      // What lies beneath it: both strips are in one block.
      two.present({ ...picture, surface: 'shown', box: { ...LARGE, y: 66 } });
    }
    expect([passes(one), passes(two)]).toEqual([true, false]);
  });

  test('pictures of one size keep their area, wherever they are on the page', () => {
    // 23 % of the block in a stripe that lies across cells of the page: 58 lines of 1.1875 CSS pixels, 304 wide.
    const stripe = (level: number) =>
      Uint8ClampedArray.from({ length: 256 * 240 * 4 }, (_, at) =>
        at % 4 === 3 ? 255 : at < 4 * 256 * 56 ? level : 0,
      );
    const stripes = [stripe(0), stripe(255)];
    for (const y of [0, 3, 5, 7]) {
      const recorder = new PageFlashRecorder();
      const box = { x: 13, y, width: 304, height: 285 };
      for (let k = 0; k < 12; k++)
        recorder.present({ surface: 'shown', box, timeMs: (k * 1000) / 60, rgba: stripes[k % 2]! });
      expect(passes(recorder)).toBe(true);
    }
  });

  test('a picture that comes and goes changes what is there: light where the ground is dark', () => {
    const recorder = new PageFlashRecorder();
    recorder.present({ surface: 'shown', box: LARGE, timeMs: 0, rgba: BLACK });
    for (let k = 0; k < 5; k++) {
      recorder.present({ surface: 'sent', box: { ...LARGE, x: 420 }, timeMs: 100 + 80 * k, rgba: WHITE });
      recorder.present({ surface: 'shown', box: LARGE, timeMs: 140 + 80 * k, rgba: BLACK });
      recorder.remove('sent', 140 + 80 * k);
    }
    expect(most(recorder)).toBeGreaterThanOrEqual(7);
    // One that has gone for good is no part of the page any more.
    const after = recorder.report().findings[0]!.counts.length;
    alternating(recorder, LARGE, 4, 'shown', 5000);
    expect(recorder.report().findings[0]!.counts.length).toBe(after);
  });

  test('a change of the size leaves no change out, and the colour of the page counts where a picture comes and goes', () => {
    const [still, resized] = [new PageFlashRecorder(), new PageFlashRecorder()];
    alternating(still, LARGE, 7);
    alternating(resized, LARGE, 4);
    alternating(resized, { ...LARGE, x: 8 }, 3, 'shown', (4 * 1000) / 60);
    expect([most(still), most(resized)]).toEqual([6, 6]);
    const onLight = new PageFlashRecorder();
    const ground = [246, 242, 233] as const;
    for (let k = 0; k < 5; k++) {
      onLight.present({ surface: 'shown', box: LARGE, timeMs: 100 * k, rgba: BLACK, ground });
      onLight.present({ surface: 'other', box: { ...SMALL, x: 420 }, timeMs: 100 * k + 50, rgba: BLACK, ground });
      onLight.remove('shown', 100 * k + 50);
    }
    expect(most(onLight)).toBeGreaterThanOrEqual(7);
  });

  test('flashes that go on for long are told although the picture is moved meanwhile', () => {
    const recorder = new PageFlashRecorder();
    for (let k = 0; k < 600; k++) {
      const box = { ...LARGE, x: Math.floor(k / 200) };
      const rgba = Math.floor(k / 13) % 2 === 0 ? BLACK : WHITE;
      recorder.present({ surface: 'shown', box, timeMs: (k * 1000) / 60, rgba });
    }
    expect(passes(recorder)).toBe(true);
    expect(recorder.report().care.length).toBe(2);
  });

  test('a picture that is taken away was seen until then', () => {
    const recorder = new PageFlashRecorder();
    recorder.present({ surface: 'other', box: { ...SMALL, x: 420 }, timeMs: 0, rgba: BLACK });
    for (let k = 0; k < 5; k++) {
      recorder.present({ surface: 'shown', box: LARGE, timeMs: 1000 + 200 * k, rgba: WHITE });
      recorder.remove('shown', 1100 + 200 * k);
    }
    expect(most(recorder)).toBe(10);
  });

  test('the picture before the first change is among those of the worst second', () => {
    const recorder = new PageFlashRecorder();
    alternating(recorder, LARGE, 4, 'shown', 1000);
    const { pictures } = recorder.report().findings[0]!;
    expect(pictures.map(({ rgba }) => rgba[0])).toEqual([0, 255, 0, 255]);
  });
});
