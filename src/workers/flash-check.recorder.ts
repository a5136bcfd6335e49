import { byteOf, linearOf } from '../safety/flash-colour.ts';
import { FLASH_PROFILES, type FlashProfile } from '../safety/flash-profile.ts';
import { FlashWatch, type StreamVerdict } from '../safety/flash-watch.ts';
import { PICTURE_HEIGHT, PICTURE_WIDTH } from '../units/timing.ts';
import type { FlashPicture, FlashStream } from './flash-check.api.ts';
import { joinedVerdicts } from './flash-check.joined.ts';
import { streamData } from './flash-check.stream.ts';

/** A picture that the page presents. */
export interface PresentedPicture {
  /** Which of the page's pictures it is: a new one of the same name takes its place. */
  readonly surface: string;
  /** Where and how large it is, CSS pixels from an origin that all surfaces share. */
  readonly box: PresentedBox;
  /** From when on, ms; later than or at the same time as what was presented before. */
  readonly timeMs: number;
  /** 256 x 240 dots, 4 bytes each. */
  readonly rgba: Uint8ClampedArray;
}

export interface PresentedBox {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** Edge of a cell of the page, CSS pixels, and of one of a picture, dots. */
const CELL_PX = 8;
const CELL_DOTS = 8;
const COLUMNS = PICTURE_WIDTH / CELL_DOTS;
const CELLS = COLUMNS * (PICTURE_HEIGHT / CELL_DOTS);
/** What was presented is kept so long, s: it counts at the new size when sizes change. */
const KEPT_S = 1;
const LINEAR = Float64Array.from({ length: 256 }, (_, byte) => linearOf(byte));

/** A picture of the page, made of its cells. */
type PagePicture = Omit<FlashPicture, 'timeS'>;

interface Surface {
  readonly box: PresentedBox;
  /** The dots presented now, and the mean light of their cells. */
  readonly dots: Uint32Array;
  readonly light: Float64Array;
}

interface Kept {
  readonly surface: string;
  readonly timeS: number;
  readonly light: Float64Array;
}

/** The page's cells, and for each where in which surface its light is. */
interface Layout {
  readonly columns: number;
  readonly rows: number;
  readonly surfaces: readonly string[];
  /** Surface and first value of its light by cell; -1 where there is none. */
  readonly surfaceOf: Int16Array;
  readonly lightAt: Int32Array;
  readonly watch: FlashWatch<PagePicture>;
}

/**
 * Records what a page presents, at its size and speed, and holds it against published limits: the second of the two streams.
 * Several pictures add up where they are close together. Memory does not grow; a picture costs well below 1 ms.
 */
export class PageFlashRecorder {
  readonly #profiles: readonly FlashProfile[];
  readonly #surfaces = new Map<string, Surface>();
  #layout: Layout | undefined;
  #kept: Kept[] = [];
  /** Presented, but not counted yet: others may be presented at the same time. */
  #pendingS: number | undefined;
  #fromS: number | undefined;
  #timeS = 0;
  #pictures = 0;
  /** What was found at earlier sizes. */
  #past: StreamVerdict<PagePicture>[] = [];

  /** `profiles`: ids. */
  constructor(profiles: readonly string[] = ['wcag-a']) {
    this.#profiles = FLASH_PROFILES.filter(({ id }) => profiles.includes(id));
  }

