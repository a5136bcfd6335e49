/**
 * The address latches of the raster unit.
 *
 * t, v: 15 bits yyy NN YYYYY XXXXX (fine y, name table, coarse y, coarse x); x: fine x, 3 bits; w: which write is next.
 * Source: hardware documentation wiki, "PPU scrolling".
 */
export interface ScrollState {
  v: number;
  t: number;
  x: number;
  w: number;
}

export const newScrollState = (): ScrollState => ({ v: 0, t: 0, x: 0, w: 0 });

/** Coarse x + 1: 31 wraps to 0 in the other name table to the side. */
export function nextColumn(v: number): number {
  return (v & 0x001f) === 31 ? (v & ~0x001f) ^ 0x0400 : v + 1;
}

/** Fine y + 1 with its carry: coarse y 29 wraps into the other name table below, 31 wraps within its own. */
export function nextRow(v: number): number {
  if ((v & 0x7000) !== 0x7000) return v + 0x1000;
  const base = v & ~0x73e0;
  const coarseY = (v >> 5) & 31;
  if (coarseY === 29) return base ^ 0x0800;
  return coarseY === 31 ? base : base | ((coarseY + 1) << 5);
}

/** v with the horizontal half of t: name table bit 10 and coarse x. */
export const restoreColumn = (v: number, t: number): number => (v & ~0x041f) | (t & 0x041f);

/** v with the vertical half of t: fine y, name table bit 11 and coarse y. */
export const restoreRow = (v: number, t: number): number => (v & 0x041f) | (t & 0x7be0);

export const nameAddress = (v: number): number => 0x2000 | (v & 0x0fff);

export const attributeAddress = (v: number): number => 0x23c0 | (v & 0x0c00) | ((v >> 4) & 0x38) | ((v >> 2) & 0x07);

/** How far right the tile's two bits stand in its attribute byte: 0, 2, 4 or 6. */
export const attributeShift = (v: number): number => ((v >> 4) & 4) | (v & 2);

/** PPUCTRL bits 1..0 go into t. */
export function writeNameTableBits(scroll: ScrollState, value: number): void {
  scroll.t = (scroll.t & ~0x0c00) | ((value & 3) << 10);
}

/** PPUSCROLL: x first, then y. */
export function writeScroll(scroll: ScrollState, value: number): void {
  if (scroll.w === 0) {
    scroll.t = (scroll.t & ~0x001f) | (value >> 3);
    scroll.x = value & 7;
  } else {
    scroll.t = (scroll.t & ~0x73e0) | ((value & 7) << 12) | ((value & 0xf8) << 2);
  }
  scroll.w ^= 1;
}

/** PPUADDR: high byte first, then low. True when t is complete and v is to follow it. */
export function writeAddress(scroll: ScrollState, value: number): boolean {
  if (scroll.w === 0) scroll.t = (scroll.t & 0x00ff) | ((value & 0x3f) << 8);
  else scroll.t = (scroll.t & 0x7f00) | value;
  scroll.w ^= 1;
  return scroll.w === 0;
}
