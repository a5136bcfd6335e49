import { PICTURE_WIDTH } from '../../../units/timing.ts';
import { SPRITE_BEHIND, type SpriteUnitState } from '../sprite-units.ts';
import type { BackgroundLine } from './background-line.ts';
import { SPRITES_PER_LINE, type SpriteLines } from './sprite-lines.ts';
import { placeOfSpriteRow, turned } from './sprite-rows.ts';
import type { VideoMap } from './video-map.ts';

const LAST_STAMP = 0x3fff_ffff;

/**
 * Where a line's sprites go: column 0 stands at `at` in `codes`, over a background that is already there and that had
 * `fineX` dots cut off.
 */
export interface OverlayTarget {
  readonly codes: Uint16Array;
  readonly at: number;
  readonly fineX: number;
  /** First column in which sprites are shown: 0 or 8. */
  readonly firstColumn: number;
}

/** Sprites over the background of a line: the first opaque one at a dot takes it, seen or not. */
export class SpriteOverlay {
  readonly #background: BackgroundLine;
  /** Dots that a sprite of this line has taken hold the line's stamp. */
  readonly #taken = new Int32Array(PICTURE_WIDTH);
  #stamp = 0;

  constructor(background: BackgroundLine) {
    this.#background = background;
  }

  /** The sprites that were found on line `found`, so that they are shown on the line after it. */
  drawFound(
    lines: SpriteLines,
    found: number,
    oam: Uint8Array,
    map: VideoMap,
    control: number,
    to: OverlayTarget,
  ): void {
    const count = Math.min(lines.counts[found]!, SPRITES_PER_LINE);
    if (count === 0) return;
    this.#beginLine();
    for (let k = 0; k < count; k++) {
      const at = lines.entries[found * SPRITES_PER_LINE + k]! << 2;
      const place = placeOfSpriteRow(map, oam, at, found, control);
      const attribute = oam[at + 2]!;
      const low = turned(map.pattern[place]!, attribute);
      const high = turned(map.pattern[place + 8]!, attribute);
      if ((low | high) !== 0) this.#drawRow(low, high, attribute, oam[at + 3]!, to);
    }
  }

  #beginLine(): void {
    if (this.#stamp === LAST_STAMP) {
      this.#stamp = 0;
      this.#taken.fill(0);
    }
    this.#stamp++;
  }

  #drawRow(low: number, high: number, attribute: number, x: number, to: OverlayTarget): void {
    const taken = this.#taken;
    const stamp = this.#stamp;
    const { codes, at, fineX, firstColumn } = to;
    const { cellCodes } = this.#background;
    const palette = 0x10 | ((attribute & 3) << 2);
    const isBehind = (attribute & SPRITE_BEHIND) !== 0;
    const end = Math.min(8, PICTURE_WIDTH - x);
    for (let i = 0; i < end; i++) {
      const pattern = ((low >> (7 - i)) & 1) | (((high >> (7 - i)) << 1) & 2);
      const dot = x + i;
      if (pattern === 0 || taken[dot] === stamp) continue;
      taken[dot] = stamp;
      if (dot < firstColumn || (isBehind && this.#background.opaqueAt(dot, fineX) !== 0)) continue;
      codes[at + dot] = cellCodes[palette | pattern]!;
    }
  }

  /** The next `count` dots that stand in the units. */
  drawUnits({ dots, position }: SpriteUnitState, count: number, to: OverlayTarget): void {
    const { codes, at, fineX, firstColumn } = to;
    const { cellCodes } = this.#background;
    const end = Math.min(count, dots.length - position);
    for (let x = firstColumn; x < end; x++) {
      const dot = dots[position + x]!;
      if (dot === 0 || ((dot & SPRITE_BEHIND) !== 0 && this.#background.opaqueAt(x, fineX) !== 0)) continue;
      codes[at + x] = cellCodes[dot & 0x1f]!;
    }
  }
}
