import { PICTURE_HEIGHT, PICTURE_WIDTH } from '../units/timing.ts';

/**
 * One picture that the console has put out (or is putting out now).
 *
 * `codes[y * 256 + x]`: bits 5..0 the colour code of the dot, bits 8..6 the emphasis bits 7..5 of PPUMASK as they stand in
 * the register. Dots of the picture in progress that the raster has not reached hold the codes of an older picture:
 * whoever reads must not look past the tick to which the console has run.
 */
export interface Picture {
  /** Counts pictures from power-on, 0 for the first. */
  index: number;
  /** Tick of (line 0, dot 0) of the frame that puts this picture out. */
  lineZeroTick: number;
  readonly codes: Uint16Array;
  /** Where the program had its targets, as evaluated at the vblank dot before this picture. */
  targets: readonly TargetRectangle[];
}

/** What the player sees as the thing to hit. Units: dots and scanlines; covers [x, x + width) x [y, y + height). */
export interface TargetRectangle {
  readonly isLive: boolean;
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** The latest pictures of the console, the only thing that the light side sees of it. */
export class PictureHistory {
  /** Number of pictures kept, the one in progress included. */
  readonly capacity: number;
  readonly #ring: Picture[];
  #newest = -1;

  constructor(capacity: number) {
    this.capacity = capacity;
    this.#ring = Array.from({ length: capacity }, () => ({
      index: -1,
      lineZeroTick: 0,
      codes: new Uint16Array(PICTURE_WIDTH * PICTURE_HEIGHT),
      targets: [],
    }));
  }

  /** Index of the picture in progress; -1 before the first. */
  get newest(): number {
    return this.#newest;
  }

  /** Start the next picture. Its codes still hold an old picture until the raster has written them. */
  begin(lineZeroTick: number, targets: readonly TargetRectangle[]): Picture {
    this.#newest++;
    const picture = this.#ring[this.#newest % this.capacity]!;
    picture.index = this.#newest;
    picture.lineZeroTick = lineZeroTick;
    picture.targets = targets;
    return picture;
  }

  /** The picture of this index, or undefined when it has not begun or is no longer kept. */
  get(index: number): Picture | undefined {
    const picture = this.#ring[index % this.capacity];
    return picture !== undefined && picture.index === index ? picture : undefined;
  }
}
