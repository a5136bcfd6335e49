import type { Screen } from './screen.ts';

/**
 * What a still screen must look like, worked out pixel by pixel from its memories: no shifters, no dots, no address
 * latches. It shares no code with the raster unit.
 */
export function expectedPicture(screen: Screen): Uint16Array {
  const codes = new Uint16Array(256 * 240);
  for (let y = 0; y < 240; y++) {
    const sprites = spritesOnLine(screen, y);
    for (let x = 0; x < 256; x++) codes[y * 256 + x] = codeAt(screen, sprites, x, y);
  }
  return codes;
}

/** Line and dot at which the sprite 0 hit flag rises, or undefined when it stays down. */
export function expectedHit(screen: Screen): { line: number; dot: number } | undefined {
  if ((screen.mask & 0x18) !== 0x18) return undefined;
  for (let y = 1; y < 240; y++) {
    const zero = spritesOnLine(screen, y).find((sprite) => sprite === 0);
    if (zero === undefined) continue;
    for (let x = 0; x < 255; x++) {
      const isHidden = x < 8 && (screen.mask & 0x06) !== 0x06;
      if (!isHidden && spritePattern(screen, zero, x, y) !== 0 && backgroundCell(screen, x, y) !== 0) {
        return { line: y, dot: x + 2 };
      }
    }
  }
  return undefined;
}

/** Whether the overflow flag is up at the end of the picture: the chip's diagonal search, written entry by entry. */
export function expectedOverflow(screen: Screen): boolean {
  if ((screen.mask & 0x18) === 0) return false;
  for (let line = 0; line < 240; line++) if (overflowsOn(screen, line)) return true;
  return false;
}

function overflowsOn({ oam, control }: Screen, line: number): boolean {
  const isInRange = (byte: number) => byte <= line && line < byte + heightOf(control);
  let n = 0;
  for (let found = 0; n < 64 && found < 8; n++) if (isInRange(oam[n * 4]!)) found++;
  for (let m = 0; n < 64; n++, m = (m + 1) % 4) if (isInRange(oam[n * 4 + m]!)) return true;
  return false;
}

const heightOf = (control: number) => ((control & 0x20) === 0 ? 8 : 16);

/** Entries of the first eight sprites on this line of the picture; they stand one line below their Y. */
function spritesOnLine({ oam, control, mask }: Screen, y: number): number[] {
  const found: number[] = [];
  if (y === 0 || (mask & 0x18) === 0) return found;
  for (let n = 0; n < 64 && found.length < 8; n++) {
    const row = y - 1 - oam[n * 4]!;
    if (row >= 0 && row < heightOf(control)) found.push(n);
  }
  return found;
}

function codeAt(screen: Screen, sprites: readonly number[], x: number, y: number): number {
  const { palette, mask } = screen;
  const colour = palette[cellAt(screen, sprites, x, y)]!;
  const emphasis = Math.floor(mask / 32) * 64;
  return ((mask & 1) === 1 ? colour - (colour % 16) : colour) + emphasis;
}

function cellAt(screen: Screen, sprites: readonly number[], x: number, y: number): number {
  const { mask, oam } = screen;
  const isBackgroundShown = (mask & 0x08) !== 0 && (x >= 8 || (mask & 0x02) !== 0);
  const areSpritesShown = (mask & 0x10) !== 0 && (x >= 8 || (mask & 0x04) !== 0);
  const background = isBackgroundShown ? backgroundCell(screen, x, y) : 0;
  const front = areSpritesShown ? sprites.find((n) => spritePattern(screen, n, x, y) !== 0) : undefined;
  if (front === undefined) return background;
  const attribute = oam[front * 4 + 2]!;
  if ((attribute & 0x20) !== 0 && background !== 0) return background;
  return 16 + (attribute % 4) * 4 + spritePattern(screen, front, x, y);
}

function spritePattern({ oam, control, pattern }: Screen, n: number, x: number, y: number): number {
  const [top, tile, attribute, left] = oam.subarray(n * 4, n * 4 + 4) as unknown as [number, number, number, number];
  let column = x - left;
  if (column < 0 || column > 7) return 0;
  let row = y - 1 - top;
  if ((attribute & 0x40) !== 0) column = 7 - column;
  if ((attribute & 0x80) !== 0) row = heightOf(control) - 1 - row;
  if (heightOf(control) === 8) return patternAt(pattern, (control & 0x08) === 0 ? 0 : 256, tile, column, row);
  const upper = tile - (tile % 2);
  return patternAt(pattern, (tile % 2) * 256, row < 8 ? upper : upper + 1, column, row % 8);
}

/** `first`: number of the table's first tile among all 512. */
function patternAt(pattern: Uint8Array, first: number, tile: number, column: number, row: number): number {
  const at = (first + tile) * 16 + row;
  const weight = 128 >> column;
  return ((pattern[at]! & weight) !== 0 ? 1 : 0) + ((pattern[at + 8]! & weight) !== 0 ? 2 : 0);
}

/** Palette cell of the background, 0 where it is transparent; the plane is 512 by 480 and repeats. */
function backgroundCell(screen: Screen, x: number, y: number): number {
  const { control, nameTables, pattern, mirroring, scrollX } = screen;
  const across = ((control & 1) * 256 + scrollX + x) % 512;
  const { isLower, row } = rowOfPlane(screen, y);
  const isRight = across >= 256;
  const page = (mirroring === 'vertical' ? isRight : isLower) ? 1024 : 0;
  const tileColumn = Math.floor((across % 256) / 8);
  const tileRow = Math.floor(row / 8);
  const tile = nameTables[page + tileRow * 32 + tileColumn]!;
  const dots = patternAt(pattern, (control & 0x10) === 0 ? 0 : 256, tile, across % 8, row % 8);
  if (dots === 0) return 0;
  const attributes = nameTables[page + 960 + Math.floor(tileRow / 4) * 8 + Math.floor(tileColumn / 4)]!;
  const quarter = (tileRow % 4 >= 2 ? 2 : 0) + (tileColumn % 4 >= 2 ? 1 : 0);
  return (Math.floor(attributes / [1, 4, 16, 64][quarter]!) % 4) * 4 + dots;
}

/**
 * A scroll of 240 and more begins among the attributes, which show as tiles; after row 255 the same table starts from
 * its top (hardware documentation wiki, "PPU scrolling", vertical wrapping).
 */
function rowOfPlane({ control, scrollY }: Screen, y: number): { isLower: boolean; row: number } {
  const startsLower = (control & 2) !== 0;
  const row = scrollY + y;
  if (scrollY >= 240 && row < 256) return { isLower: startsLower, row };
  const down = scrollY >= 240 ? row - 256 : row;
  return { isLower: startsLower !== down >= 240, row: down % 240 };
}
