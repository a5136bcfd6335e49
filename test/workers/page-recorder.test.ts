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
    grown.remove('shown');
    expect(passes(grown)).toBe(false);
  });
});
