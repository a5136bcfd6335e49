import { describe, expect, test } from 'vitest';
import { newRasterState, type RasterState } from '../../console/raster/raster-state.ts';
import { TIMINGS } from '../../units/timing.ts';
import { droppedSprites } from './dropped-sprites.ts';

const SPRITES_LEFT = 0x04;
const SPRITES_ON = 0x10;
/** Tile 0 is full. */
const PATTERN = new Uint8Array(0x2000).fill(0xff, 0, 8);

/** Nine full sprites side by side on scanlines 51 to 58, the ninth at column `lastX`; PPUMASK as it is in force. */
function nineSprites(lastX: number, activeMask: number): RasterState {
  const state = newRasterState(TIMINGS['60hz'], 0);
  state.oam.fill(0xff);
  for (let k = 0; k < 9; k++) state.oam.set([50, 0, 0, k === 8 ? lastX : 100 + 8 * k], 4 * k);
  state.registers.activeMask = activeMask;
  return state;
}
const missingIn = (state: RasterState) => droppedSprites(state, PATTERN, () => true);

describe('the ninth sprite of a scanline', () => {
  test('is missing with its 64 dots where sprites are shown', () => {
    const { mostOnALine, missing } = missingIn(nineSprites(200, SPRITES_ON));
    expect([mostOnALine, missing.length]).toEqual([9, 64]);
    expect(missing[0]).toEqual({ at: 51 * 256 + 200, code: 0 });
  });

  test('is not missing where no sprite is shown', () => {
    expect(missingIn(nineSprites(200, SPRITES_LEFT)).missing).toEqual([]);
  });

  test('is missing in the left eight dots only where they show sprites', () => {
    expect(missingIn(nineSprites(3, SPRITES_ON)).missing.length).toBe(3 * 8);
    expect(missingIn(nineSprites(3, SPRITES_ON)).missing.every(({ at }) => at % 256 >= 8)).toBe(true);
    expect(missingIn(nineSprites(3, SPRITES_ON | SPRITES_LEFT)).missing.length).toBe(64);
  });
});
