import type { Picture, PictureHistory } from '../picture/picture.ts';
import { PIXEL_OUT_DELAY_DOTS } from '../references/console-constants.ts';
import { LUMINANCE_WEIGHTS, weightedLight } from '../references/palette.ts';
import { PICTURE_HEIGHT, PICTURE_WIDTH, type Timing, ticksPerLine } from '../units/timing.ts';
import type { Aim } from './truth.ts';

/** The first dot of a picture, inside the spot, that is brighter than the same dot one picture before. */
export interface Flash {
  readonly pictureIndex: number;
  readonly x: number;
  readonly y: number;
  /** Tick at which this dot leaves the console's plug. */
  readonly wireTick: number;
}

/** A dot counts as brighter from this rise of relative luminance on. Assumed: a fifth of the dimmest usable flash. */
const RISE = 0.1;

/** Looks for the flash of a shot as the pictures are completed. */
export class FlashFinder {
  readonly #timing: Timing;
  readonly #luminance: Float64Array;
  readonly #left: number;
  readonly #right: number;
  readonly #top: number;
  readonly #bottom: number;

  constructor(timing: Timing, aim: Aim, spotRadiusDots: number) {
    const reach = 2 * spotRadiusDots;
    this.#timing = timing;
    this.#luminance = weightedLight(timing.swapsRedGreenEmphasis, LUMINANCE_WEIGHTS);
    this.#left = Math.max(0, Math.floor(aim.x - reach));
    this.#right = Math.min(PICTURE_WIDTH - 1, Math.floor(aim.x + reach));
    this.#top = Math.max(0, Math.floor(aim.y - reach));
    this.#bottom = Math.min(PICTURE_HEIGHT - 1, Math.floor(aim.y + reach));
  }

  /** The flash in this complete picture, if it shows one after the picture before it. */
  inPicture(history: PictureHistory, index: number): Flash | undefined {
    const picture = history.get(index);
    const before = history.get(index - 1);
    if (picture === undefined || before === undefined) return undefined;
    for (let y = this.#top; y <= this.#bottom; y++) {
      for (let x = this.#left; x <= this.#right; x++) {
        const dot = y * PICTURE_WIDTH + x;
        if (this.#luminance[picture.codes[dot]!]! - this.#luminance[before.codes[dot]!]! >= RISE) {
          return { pictureIndex: index, x, y, wireTick: this.#wireTick(picture, x, y) };
        }
      }
    }
    return undefined;
  }

  /** Smallest rectangle around all bright dots of the picture within `area`; undefined when none is bright. */
  brightRectangle(picture: Picture, area: Rectangle): Rectangle | undefined {
    let [left, right, top, bottom] = [PICTURE_WIDTH, -1, PICTURE_HEIGHT, -1];
    for (let y = Math.max(0, Math.ceil(area.y)); y < Math.min(PICTURE_HEIGHT, area.y + area.height); y++) {
      for (let x = Math.max(0, Math.ceil(area.x)); x < Math.min(PICTURE_WIDTH, area.x + area.width); x++) {
        if (this.#luminance[picture.codes[y * PICTURE_WIDTH + x]!]! < BRIGHT) continue;
        [left, right, top, bottom] = [Math.min(left, x), Math.max(right, x), Math.min(top, y), Math.max(bottom, y)];
      }
    }
    return right < 0 ? undefined : { x: left, y: top, width: right - left + 1, height: bottom - top + 1 };
  }

  #wireTick(picture: Picture, x: number, y: number): number {
    return picture.lineZeroTick + y * ticksPerLine(this.#timing) + (x + PIXEL_OUT_DELAY_DOTS) * this.#timing.dotDivider;
  }
}

/** A dot belongs to the flash box from this relative luminance on. Assumed: below mid grey $10 (0.38). */
const BRIGHT = 0.25;

export interface Rectangle {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}
