import type { RasterState } from '../../console/raster/raster-state.ts';
import { SPRITES_LEFT, SPRITES_ON } from '../../console/raster/register-access.ts';
import { PICTURE_HEIGHT, PICTURE_WIDTH } from '../../units/timing.ts';
import type { MissingDot } from './retouched-history.ts';

/** Sprites that did not find room, and the dots that they would have shown. */
export interface DroppedSprites {
  /** Most sprites on one scanline. */
  readonly mostOnALine: number;
  readonly missing: readonly MissingDot[];
}

const SPRITES = 64;
/** Columns that PPUMASK bit 2 can hide. */
const LEFT_COLUMN = 8;
/** Sprites that a scanline shows. Source: hardware documentation wiki, "PPU sprite evaluation". */
const ROOM = 8;
const TALL = 0x20;
const UPPER_TABLE = 0x08;
const BEHIND = 0x20;
const FLIP_X = 0x40;
const FLIP_Y = 0x80;

interface Sprite {
  readonly y: number;
  readonly tile: number;
  readonly attributes: number;
  readonly x: number;
}

/**
 * The sprites that the picture just completed has lost because more than eight lie on a scanline. A dot counts as missing
 * where sprites are shown, the sprite is not transparent, in front of the background, and no sprite that was shown covers it.
 * Approximation: PPUMASK and colours are those at the end of the picture.
 */
export function droppedSprites(
  raster: RasterState,
  pattern: Uint8Array,
  isShown: (y: number) => boolean,
): DroppedSprites {
  const { oam, registers, palette } = raster;
  if ((registers.activeMask & SPRITES_ON) === 0) return { mostOnALine: 0, missing: [] };
  const firstColumn = (registers.activeMask & SPRITES_LEFT) !== 0 ? 0 : LEFT_COLUMN;
  const height = (registers.control & TALL) !== 0 ? 16 : 8;
  const sprites = Array.from({ length: SPRITES }, (_, k) => spriteAt(oam, k));
  const missing: MissingDot[] = [];
  let mostOnALine = 0;
  for (let y = 1; y < PICTURE_HEIGHT; y++) {
    if (!isShown(y)) continue;
    const inRange = sprites.filter((sprite) => y > sprite.y && y <= sprite.y + height);
    mostOnALine = Math.max(mostOnALine, inRange.length);
    if (inRange.length <= ROOM) continue;
    const covered = new Set(
      inRange
        .slice(0, ROOM)
        .flatMap((sprite) => dotsOf(sprite, y))
        .map(({ x }) => x),
    );
    for (const sprite of inRange.slice(ROOM)) {
      for (const { x, colour } of dotsOf(sprite, y)) {
        if (covered.has(x)) continue;
        covered.add(x);
        if ((sprite.attributes & BEHIND) !== 0) continue;
        const code = palette[0x10 + ((sprite.attributes & 3) << 2) + colour]! & 0x3f;
        missing.push({ at: y * PICTURE_WIDTH + x, code });
      }
    }
  }
  return { mostOnALine, missing };

  function dotsOf(sprite: Sprite, y: number): { x: number; colour: number }[] {
    const row = (sprite.attributes & FLIP_Y) !== 0 ? height - 1 - (y - 1 - sprite.y) : y - 1 - sprite.y;
    const at = patternAt(sprite.tile, row);
    const [low, high] = [pattern[at] ?? 0, pattern[at + 8] ?? 0];
    const dots: { x: number; colour: number }[] = [];
    for (let dot = 0; dot < 8 && sprite.x + dot < PICTURE_WIDTH; dot++) {
      const bit = (sprite.attributes & FLIP_X) !== 0 ? dot : 7 - dot;
      const colour = ((low >> bit) & 1) | (((high >> bit) & 1) << 1);
      if (colour !== 0 && sprite.x + dot >= firstColumn) dots.push({ x: sprite.x + dot, colour });
    }
    return dots;
  }

  function patternAt(tile: number, row: number): number {
    if (height === 16) return (tile & 1) * 0x1000 + ((tile & 0xfe) + (row >> 3)) * 16 + (row & 7);
    return ((registers.control & UPPER_TABLE) !== 0 ? 0x1000 : 0) + tile * 16 + row;
  }
}

const spriteAt = (oam: Uint8Array, k: number): Sprite => ({
  y: oam[4 * k]!,
  tile: oam[4 * k + 1]!,
  attributes: oam[4 * k + 2]!,
  x: oam[4 * k + 3]!,
});
