import { LatelightError } from '../errors/latelight-error.ts';
import { PICTURE_HEIGHT, PICTURE_WIDTH } from '../units/timing.ts';

/** Scanlines firstLine to lastLine, both of them; lastLine < firstLine = none. */
export interface LineRange {
  readonly firstLine: number;
  readonly lastLine: number;
}

export const ALL_LINES: LineRange = { firstLine: 0, lastLine: PICTURE_HEIGHT - 1 };

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
  /** The lines that the raster draws of this picture; the codes of all others mean nothing. */
  drawn: LineRange;
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
  /** Top left corner of the box that a flash of this target would show, where the program says it; else target - margin. */
  readonly box?: { readonly x: number; readonly y: number };
}

/** A picture as plain data. */
export interface SavedPicture {
  readonly index: number;
  readonly lineZeroTick: number;
  readonly codes: Uint16Array;
  readonly drawn: LineRange;
  readonly targets: readonly TargetRectangle[];
}

/** The pictures kept, oldest first. */
export interface PictureHistoryState {
  readonly newest: number;
  readonly pictures: readonly SavedPicture[];
}

/** Who draws the picture in progress when somebody looks at it. */
export interface PictureDrawer {
  /** See to it that every dot up to the tick of the access in progress stands in the picture. */
  drawDue(): void;
}

/** The latest pictures of the console, the only thing that the light side sees of it. */
export class PictureHistory {
  /** Number of pictures kept, the one in progress included. */
  readonly capacity: number;
  readonly #ring: Picture[];
  /** Set by a console that draws on demand; a console that draws as it goes sets none. */
  drawer: PictureDrawer | undefined;
  #newest = -1;

  constructor(capacity: number) {
    this.capacity = capacity;
    this.#ring = Array.from({ length: capacity }, () => ({
      index: -1,
      lineZeroTick: 0,
      codes: new Uint16Array(PICTURE_WIDTH * PICTURE_HEIGHT),
      drawn: ALL_LINES,
      targets: [],
    }));
  }

  /** Index of the picture in progress; -1 before the first. */
  get newest(): number {
    return this.#newest;
  }

  /** Start the next picture. Its codes still hold an old picture until the raster has written them. */
  begin(lineZeroTick: number, targets: readonly TargetRectangle[], drawn: LineRange = ALL_LINES): Picture {
    this.#newest++;
    const picture = this.#ring[this.#newest % this.capacity]!;
    picture.index = this.#newest;
    picture.lineZeroTick = lineZeroTick;
    picture.drawn = drawn;
    picture.targets = targets;
    return picture;
  }

  /** The picture of this index, or undefined when it has not begun or is no longer kept. */
  get(index: number): Picture | undefined {
    const picture = this.#ring[index % this.capacity];
    return picture !== undefined && picture.index === index ? picture : undefined;
  }

  /**
   * Save the console first: it may have to finish drawing. `drawnCodes` = how many codes of the picture in progress the
   * raster has reached; a console may have drawn more, and what lies beyond is saved as 0. `most` = save no more than the
   * latest so many, for a history that keeps no more.
   */
  save(drawnCodes: number, most = this.capacity): PictureHistoryState {
    const pictures: SavedPicture[] = [];
    for (let index = Math.max(0, this.#newest - Math.min(most, this.capacity) + 1); index <= this.#newest; index++) {
      const picture = this.get(index);
      if (picture !== undefined) pictures.push({ ...picture, codes: picture.codes.slice() });
    }
    pictures[pictures.length - 1]?.codes.fill(0, drawnCodes);
    return { newest: this.#newest, pictures };
  }

  /** Load before the console. Error: STATE_FIELD if the pictures do not fit this history. */
  load({ newest, pictures }: PictureHistoryState): void {
    const kept = Math.min(this.capacity, newest + 1);
    if (pictures.length !== kept) {
      throw new LatelightError('STATE_FIELD', { field: 'history.pictures', found: pictures.length, expected: kept });
    }
    for (const picture of this.#ring) picture.index = -1;
    this.#newest = newest;
    for (const { index, lineZeroTick, codes, drawn, targets } of pictures) {
      const place = this.#ring[index % this.capacity]!;
      place.codes.set(codes);
      Object.assign(place, { index, lineZeroTick, drawn, targets });
    }
  }
}

/** Refuse to read lines that the raster does not draw: they hold an older picture. Error: INTERNAL. */
export function checkDrawn({ index, drawn }: Picture, { firstLine, lastLine }: LineRange): void {
  if (firstLine > lastLine || (firstLine >= drawn.firstLine && lastLine <= drawn.lastLine)) return;
  const what = `lines ${firstLine}..${lastLine} of picture ${index} are read, but ${drawn.firstLine}..${drawn.lastLine} drawn`;
  throw new LatelightError('INTERNAL', { what });
}
