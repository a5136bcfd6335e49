import type { BackgroundState } from '../background.ts';
import { colourCode } from '../pixel.ts';
import type { RasterState } from '../raster-state.ts';
import { PALETTE_CELLS, type VideoMemory } from '../video-memory.ts';
import type { VideoMap } from './video-map.ts';

/** Tiles of a line: two that the line before has fetched, 31 of its own that can be seen. */
export const TILES = 33;
export const FIRST_OWN_TILE = 2;

/** Dots 0, 1 | 2, 3 | 4, 5 | 6, 7 of one plane's byte, each pair in the low half of four bits. */
const PAIRS_OF_BYTE = Uint16Array.from(
  { length: 256 },
  (_, byte) => ((byte & 0xc0) << 6) | ((byte & 0x30) << 4) | ((byte & 0x0c) << 2) | (byte & 3),
);

/**
 * The background of one line as codes, with fine x still to be cut off at the left.
 *
 * Two dots are written at once: `pairs` holds the codes of two neighbouring dots for each palette (bits 5..4), high plane
 * (bits 3..2) and low plane (bits 1..0) as one 32-bit number, in whichever byte order the machine has.
 * Trick: no dot is looked at by itself; the two planes' bytes are spread over four such indexes by a table.
 */
export class BackgroundLine {
  /** Eight dots a tile, bit 7 first: 1 = opaque. */
  readonly opaque = new Uint8Array(TILES + 1);
  /** Codes of the 32 palette cells under the mask in force. */
  readonly cellCodes = new Uint16Array(PALETTE_CELLS);
  readonly #codes = new Uint16Array(TILES * 8);
  readonly #codePairs = new Uint32Array(this.#codes.buffer);
  /** What a line shows of `#codes`, for each fine x. */
  readonly #shown = Array.from({ length: 8 }, (_, fineX) => this.#codes.subarray(fineX, fineX + 256));
  readonly #pairCodes = new Uint16Array(128);
  readonly #pairs = new Uint32Array(this.#pairCodes.buffer);

  setColours(state: RasterState, memory: VideoMemory): void {
    const { cellCodes } = this;
    for (let cell = 0; cell < PALETTE_CELLS; cell++) cellCodes[cell] = colourCode(state, memory, cell);
    for (let pair = 0; pair < 64; pair++) {
      const palette = (pair >> 2) & 0x0c;
      const first = ((pair >> 1) & 1) | ((pair >> 2) & 2);
      const second = (pair & 1) | ((pair >> 1) & 2);
      this.#pairCodes[2 * pair] = cellCodes[first === 0 ? 0 : palette | first]!;
      this.#pairCodes[2 * pair + 1] = cellCodes[second === 0 ? 0 : palette | second]!;
    }
  }

  /** Tiles 0 and 1 as they wait in the queue. */
  takeQueue({ queue, head }: BackgroundState): void {
    const { opaque } = this;
    opaque[0] = 0;
    opaque[1] = 0;
    for (let dot = 0; dot < 16; dot++) {
      const cell = queue[(head + dot) & 15]!;
      this.#codes[dot] = this.cellCodes[cell & 0x1f]!;
      if (cell !== 0) opaque[dot >> 3]! |= 0x80 >> (dot & 7);
    }
  }

  /** Tiles `first` to before `end`, fetched from `start` on. `table` is $0000 or $1000. */
  takeTiles(map: VideoMap, start: number, table: number, first: number, end: number): void {
    const column = start & 0x1f;
    // Column 31 is the last of its table: the tiles behind it are in the one to the side.
    const turn = Math.min(end, first + 32 - column);
    this.#takeFromTable(map, start, table, first, turn);
    if (turn < end) this.#takeFromTable(map, (start & ~0x1f) ^ 0x400, table, turn, end);
  }

  #takeFromTable(map: VideoMap, v: number, table: number, first: number, end: number): void {
    const { nameTables, pattern, pages, banks } = map;
    const { opaque } = this;
    const codes = this.#codePairs;
    const pairs = this.#pairs;
    const row = table | (v >> 12);
    const page = pages[(v >> 10) & 3]!;
    const names = page | (v & 0x3e0);
    const attributes = page | 0x3c0 | ((v >> 4) & 0x38);
    const lowerHalf = (v >> 4) & 4;
    let column = v & 0x1f;
    for (let tile = first; tile < end; tile++, column++) {
      const address = row | (nameTables[names | column]! << 4);
      const place = banks[address >> 10]! + (address & 0x3ff);
      const low = pattern[place]!;
      const high = pattern[place + 8]!;
      const bits = PAIRS_OF_BYTE[low]! | (PAIRS_OF_BYTE[high]! << 2);
      const attribute = nameTables[attributes | (column >> 2)]! >> (lowerHalf | (column & 2));
      const palette = (attribute & 3) << 4;
      const at = tile << 2;
      opaque[tile] = low | high;
      codes[at] = pairs[palette | (bits >> 12)]!;
      codes[at + 1] = pairs[palette | ((bits >> 8) & 15)]!;
      codes[at + 2] = pairs[palette | ((bits >> 4) & 15)]!;
      codes[at + 3] = pairs[palette | (bits & 15)]!;
    }
  }

  /** Hide the layer in its first `columns` columns, behind fine x: 8 = the left column, 256 = all. */
  hide(fineX: number, columns: number): void {
    this.#codes.fill(this.cellCodes[0]!, fineX, fineX + columns);
    if (columns > 8) this.opaque.fill(0);
    else {
      this.opaque[0] = 0;
      this.opaque[1]! &= 0xff >> fineX;
    }
  }

  put(fineX: number, codes: Uint16Array, at: number): void {
    codes.set(this.#shown[fineX]!, at);
  }

  /** A part of a line: `count` dots. Here `fineX` may be 8. */
  putPart(fineX: number, count: number, codes: Uint16Array, at: number): void {
    const source = this.#codes;
    for (let dot = 0; dot < count; dot++) codes[at + dot] = source[fineX + dot]!;
  }

  /** 1 = the background is opaque at this dot of the line. */
  opaqueAt(x: number, fineX: number): number {
    const dot = x + fineX;
    return (this.opaque[dot >> 3]! >> (7 - (dot & 7))) & 1;
  }
}
