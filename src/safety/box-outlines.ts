import { PICTURE_HEIGHT, PICTURE_WIDTH } from '../units/timing.ts';
import type { GovernedPlace } from './flash-governor.ts';
import { WINDOW_S } from './recent-changes.ts';

/** A box on a picture, dots. */
export interface OutlinedBox {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** Colour of an outline, and of the rim on both sides of it. */
export const LINE_COLOUR = [255, 182, 92] as const;
export const RIM_COLOUR = [0, 0, 0] as const;
/** So far they reach to each side of a box's edge, dots; a page's lines are finer. Our choice. */
const LINE_DOTS = 1;
const RIM_DOTS = 2;
/**
 * Outlines that are longer than this, dots, change only so often within a second. Lines on the borders of cells spread over two
 * of them, and their means hide what cells that lie elsewhere would show. Our choice: at the page's size, with cells of 8 dots on
 * both sides, that is half of the area that counts, which leaves the other half to the picture beside it.
 */
const MOST_LENGTH = 480;
const MOST_CHANGES = 2;
const CELL = 8;
const CELL_AREA = CELL * CELL;
const COLUMNS = PICTURE_WIDTH / CELL;

/** Tell every dot that outlines cover, in the order in which they are drawn: `isLine`, else it is the rim of one. */
export function eachOutlineDot(boxes: readonly OutlinedBox[], take: (dot: number, isLine: boolean) => void): void {
  for (const box of boxes) {
    eachEdgeDot(box, RIM_DOTS, (dot) => take(dot, false));
    eachEdgeDot(box, LINE_DOTS, (dot) => take(dot, true));
  }
}

/** Dots no farther than `reach` from the edge of a box. */
function eachEdgeDot({ x, y, width, height }: OutlinedBox, reach: number, take: (dot: number) => void): void {
  const [left, right] = [Math.round(x) - reach, Math.round(x + width) + reach];
  const [top, bottom] = [Math.round(y) - reach, Math.round(y + height) + reach];
  for (let row = Math.max(0, top); row < Math.min(PICTURE_HEIGHT, bottom); row++) {
    const isAcross = row < top + 2 * reach || row >= bottom - 2 * reach;
    for (let column = Math.max(0, left); column < Math.min(PICTURE_WIDTH, right); column++)
      if (isAcross || column < left + 2 * reach || column >= right - 2 * reach) take(row * PICTURE_WIDTH + column);
  }
}

/** How outlines are drawn: codes of their colours, in the table that the pictures' codes are in; linear light of the line. */
export interface OutlineColours {
  readonly line: number;
  readonly rim: number;
  readonly lineLight: readonly [red: number, green: number, blue: number];
}

/** What is asked of a governor is what is seen: pictures with the outlines that are drawn over them. */
export class OutlinedPlace implements GovernedPlace {
  readonly #place: GovernedPlace;
  readonly #colours: OutlineColours;
  #wanted: readonly OutlinedBox[] = [];
  #shown: readonly OutlinedBox[] = [];
  /** When those on the screen changed within the last second, s. */
  #changedS: number[] = [];
  /** The picture on the screen, without its outlines. */
  #picture: { readonly light: Float64Array; readonly codes: Uint16Array | undefined } | undefined;

  constructor(place: GovernedPlace, colours: OutlineColours) {
    this.#place = place;
    this.#colours = colours;
  }

  /** Outlines on the screen. */
  get shown(): readonly OutlinedBox[] {
    return this.#shown;
  }

  /** Outlines that the next picture is to have. */
  want(boxes: readonly OutlinedBox[]): void {
    this.#wanted = boxes;
  }

  admits(light: Float64Array, timeS: number, codes?: Uint16Array): boolean {
    const boxes = this.#mayChange(timeS) ? this.#wanted : this.#shown;
    const seen = this.#outlined(light, codes, boxes);
    if (!this.#place.admits(seen.light, timeS, seen.codes)) return false;
    if (!areSame(boxes, this.#shown)) this.#changedS.push(timeS);
    this.#shown = boxes;
    this.#picture = { light: light.slice(), codes: codes?.slice() };
    return true;
  }

  /** Whether the outlines may become the wanted ones. */
  #mayChange(timeS: number): boolean {
    this.#changedS = this.#changedS.filter((changedS) => timeS - changedS <= WINDOW_S);
    return this.#changedS.length < MOST_CHANGES || lengthOf(this.#wanted) + lengthOf(this.#shown) <= MOST_LENGTH;
  }

  /** The picture stays: its outlines become the wanted ones, unless they would change too much too often. */
  follow(timeS: number): void {
    if (this.#picture === undefined || areSame(this.#wanted, this.#shown) || !this.#mayChange(timeS)) return;
    this.admits(this.#picture.light, timeS, this.#picture.codes);
  }

  #outlined(light: Float64Array, codes: Uint16Array | undefined, boxes: readonly OutlinedBox[]) {
    if (boxes.length === 0) return { light, codes };
    const { line, rim, lineLight } = this.#colours;
    const drawn = codes?.slice() ?? new Uint16Array(PICTURE_WIDTH * PICTURE_HEIGHT).fill(rim);
    const lines = new Uint8Array(light.length / 3);
    const covered = new Uint8Array(light.length / 3);
    // Whether it is a line; a later box covers an earlier one.
    const marks = new Map<number, boolean>();
    eachOutlineDot(boxes, (dot, isLine) => marks.set(dot, isLine));
    for (const [dot, isLine] of marks) {
      drawn[dot] = isLine ? line : rim;
      const row = Math.floor(dot / PICTURE_WIDTH);
      const cell = Math.floor(row / CELL) * COLUMNS + Math.floor((dot - row * PICTURE_WIDTH) / CELL);
      covered[cell]!++;
      if (isLine) lines[cell]!++;
    }
    // What a cell's dots are apart from the outline is taken for its mean.
    const mixed = light.slice();
    for (let at = 0; at < mixed.length; at++) {
      const cell = Math.floor(at / 3);
      const part = lines[cell]! / CELL_AREA;
      mixed[at] = mixed[at]! * (1 - covered[cell]! / CELL_AREA) + lineLight[at % 3]! * part;
    }
    return { light: mixed, codes: drawn };
  }
}

const lengthOf = (boxes: readonly OutlinedBox[]): number =>
  boxes.reduce((sum, { width, height }) => sum + 2 * (width + height), 0);

const areSame = (a: readonly OutlinedBox[], b: readonly OutlinedBox[]): boolean =>
  a.length === b.length &&
  a.every(({ x, y, width, height }, i) => {
    const other = b[i]!;
    return x === other.x && y === other.y && width === other.width && height === other.height;
  });
