import type { EvaluationState } from './sprite-evaluation.ts';
import type { VideoMemory } from './video-memory.ts';

/** Bits of a sprite dot beside its palette index in bits 4..0. */
export const SPRITE_BEHIND = 0x20;
export const SPRITE_OF_UNIT_ZERO = 0x40;

/** A sprite at x = 255 reaches seven dots past the picture. */
const LINE_DOTS = 264;

/**
 * The sprites' dots of one line.
 *
 * On the chip eight units each count x down and then shift a row of pattern out; the first opaque one wins. Which dot
 * shows which sprite is settled once the units are loaded, so the line is held as dots and `position` counts those that
 * the picture has gone along. Rendering switched off stops it as it stops the units.
 * Source: hardware documentation wiki, "PPU rendering" and "PPU sprite priority".
 */
export interface SpriteUnitState {
  /** 0 = transparent; else $10 | palette and pattern in bits 3..0, with the bits above. */
  readonly dots: Uint8Array;
  position: number;
  /** Low plane of the unit that is being loaded. */
  low: number;
  /** Unit 0 holds the sprite whose hit the flag reports. */
  isZeroInUnitZero: boolean;
}

export const newSpriteUnitState = (): SpriteUnitState => ({
  dots: new Uint8Array(LINE_DOTS),
  position: 0,
  low: 0,
  isZeroInUnitZero: false,
});

/** Step the units by one dot. */
export const nextSpritePixel = (u: SpriteUnitState): number => (u.position < LINE_DOTS ? u.dots[u.position++]! : 0);

/** Lines of a sprite: PPUCTRL bit 5. */
export const spriteHeight = (control: number): number => ((control & 0x20) !== 0 ? 16 : 8);

/**
 * Dots 257..320, eight for each unit. `line` is the line on which the sprites were found; -1 on the pre-render line,
 * whose fetches show nothing, so that line 0 has no sprites. An empty place of the secondary memory is transparent too.
 */
export function loadSpriteUnit(
  u: SpriteUnitState,
  e: EvaluationState,
  memory: VideoMemory,
  dot: number,
  line: number,
  control: number,
): void {
  const k = (dot - 257) >> 3;
  const step = (dot - 257) & 7;
  if (dot === 257) clearUnits(u, e);
  if (line < 0 || k >= e.filled >> 2) return;
  if (step === 5) u.low = fetchSpritePattern(e.secondary, 4 * k, memory, line, control, 0);
  if (step === 7) drawUnit(u, e.secondary, k, fetchSpritePattern(e.secondary, 4 * k, memory, line, control, 8));
}

function clearUnits(u: SpriteUnitState, e: EvaluationState): void {
  u.dots.fill(0);
  u.position = 0;
  u.isZeroInUnitZero = e.isZeroFound;
}

/** Units are loaded in order, so a dot that is taken already belongs to one of higher priority. */
function drawUnit(u: SpriteUnitState, entries: Uint8Array, k: number, high: number): void {
  const attribute = entries[4 * k + 2]!;
  const x = entries[4 * k + 3]!;
  const kind = 0x10 | ((attribute & 3) << 2) | (attribute & SPRITE_BEHIND) | (k === 0 ? SPRITE_OF_UNIT_ZERO : 0);
  for (let i = 0; i < 8; i++) {
    const pattern = ((u.low >> (7 - i)) & 1) | (((high >> (7 - i)) & 1) << 1);
    if (pattern !== 0 && u.dots[x + i] === 0) u.dots[x + i] = kind | pattern;
  }
}

/** One plane (0 low, 8 high) of a sprite's row, turned so that bit 7 comes first. */
function fetchSpritePattern(
  entries: Uint8Array,
  at: number,
  memory: VideoMemory,
  line: number,
  control: number,
  plane: 0 | 8,
): number {
  const attribute = entries[at + 2]!;
  const height = spriteHeight(control);
  const rowFromTop = (line - entries[at]!) & (height - 1);
  const row = (attribute & 0x80) !== 0 ? height - 1 - rowFromTop : rowFromTop;
  const byte = memory.read(spritePatternAddress(entries[at + 1]!, row, control) | plane);
  return (attribute & 0x40) !== 0 ? reverseBits(byte) : byte;
}

/** Address of the low plane. 8 lines: table by PPUCTRL bit 3; 16 lines: table by the tile's bit 0, two tiles on end. */
function spritePatternAddress(tile: number, row: number, control: number): number {
  if (spriteHeight(control) === 8) return ((control & 0x08) << 9) | (tile << 4) | row;
  return ((tile & 1) << 12) | ((tile & 0xfe) << 4) | ((row & 8) << 1) | (row & 7);
}

function reverseBits(byte: number): number {
  let reversed = 0;
  for (let bit = 0; bit < 8; bit++) reversed |= ((byte >> bit) & 1) << (7 - bit);
  return reversed;
}
