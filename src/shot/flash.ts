import type { SpotWeights } from '../light/optics/optics.ts';
import { sharedLight } from '../light/weighted-light.ts';
import type { LineRange, Picture, PictureHistory, TargetRectangle } from '../picture/picture.ts';
import { PIXEL_OUT_DELAY_DOTS } from '../references/console-constants.ts';
import { PICTURE_HEIGHT, PICTURE_WIDTH, type Timing, ticksPerLine } from '../units/timing.ts';
import { boxOf, grown, type Rectangle } from './truth.ts';

/** The flash of the aimed target: the first dot of its box, inside the spot, that became brighter. */
export interface Flash {
  readonly pictureIndex: number;
  readonly x: number;
  readonly y: number;
  /** Tick at which this dot leaves the console's plug. */
  readonly wireTick: number;
}

/** What a picture says about the box of a target. */
export type BoxSighting =
  /** The box stands where target and margin say, and became brighter. */
  | { readonly kind: 'flash' }
  /** Something else became bright there: a box of another size or place. */
  | { readonly kind: 'other'; readonly found: Rectangle; readonly expected: Rectangle }
  | { readonly kind: 'none' };

/** Light of white = 1. A dot or a box counts as brighter from this rise on. Assumed: below the darkest colour, 0.02. */
const RISE = 0.01;
/** Agreement of box and bright rectangle. */
const TOLERANCE_DOTS = 2;
/** How far around the box its surroundings are looked at. */
const SURROUNDINGS_DOTS = 4;

/**
 * Looks for the flash of a shot as the pictures are completed. Light is weighed as the sensor weighs red, green and blue.
 *
 * In a flash picture the dots brighter than half of the brightest around the target fill the box, which is brighter than
 * one picture before. A white picture has no box, the scene that comes back looks as it did before the trigger or shows
 * the target itself without its margin, and a neighbour's box reaches out of the surroundings: none of them is the flash.
 */
export class FlashFinder {
  readonly #timing: Timing;
  readonly #light: Float64Array;
  readonly #spot: SpotWeights;

  readonly #lines: LineRange;

  /** `spot`: the weights on the lattice of scanlines and dots; `lines`: those that are drawn, no other is looked at. */
  constructor(timing: Timing, spot: SpotWeights, spectralWeights: readonly [number, number, number], lines: LineRange) {
    this.#timing = timing;
    this.#lines = lines;
    this.#spot = spot;
    this.#light = sharedLight(timing.swapsRedGreenEmphasis, spectralWeights);
  }

