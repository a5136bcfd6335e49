import type { VideoMap } from './video-map.ts';

const FLIP_X = 0x40;
const FLIP_Y = 0x80;

/** Bytes with their bits in reverse order. */
const REVERSED = Uint8Array.from({ length: 256 }, (_, byte) => {
  let reversed = 0;
  for (let bit = 0; bit < 8; bit++) reversed |= ((byte >> bit) & 1) << (7 - bit);
  return reversed;
});

/** A row of pattern as it is shown: bit 7 first. */
export const turned = (byte: number, attribute: number): number =>
  (attribute & FLIP_X) !== 0 ? REVERSED[byte]! : byte;

/**
 * Place in pattern memory of the row that the sprite at `at` of sprite memory has on the line on which it was found.
 * Source: hardware documentation wiki, "PPU OAM" (byte 1) and "PPU pattern tables".
 */
export function placeOfSpriteRow(map: VideoMap, oam: Uint8Array, at: number, line: number, control: number): number {
  const tile = oam[at + 1]!;
  const isTall = (control & 0x20) !== 0;
  const rows = isTall ? 15 : 7;
  const fromTop = (line - oam[at]!) & rows;
  const row = (oam[at + 2]! & FLIP_Y) !== 0 ? rows - fromTop : fromTop;
  if (!isTall) return map.placeOf(((control & 0x08) << 9) | (tile << 4) | row);
  return map.placeOf(((tile & 1) << 12) | ((tile & 0xfe) << 4) | ((row & 8) << 1) | (row & 7));
}
