import { SPRITE_ZERO_HIT_LATENCY_DOTS } from '../../references/console-constants.ts';
import { backgroundPixel } from './background.ts';
import type { RasterState } from './raster-state.ts';
import {
  applyGrey,
  BACKGROUND_LEFT,
  BACKGROUND_ON,
  EMPHASIS,
  SPRITES_LEFT,
  SPRITES_ON,
  startChange,
} from './register-access.ts';
import { nextSpritePixel, SPRITE_BEHIND, SPRITE_OF_UNIT_ZERO } from './sprite-units.ts';
import type { VideoMemory } from './video-memory.ts';

/** Columns that PPUMASK bits 1 and 2 can hide. */
const LEFT_COLUMN = 8;

/** The last pixel of a line never counts as a hit (wiki, "PPU OAM", sprite zero hits). */
const NO_HIT_X = 255;

/**
 * Palette cell of pixel x of this line, rendering on; steps the sprite units and notes a sprite 0 hit.
 * Source: hardware documentation wiki, "PPU rendering" (multiplexer) and "PPU sprite priority".
 */
export function composePixel(state: RasterState, x: number): number {
  const { registers, units, background, scroll } = state;
  const mask = registers.activeMask;
  const sprite = hideLayer(nextSpritePixel(units), x, mask, SPRITES_ON, SPRITES_LEFT);
  const behind = hideLayer(backgroundPixel(background, scroll.x), x, mask, BACKGROUND_ON, BACKGROUND_LEFT);
  if (sprite === 0) return behind;
  if (behind === 0) return sprite & 0x1f;
  const isZero = (sprite & SPRITE_OF_UNIT_ZERO) !== 0 && units.isZeroInUnitZero;
  if (isZero && x !== NO_HIT_X && !registers.isSpriteZeroHit)
    startChange(registers, 'hitDots', SPRITE_ZERO_HIT_LATENCY_DOTS);
  return (sprite & SPRITE_BEHIND) !== 0 ? behind : sprite & 0x1f;
}

function hideLayer(pixel: number, x: number, mask: number, on: number, left: number): number {
  return (mask & on) === 0 || (x < LEFT_COLUMN && (mask & left) === 0) ? 0 : pixel;
}

/** Rendering off, the palette cell under v shows instead of cell 0 while v points into the palette. */
export const backdropCell = (v: number): number => ((v & 0x3f00) === 0x3f00 ? v & 0x1f : 0);

/** Code of a palette cell as a picture holds it: colour in bits 5..0, emphasis bits 7..5 of PPUMASK in bits 8..6. */
export function colourCode(state: RasterState, memory: VideoMemory, cell: number): number {
  const mask = state.registers.activeMask;
  return applyGrey(memory.readPalette(cell), mask) | ((mask & EMPHASIS) << 1);
}
