import { displayBytes } from '../references/palette.ts';
import type { WorstFlash } from '../safety/flash-analyser.ts';
import { byteOf, linearOf } from '../safety/flash-colour.ts';
import type { FlashProfile } from '../safety/flash-profile.ts';
import { FlashWatch, type StreamVerdict } from '../safety/flash-watch.ts';
import { PICTURE_HEIGHT, PICTURE_WIDTH } from '../units/timing.ts';
import type { FlashPicture } from './flash-check.api.ts';

/** Edge of a cell, dots, and how many of them a picture has. */
export const CELL_DOTS = 8;
export const CELL_COLUMNS = PICTURE_WIDTH / CELL_DOTS;
export const CELL_ROWS = PICTURE_HEIGHT / CELL_DOTS;
const CELLS = CELL_COLUMNS * CELL_ROWS;

export interface PresentedBox {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** What a surface shows. */
export interface ShownPicture {
  /** Mean linear light of its cells. Shape: `[cell * 3 + primary]`. */
  readonly light: Float64Array;
  /** Colour of each dot, by `PageColours`. */
  readonly codes: Uint16Array;
}

/** A picture of the page, made of its cells. */
export type PagePicture = Omit<FlashPicture, 'timeS'>;

/** The colours that the page's pictures are drawn in: the console's, and greys. */
const PAGE_BYTES = Uint8Array.from([
  ...displayBytes(false),
  ...Array.from({ length: 256 }, (_, k) => [255 - k, 255 - k, 255 - k]).flat(),
]);

/** Bytes of a colour. */
export type PageColour = readonly [red: number, green: number, blue: number];

/** What there is where no picture is. */
export function groundOf(colour: PageColour, colours: PageColours): ShownPicture {
  return {
    light: Float64Array.from({ length: 3 * CELLS }, (_, at) => linearOf(colour[at % 3]!)),
    codes: new Uint16Array(PICTURE_WIDTH * PICTURE_HEIGHT).fill(colours.codeOf(...colour)),
  };
}

/** Codes of colours. A colour that is none of the page's gets the code of the nearest. */
export class PageColours {
  /** By red, green and blue in one number. */
  readonly #codes = new Map<number, number>();

  codeOf(red: number, green: number, blue: number): number {
    const key = red * 65_536 + green * 256 + blue;
    const known = this.#codes.get(key);
    if (known !== undefined) return known;
    // Pictures in any colours do not fill the memory.
    if (this.#codes.size === MOST_COLOURS) this.#codes.clear();
    const code = nearest(red, green, blue);
    this.#codes.set(key, code);
    return code;
  }
}

const MOST_COLOURS = 4096;

function nearest(red: number, green: number, blue: number): number {
  let [least, code] = [Number.POSITIVE_INFINITY, 0];
  for (let at = 0; at < PAGE_BYTES.length; at += 3) {
    const [r, g, b] = [PAGE_BYTES[at]! - red, PAGE_BYTES[at + 1]! - green, PAGE_BYTES[at + 2]! - blue];
    const distance = r * r + g * g + b * b;
    if (distance < least) [least, code] = [distance, at / 3];
  }
  return code;
}

/** A surface in cells of the page. */
interface Patch {
  readonly column: number;
  readonly row: number;
  readonly columns: number;
  readonly rows: number;
  /** What of it is in the picture of the page. */
  shown: ShownPicture | undefined;
}

/**
 * The page as it lies while its surfaces stay where they are: one picture of them all, watched for flashes. A cell of the page
 * is as large as one of the largest surface, so that pictures of one size keep every dot and their true area; smaller ones
 * lie in cells by their middles. Places are rounded to cells.
 */
export class PageLayout {
  readonly #columns: number;
  readonly #rows: number;
  readonly #patches: ReadonlyMap<string, Patch>;
  readonly #light: Float64Array;
  readonly #codes: Uint16Array;
  readonly #changed: Uint8Array;
  readonly #watch: FlashWatch<PagePicture>;
  readonly #dotWidth: number;
  readonly #dotHeight: number;