  /** The page presents a picture. */
  present({ surface, box, timeMs, rgba }: PresentedPicture): void {
    const timeS = Math.max(this.#timeS, timeMs / 1000);
    if (this.#pendingS !== undefined && timeS > this.#pendingS) this.#count();
    this.#timeS = timeS;
    this.#fromS ??= timeS;
    this.#pictures++;
    const before = this.#surfaces.get(surface);
    const light = before?.light ?? new Float64Array(3 * CELLS);
    const dots = before?.dots ?? new Uint32Array(PICTURE_WIDTH * PICTURE_HEIGHT);
    const hasChanged = takeLight(rgba, dots, light, before === undefined);
    this.#surfaces.set(surface, { box, dots, light });
    if (before === undefined || !isSameBox(before.box, box)) this.#layOut();
    if (hasChanged) this.#kept.push({ surface, timeS, light: light.slice() });
    this.#pendingS = timeS;
  }

  /** A picture is no longer on the page. */
  remove(surface: string): void {
    if (!this.#surfaces.delete(surface)) return;
    this.#count();
    this.#kept = this.#kept.filter((kept) => kept.surface !== surface);
    this.#layOut();
  }

  /** What was found so far. */
  report(): FlashStream {
    this.#count();
    const verdicts = joinedVerdicts(this.#past, this.#layout?.watch.verdicts() ?? []);
    const seconds = this.#timeS - (this.#fromS ?? this.#timeS);
    return streamData({
      stream: 'This page',
      watched: `${seconds.toFixed(1)} s, ${this.#pictures} pictures, at the sizes at which they were shown`,
      verdicts,
      stripes: null,
      unit: 'CSS pixels',
      shown: (picture) => picture,
    });
  }

  /** Surfaces have moved or changed size: what was presented within the last second is counted as they lie now. */
  #layOut(): void {
    if (this.#layout !== undefined) this.#past = joinedVerdicts(this.#past, this.#layout.watch.verdicts());
    this.#layout = this.#surfaces.size === 0 ? undefined : layoutOf(this.#surfaces, this.#profiles);
    if (this.#layout === undefined) return;
    this.#forget();
    const lights = new Map([...this.#surfaces].map(([name]) => [name, this.#firstKept(name)]));
    for (const [i, { surface, timeS, light }] of this.#kept.entries()) {
      lights.set(surface, light);
      if (this.#kept[i + 1]?.timeS !== timeS) push(this.#layout, lights, timeS);
    }
  }

  /** The oldest light kept of a surface, for the time before the others were presented. */
  #firstKept(surface: string): Float64Array {
    return this.#kept.find((kept) => kept.surface === surface)?.light ?? this.#surfaces.get(surface)!.light;
  }

  #forget(): void {
    this.#kept = this.#kept.filter(({ timeS }) => this.#timeS - timeS <= KEPT_S);
  }

  #count(): void {
    if (this.#pendingS === undefined || this.#layout === undefined) return;
    const lights = new Map([...this.#surfaces].map(([name, { light }]) => [name, light]));
    push(this.#layout, lights, this.#pendingS);
    this.#pendingS = undefined;
    this.#forget();
  }
}

const isSameBox = (a: PresentedBox, b: PresentedBox): boolean =>
  a.x === b.x && a.y === b.y && a.width === b.width && a.height === b.height;

/** Take the dots, and the light of the cells that they change. Answers whether any does. */
function takeLight(rgba: Uint8ClampedArray, dots: Uint32Array, light: Float64Array, isFirst: boolean): boolean {
  const next = new Uint32Array(rgba.buffer, rgba.byteOffset, dots.length);
  let hasChanged = false;
  for (let cell = 0; cell < CELLS; cell++) {
    const row = Math.floor(cell / COLUMNS);
    const first = row * CELL_DOTS * PICTURE_WIDTH + (cell - row * COLUMNS) * CELL_DOTS;
    if (!isFirst && isSameCell(dots, next, first)) continue;
    sumCell(rgba, first, light, 3 * cell);
    hasChanged = true;
  }
  if (hasChanged) dots.set(next);
  return hasChanged;
}

function isSameCell(before: Uint32Array, after: Uint32Array, first: number): boolean {
  for (let line = 0; line < CELL_DOTS; line++) {
    const start = first + line * PICTURE_WIDTH;
    for (let at = start; at < start + CELL_DOTS; at++) if (before[at] !== after[at]) return false;
  }
  return true;
}

function sumCell(rgba: Uint8ClampedArray, first: number, light: Float64Array, to: number): void {
  let [red, green, blue] = [0, 0, 0];
  for (let line = 0; line < CELL_DOTS; line++) {
    const start = 4 * (first + line * PICTURE_WIDTH);
    for (let at = start; at < start + 4 * CELL_DOTS; at += 4) {
      red += LINEAR[rgba[at]!]!;
      green += LINEAR[rgba[at + 1]!]!;
      blue += LINEAR[rgba[at + 2]!]!;
    }
  }
  const dots = CELL_DOTS * CELL_DOTS;
  light[to] = red / dots;
  light[to + 1] = green / dots;
  light[to + 2] = blue / dots;
}

/** A cell of the page shows the surface that its middle lies in. */
function layoutOf(surfaces: ReadonlyMap<string, Surface>, profiles: readonly FlashProfile[]): Layout {
  const boxes = [...surfaces.values()].map(({ box }) => box);
  const left = Math.min(...boxes.map(({ x }) => x));
  const top = Math.min(...boxes.map(({ y }) => y));
  const columns = cellsIn(Math.max(...boxes.map(({ x, width }) => x + width)) - left);
  const rows = cellsIn(Math.max(...boxes.map(({ y, height }) => y + height)) - top);
  const surfaceOf = new Int16Array(columns * rows).fill(-1);
  const lightAt = new Int32Array(columns * rows);
  for (let cell = 0; cell < columns * rows; cell++) {
    const x = left + ((cell % columns) + 0.5) * CELL_PX;
    const y = top + (Math.floor(cell / columns) + 0.5) * CELL_PX;
    const i = boxes.findIndex((box) => x >= box.x && x < box.x + box.width && y >= box.y && y < box.y + box.height);
    if (i === -1) continue;
    surfaceOf[cell] = i;
    lightAt[cell] = 3 * pictureCellAt(boxes[i]!, x, y);
  }
  const raster = { width: columns * CELL_PX, height: rows * CELL_PX };
  const watch = new FlashWatch<PagePicture>({ profiles, size: { scale: 1, pixelAspect: 1 }, raster });
  return { columns, rows, surfaces: [...surfaces.keys()], surfaceOf, lightAt, watch };
}

const cellsIn = (px: number): number => Math.max(1, Math.ceil(px / CELL_PX));

function pictureCellAt({ x, y, width, height }: PresentedBox, atX: number, atY: number): number {
  const column = Math.floor(((atX - x) / width) * COLUMNS);
  const row = Math.floor(((atY - y) / height) * (CELLS / COLUMNS));
  return row * COLUMNS + column;
}

/** The page as it is presented from `timeS` on. */
function push(layout: Layout, lights: ReadonlyMap<string, Float64Array>, timeS: number): void {
  const { columns, rows, surfaces, surfaceOf, lightAt, watch } = layout;
  const bySurface = surfaces.map((name) => lights.get(name)!);
  const light = new Float64Array(3 * columns * rows);
  for (let cell = 0; cell < columns * rows; cell++) {
    const surface = surfaceOf[cell]!;
    if (surface === -1) continue;
    const from = bySurface[surface]!;
    const at = lightAt[cell]!;
    light[3 * cell] = from[at]!;
    light[3 * cell + 1] = from[at + 1]!;
    light[3 * cell + 2] = from[at + 2]!;
  }
  watch.push({ light, timeS, picture: () => pictureOf(light, columns, rows) });
}

function pictureOf(light: Float64Array, width: number, height: number): PagePicture {
  const rgba = new Uint8ClampedArray(4 * width * height).fill(255);
  for (let cell = 0; cell < width * height; cell++)
    for (let primary = 0; primary < 3; primary++) rgba[4 * cell + primary] = byteOf(light[3 * cell + primary]!);
  return { width, height, rgba };
}
