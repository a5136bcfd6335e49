import { PICTURE_HEIGHT } from '../../../units/timing.ts';

/** Sprites that the unit can show on one line. */
export const SPRITES_PER_LINE = 8;

/**
 * Which sprites the search finds on each line when it starts at entry 0, for all lines at once.
 *
 * Sprites found on a line are shown on the next. With eight in range the search goes on diagonally: `counts` then only
 * says that there are so many.
 */
export class SpriteLines {
  /** Sprites in range of each line, 0..64. */
  readonly counts = new Uint8Array(PICTURE_HEIGHT);
  /** Entry numbers 0..63 of the first eight of each line, in their order. */
  readonly entries = new Uint8Array(PICTURE_HEIGHT * SPRITES_PER_LINE);
  /** Height for which the lists stand; 0 = sprite memory has changed since. */
  #height = 0;

  /** Sprite memory has changed. */
  forget(): void {
    this.#height = 0;
  }

  update(oam: Uint8Array, height: number): void {
    if (this.#height === height) return;
    this.#height = height;
    const { counts, entries } = this;
    counts.fill(0);
    for (let entry = 0; entry < 64; entry++) {
      const top = oam[entry << 2]!;
      const end = Math.min(top + height, PICTURE_HEIGHT);
      for (let line = top; line < end; line++) {
        const count = counts[line]!;
        if (count < SPRITES_PER_LINE) entries[line * SPRITES_PER_LINE + count] = entry;
        counts[line] = count + 1;
      }
    }
  }
}
