import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { displayBytes } from '../references/palette.ts';
import { FlashAnalyser } from './flash-analyser.ts';
import { FlashGovernor } from './flash-governor.ts';
import { FLASH_PROFILES } from './flash-profile.ts';
import { type GovernedKind, GovernedRendering } from './governed-rendering.ts';
import { PictureCells } from './picture-cells.ts';
import { reducedBytes } from './reduced-colours.ts';

const SIZE = { scale: 3, pixelAspect: 1 } as const;
const BYTES = displayBytes(false);
const REDUCED = reducedBytes(BYTES, 'dimmed');
const PROFILE = FLASH_PROFILES.find(({ id }) => id === 'wcag-a')!;
const WHITE = 0x20;
const BLACK = 0x0f;
const RED = 0x16;

const PICTURES = [WHITE, BLACK, RED, 0x00].map((code) => new Uint16Array(256 * 240).fill(code));

/** What is presented of these pictures at these times, counted by an analyser of its own. */
function worstPresented(steps: readonly { picture: number; wanted: GovernedKind; afterMs: number }[]): number {
  const rendering = new GovernedRendering(new FlashGovernor(SIZE, { bytes: BYTES }));
  const [full, dim] = [new PictureCells(8, false), new PictureCells(8, false, REDUCED)];
  const judge = new FlashAnalyser({ profile: PROFILE, size: SIZE });
  let timeS = 0;
  for (const { picture, wanted, afterMs } of steps) {
    timeS += afterMs / 1000;
    const codes = PICTURES[picture]!;
    const light = full.meansOf(codes).slice();
    const reduced = dim.meansOf(codes).slice();
    const presented = rendering.present({ light, reduced, codes }, wanted, timeS);
    if (presented.isDrawn) judge.push(presented.rendering === 'reduced' ? reduced : light, timeS);
  }
  return judge.worstChanges;
}

describe('never more than 6 opposing changes in a second', () => {
  test('any pictures, renderings and times, forth and back: playing, stepping, scrubbing', () => {
    const step = fc.record({
      picture: fc.nat(PICTURES.length - 1),
      wanted: fc.constantFrom<GovernedKind>('outline', 'reduced', 'full'),
      afterMs: fc.constantFrom(0, 1, 8, 16.6, 33, 120, 700),
    });
    fc.assert(
      fc.property(fc.array(step, { minLength: 2, maxLength: 120 }), (steps) => {
        expect(worstPresented(steps)).toBeLessThanOrEqual(6);
      }),
      { numRuns: 150, seed: 5 },
    );
  });

  test('white and black in full at every frame would be 60; so much is held back', () => {
    const steps = Array.from({ length: 180 }, (_, k) => ({ picture: k % 2, wanted: 'full' as const, afterMs: 16.6 }));
    const worst = worstPresented(steps);
    expect(worst).toBeGreaterThan(0);
    expect(worst).toBeLessThanOrEqual(6);
  });

  test('reduced pictures are all drawn, and make no change', () => {
    const rendering = new GovernedRendering(new FlashGovernor(SIZE, { bytes: BYTES }));
    const dim = new PictureCells(8, false, REDUCED);
    const judge = new FlashAnalyser({ profile: PROFILE, size: SIZE });
    for (let k = 0; k < 120; k++) {
      const codes = PICTURES[k % 3]!;
      const reduced = dim.meansOf(codes);
      expect(rendering.present({ light: reduced, reduced, codes }, 'reduced', k / 60).isDrawn).toBe(true);
      judge.push(reduced, k / 60);
    }
    expect(judge.worstChanges).toBe(0);
  });

  test('once held back, full pictures are outlines until they are asked for again', () => {
    const rendering = new GovernedRendering(new FlashGovernor(SIZE, { bytes: BYTES }));
    const cells = new PictureCells(8, false);
    const present = (picture: number, timeS: number) => {
      const light = cells.meansOf(PICTURES[picture]!);
      return rendering.present({ light, reduced: light, codes: PICTURES[picture]! }, 'full', timeS);
    };
    const seen = Array.from({ length: 30 }, (_, k) => present(k % 2, k / 60));
    expect(seen.at(-1)).toMatchObject({ isDrawn: false, rendering: 'outline', isHeldBack: true });
    rendering.allowFull();
    expect(present(0, 5)).toMatchObject({ rendering: 'full', isHeldBack: false });
  });
});
