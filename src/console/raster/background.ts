import { attributeAddress, attributeShift, nameAddress } from './scroll.ts';
import type { VideoMemory } from './video-memory.ts';

/** Dots held ready: the tile on show and the next one. */
const QUEUE_DOTS = 16;

/**
 * The background's fetch latches and the dots made of them.
 *
 * On the chip two pattern shifters of 16 bits and two attribute shifters of 8 bits, fed from latches, move on by one bit
 * a dot. A ring of 16 palette indexes holds the same: `head` is the dot on show at fine x 0, what has been shown is
 * emptied as it is in a shifter, and a reload fills the eight places of the next tile.
 * Source: hardware documentation wiki, "PPU rendering".
 */
export interface BackgroundState {
  /** Bytes fetched last: name, attribute (the tile's two bits of it), pattern low and high. */
  name: number;
  attribute: number;
  low: number;
  high: number;
  /** Palette indexes 0..15; 0 is transparent. */
  readonly queue: Uint8Array;
  head: number;
}

export const newBackgroundState = (): BackgroundState => ({
  name: 0,
  attribute: 0,
  low: 0,
  high: 0,
  queue: new Uint8Array(QUEUE_DOTS),
  head: 0,
});

export function shiftBackground(b: BackgroundState): void {
  b.queue[b.head] = 0;
  b.head = (b.head + 1) & (QUEUE_DOTS - 1);
}

/** Queue the tile just fetched behind the one on show. */
export function reloadBackground(b: BackgroundState): void {
  const { queue, head, low, high } = b;
  const palette = b.attribute << 2;
  for (let x = 0; x < 8; x++) {
    const pattern = ((low >> (7 - x)) & 1) | (((high >> (7 - x)) & 1) << 1);
    queue[(head + 8 + x) & (QUEUE_DOTS - 1)] = pattern === 0 ? 0 : palette | pattern;
  }
}

/** Palette index 0..15 of the dot on show; 0 is transparent. */
export const backgroundPixel = (b: BackgroundState, fineX: number): number =>
  b.queue[(b.head + fineX) & (QUEUE_DOTS - 1)]!;

export function fetchName(b: BackgroundState, memory: VideoMemory, v: number): void {
  b.name = memory.read(nameAddress(v));
}

export function fetchAttribute(b: BackgroundState, memory: VideoMemory, v: number): void {
  b.attribute = (memory.read(attributeAddress(v)) >> attributeShift(v)) & 3;
}

/** `table` is $0000 or $1000, `plane` 0 (low) or 8 (high). */
export function fetchPattern(b: BackgroundState, memory: VideoMemory, v: number, table: number, plane: 0 | 8): void {
  const byte = memory.read(table | (b.name << 4) | plane | (v >> 12));
  if (plane === 0) b.low = byte;
  else b.high = byte;
}