  /** `ground`: what shows between and beside the surfaces. `before`: the layout that this one follows. */
  constructor(
    boxes: ReadonlyMap<string, PresentedBox>,
    profiles: readonly FlashProfile[],
    ground: ShownPicture,
    before?: PageLayout,
  ) {
    const all = [...boxes.values()];
    const [left, top] = [Math.min(...all.map(({ x }) => x)), Math.min(...all.map(({ y }) => y))];
    const cellWidth = Math.max(...all.map(({ width }) => width)) / CELL_COLUMNS;
    const cellHeight = Math.max(...all.map(({ height }) => height)) / CELL_ROWS;
    this.#patches = new Map(
      [...boxes].map(([name, { x, y, width, height }]) => [
        name,
        {
          column: Math.round((x - left) / cellWidth),
          row: Math.round((y - top) / cellHeight),
          columns: Math.max(1, Math.round(width / cellWidth)),
          rows: Math.max(1, Math.round(height / cellHeight)),
          shown: undefined,
        },
      ]),
    );
    this.#dotWidth = cellWidth / CELL_DOTS;
    this.#dotHeight = cellHeight / CELL_DOTS;
    const patches = [...this.#patches.values()];
    this.#columns = Math.max(...patches.map(({ column, columns }) => column + columns));
    this.#rows = Math.max(...patches.map(({ row, rows }) => row + rows));
    const cells = this.#columns * this.#rows;
    this.#light = Float64Array.from({ length: 3 * cells }, (_, at) => ground.light[at % 3]!);
    this.#codes = new Uint16Array(cells * CELL_DOTS ** 2).fill(ground.codes[0]!);
    this.#changed = new Uint8Array(cells);
    this.#watch = new FlashWatch({
      profiles,
      size: { scale: this.#dotHeight, pixelAspect: this.#dotWidth / this.#dotHeight },
      raster: { width: this.#columns * CELL_DOTS, height: this.#rows * CELL_DOTS },
      bytes: PAGE_BYTES,
      ...(before && { before: before.#watch }),
    });
  }

  /** What the surfaces show from `timeS` on. */
  push(shown: ReadonlyMap<string, ShownPicture>, timeS: number): void {
    this.#changed.fill(0);
    const before = this.#light.slice();
    for (const [name, patch] of this.#patches) {
      const picture = shown.get(name)!;
      if (picture === patch.shown) continue;
      patch.shown = picture;
      this.#put(patch, picture);
    }
    this.#watch.push({
      light: this.#light,
      codes: this.#codes,
      changed: this.#changed,
      timeS,
      picture: () => this.#pictureOf(this.#light),
      before: () => this.#pictureOf(before),
    });
  }

  #put({ column, row, columns, rows }: Patch, { light, codes }: ShownPicture): void {
    for (let y = 0; y < rows; y++)
      for (let x = 0; x < columns; x++) {
        const cell = (row + y) * this.#columns + column + x;
        const from = middle(y, rows, CELL_ROWS) * CELL_COLUMNS + middle(x, columns, CELL_COLUMNS);
        this.#light.set(light.subarray(3 * from, 3 * from + 3), 3 * cell);
        this.#changed[cell] = 1;
      }
    const [width, height] = [columns * CELL_DOTS, rows * CELL_DOTS];
    for (let y = 0; y < height; y++) {
      const line = middle(y, height, PICTURE_HEIGHT) * PICTURE_WIDTH;
      const to = ((row * CELL_DOTS + y) * this.#columns + column) * CELL_DOTS;
      for (let x = 0; x < width; x++) this.#codes[to + x] = codes[line + middle(x, width, PICTURE_WIDTH)]!;
    }
  }

  #pictureOf(light: Float64Array): PagePicture {
    const rgba = new Uint8ClampedArray((4 * light.length) / 3).fill(255);
    for (let cell = 0; cell < light.length / 3; cell++)
      for (let primary = 0; primary < 3; primary++) rgba[4 * cell + primary] = byteOf(light[3 * cell + primary]!);
    return { width: this.#columns, height: this.#rows, rgba };
  }

  /** What was found; places in CSS pixels. */
  verdicts(): StreamVerdict<PagePicture>[] {
    return this.#watch.verdicts().map((verdict) => ({
      ...verdict,
      worst: verdict.worst.map(this.#inPixels),
      scenes: verdict.scenes.map((scene) => ({ ...scene, worst: scene.worst.map(this.#inPixels) })),
    }));
  }

  #inPixels = (worst: WorstFlash): WorstFlash => {
    const { x, y, width, height } = worst.block;
    const [across, down] = [this.#dotWidth, this.#dotHeight];
    return {
      ...worst,
      block: {
        x: Math.round(x * across),
        y: Math.round(y * down),
        width: Math.round(width * across),
        height: Math.round(height * down),
      },
    };
  };
}

/** Which of `of` parts lies at the middle of the k-th of `parts`. */
const middle = (k: number, parts: number, of: number): number => Math.floor(((k + 0.5) * of) / parts);
