import type { Slot } from '../cartridge/slot.ts';

/** Bytes of the two internal name-table pages, and cells of the palette. */
export const NAME_TABLE_BYTES = 2048;
export const PALETTE_CELLS = 32;

/**
 * What the raster unit sees on its own bus: the cartridge's pattern memory at $0000-$1FFF, name tables at $2000-$3EFF
 * through the cartridge's mirroring, the palette at $3F00-$3FFF.
 * Source: hardware documentation wiki, "PPU memory map" and "PPU palettes".
 */
export class VideoMemory {
  readonly #slot: Slot;
  readonly #nameTables: Uint8Array;
  /** Mirrored cells hold the same value, so that a read needs no case. */
  readonly #palette: Uint8Array;

  constructor(slot: Slot, nameTables: Uint8Array, palette: Uint8Array) {
    this.#slot = slot;
    this.#nameTables = nameTables;
    this.#palette = palette;
  }

  /** The bus below the palette: at $3F00 and up, the name tables that lie under it. */
  read(address: number): number {
    if ((address & 0x2000) !== 0) return this.#nameTables[this.#nameTableOffset(address)]!;
    // Where no memory answers, the low address byte is still on the shared pins (wiki, "Open bus behavior").
    return this.#slot.pattern[this.#patternOffset(address)] ?? address & 0xff;
  }

  write(address: number, value: number): void {
    if ((address & 0x3f00) === 0x3f00) this.#writePalette(address, value);
    else if ((address & 0x2000) !== 0) this.#nameTables[this.#nameTableOffset(address)] = value;
    else if (this.#slot.isPatternWritable) this.#slot.pattern[this.#patternOffset(address)] = value;
  }

  /** Six bits, before grey. */
  readPalette(address: number): number {
    return this.#palette[address & 0x1f]!;
  }

  #writePalette(address: number, value: number): void {
    const cell = address & 0x1f;
    this.#palette[cell] = value & 0x3f;
    if ((cell & 3) === 0) this.#palette[cell ^ 0x10] = value & 0x3f;
  }

  #nameTableOffset(address: number): number {
    return (this.#slot.mirroring()[(address >> 10) & 3]! << 10) | (address & 0x3ff);
  }

  #patternOffset(address: number): number {
    return this.#slot.pictureBanks()[(address >> 10) & 7]! + (address & 0x3ff);
  }
}