  /** What this complete picture shows of the target's box. `before` is the last picture begun before the trigger. */
  sight(
    picture: Picture,
    previous: Picture,
    before: Picture | undefined,
    target: TargetRectangle,
    marginDots: number,
  ): BoxSighting {
    const box = this.#clipped(boxOf(target, marginDots));
    if (meanLight(picture, box, this.#light) - meanLight(previous, box, this.#light) < RISE) return { kind: 'none' };
    const area = this.#clipped(grown(boxOf(target, marginDots), SURROUNDINGS_DOTS));
    const found = this.#brightRectangle(picture, area);
    if (found === undefined) return { kind: 'none' };
    if (isClose(found, box)) return { kind: 'flash' };
    const isScene = before !== undefined && isAlike(picture, before, area);
    const isTargetItself = marginDots > TOLERANCE_DOTS && isClose(found, this.#clipped(target));
    if (isScene || isTargetItself || this.#reachesOut(found, area)) return { kind: 'none' };
    return { kind: 'other', found, expected: box };
  }

  /** The first dot of the box inside the spot that rose in this picture, at or after `fromTick`. */
  firstDot(
    picture: Picture,
    previous: Picture,
    target: TargetRectangle,
    marginDots: number,
    fromTick: number,
  ): Flash | undefined {
    const box = this.#clipped(boxOf(target, marginDots));
    const { firstRow, rowCount, firstDot, dotCount } = this.#spot;
    for (let y = firstRow; y < firstRow + rowCount; y++) {
      if (y < box.y || y >= box.y + box.height) continue;
      for (let x = firstDot; x < firstDot + dotCount; x++) {
        if (x < box.x || x >= box.x + box.width) continue;
        const wireTick = this.#wireTick(picture, x, y);
        if (wireTick >= fromTick && this.#riseAt(picture, previous, x, y) >= RISE)
          return { pictureIndex: picture.index, x, y, wireTick };
      }
    }
    return undefined;
  }

  /** Whether the spot as a whole became brighter from the previous picture to this one. */
  isSpotBrighter(picture: Picture, previous: Picture): boolean {
    const { firstRow, rowCount, firstDot, dotCount, weight } = this.#spot;
    let rise = 0;
    for (let row = 0; row < rowCount; row++) {
      for (let dot = 0; dot < dotCount; dot++) {
        rise += weight[row * dotCount + dot]! * this.#riseAt(picture, previous, firstDot + dot, firstRow + row);
      }
    }
    return rise >= RISE;
  }

  /** Scanline of the spot's first row. */
  get firstSpotLine(): number {
    return this.#spot.firstRow;
  }

  #riseAt(picture: Picture, previous: Picture, x: number, y: number): number {
    const dot = y * PICTURE_WIDTH + x;
    return this.#light[picture.codes[dot]!]! - this.#light[previous.codes[dot]!]!;
  }

  /** Rectangle around the dots that are brighter than half way from the darkest to the brightest of the area. */
  #brightRectangle({ codes }: Picture, area: Rectangle): Rectangle | undefined {
    let [darkest, brightest] = [Number.POSITIVE_INFINITY, 0];
    forEachDot(area, (x, y) => {
      const light = this.#light[codes[y * PICTURE_WIDTH + x]!]!;
      darkest = Math.min(darkest, light);
      brightest = Math.max(brightest, light);
    });
    if (brightest - darkest < RISE) return undefined;
    const half = (darkest + brightest) / 2;
    let [left, right, top, bottom] = [PICTURE_WIDTH, -1, Number.POSITIVE_INFINITY, -1];
    forEachDot(area, (x, y) => {
      if (this.#light[codes[y * PICTURE_WIDTH + x]!]! < half) return;
      [left, right, top, bottom] = [Math.min(left, x), Math.max(right, x), Math.min(top, y), Math.max(bottom, y)];
    });
    return { x: left, y: top, width: right - left + 1, height: bottom - top + 1 };
  }

  /** The whole dots of a rectangle that lie on the screen, in the lines that are drawn. */
  #clipped({ x, y, width, height }: Rectangle): Rectangle {
    const { firstLine, lastLine } = this.#lines;
    const left = Math.max(0, Math.ceil(x));
    const top = Math.max(firstLine, Math.ceil(y));
    return {
      x: left,
      y: top,
      width: Math.max(0, Math.min(PICTURE_WIDTH, Math.ceil(x + width)) - left),
      height: Math.max(0, Math.min(lastLine + 1, Math.ceil(y + height)) - top),
    };
  }

  /** The bright dots touch the edge of the area they were looked for in, and not that of what can be seen. */
  #reachesOut(found: Rectangle, area: Rectangle): boolean {
    const { firstLine, lastLine } = this.#lines;
    const [right, bottom] = [area.x + area.width, area.y + area.height];
    return (
      (found.x === area.x && area.x > 0) ||
      (found.y === area.y && area.y > firstLine) ||
      (found.x + found.width === right && right < PICTURE_WIDTH) ||
      (found.y + found.height === bottom && bottom <= lastLine)
    );
  }

  #wireTick(picture: Picture, x: number, y: number): number {
    return picture.lineZeroTick + y * ticksPerLine(this.#timing) + (x + PIXEL_OUT_DELAY_DOTS) * this.#timing.dotDivider;
  }
}

/** Mean light of the dots of a rectangle that lie on the screen, by the light of each colour code; 0 where none does. */
export function meanLight({ codes }: Picture, { x, y, width, height }: Rectangle, light: Float64Array): number {
  let [sum, count] = [0, 0];
  for (let row = Math.max(0, Math.ceil(y)); row < Math.min(PICTURE_HEIGHT, y + height); row++) {
    for (let dot = Math.max(0, Math.ceil(x)); dot < Math.min(PICTURE_WIDTH, x + width); dot++) {
      sum += light[codes[row * PICTURE_WIDTH + dot]!]!;
      count++;
    }
  }
  return count === 0 ? 0 : sum / count;
}

/** Two pictures of the history that follow each other, if both are kept. */
export function pairAt(history: PictureHistory, index: number): [picture: Picture, previous: Picture] | undefined {
  const [picture, previous] = [history.get(index), history.get(index - 1)];
  return picture === undefined || previous === undefined ? undefined : [picture, previous];
}

function forEachDot({ x, y, width, height }: Rectangle, visit: (x: number, y: number) => void): void {
  for (let row = y; row < y + height; row++) for (let dot = x; dot < x + width; dot++) visit(dot, row);
}

const isClose = (a: Rectangle, b: Rectangle): boolean =>
  Math.max(
    Math.abs(a.x - b.x),
    Math.abs(a.y - b.y),
    Math.abs(a.x + a.width - b.x - b.width),
    Math.abs(a.y + a.height - b.y - b.height),
  ) <= TOLERANCE_DOTS;

function isAlike(a: Picture, b: Picture, { x, y, width, height }: Rectangle): boolean {
  for (let row = y; row < y + height; row++) {
    for (let dot = x; dot < x + width; dot++) {
      if (a.codes[row * PICTURE_WIDTH + dot] !== b.codes[row * PICTURE_WIDTH + dot]) return false;
    }
  }
  return true;
}
