import { PICTURE_HEIGHT } from '../../../units/timing.ts';
import type { Slot } from '../../cartridge/slot.ts';

const BANK_BYTES = 1024;

/**
 * The raster unit's bus as flat offsets, good until the cartridge switches a bank or its mirroring.
 *
 * `banks[address >> 10] + (address & $3FF)` is a place in `pattern`, `pages[table] | (address & $3FF)` one in `nameTables`.
 */
export class VideoMap {
  readonly nameTables: Uint8Array;
  readonly pages = new Int32Array(4);
  readonly banks = new Int32Array(8);
  pattern: Uint8Array;
  /** Pattern memory answers at every address from $0000 to $1FFF. */
  isWhole = false;
  readonly #slot: Slot;

  constructor(slot: Slot, nameTables: Uint8Array) {
    this.#slot = slot;
    this.nameTables = nameTables;
    this.pattern = slot.pattern;
  }

  update(): void {
    const slot = this.#slot;
    const pages = slot.mirroring();
    const banks = slot.pictureBanks();
    this.pattern = slot.pattern;
    for (let table = 0; table < 4; table++) this.pages[table] = pages[table]! << 10;
    this.isWhole = true;
    for (let bank = 0; bank < 8; bank++) {
      const offset = banks[bank]!;
      this.banks[bank] = offset;
      if (offset < 0 || offset + BANK_BYTES > this.pattern.length) this.isWhole = false;
    }
  }

  /** Place of the byte at this address of pattern memory; the high plane of a row lies 8 further on. */
  placeOf(address: number): number {
    return this.banks[address >> 10]! + (address & 0x3ff);
  }

  /** The eight dots of the background tile under v, bit 7 first: 1 = opaque. `table` is $0000 or $1000. */
  opacityOfTile(v: number, table: number): number {
    const name = this.nameTables[this.pages[(v >> 10) & 3]! | (v & 0x3ff)]!;
    const place = this.placeOf(table | (name << 4) | (v >> 12));
    return this.pattern[place]! | this.pattern[place + 8]!;
  }
}

/** v moved on by 0..64 columns. */
export function columnsOn(v: number, columns: number): number {
  const x = (v & 0x1f) + columns;
  return ((v & ~0x1f) | (x & 0x1f)) ^ ((x & 0x20) << 5);
}

/** v moved on by 0..240 rows, as `nextRow` does it one by one. */
export function rowsOn(v: number, rows: number): number {
  let y = (v >> 12) + ((v >> 2) & 0xf8) + rows;
  // Rows 240..255 lie among the attributes: from there the same table starts again at its top.
  if (y - rows >= PICTURE_HEIGHT) {
    if (y < 256) return (v & 0x0c1f) | rowBits(y);
    y -= 256;
  }
  const turns = Math.floor(y / PICTURE_HEIGHT);
  return ((v & 0x0c1f) ^ ((turns & 1) << 11)) | rowBits(y - turns * PICTURE_HEIGHT);
}

const rowBits = (y: number): number => ((y & 7) << 12) | ((y & 0xf8) << 2);
