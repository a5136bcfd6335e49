import { changedShare, luminanceOf } from './cell-luminance.ts';
import type { GovernedPlace } from './flash-governor.ts';

/**
 * A picture with more than this share of such dots, or cells, is held back at first. Our choice: moths are less, a black
 * picture more.
 */
const QUIET_SHARE = 0.03;
/** So long a picture has to stand before it replaces one that differs that much, s. Our choice: a shot of six black
 * pictures, three boxes of two and two black ones takes 0.28 s at 50 Hz; boxes are too small to be other pictures. */
const STANDS_S = 0.3;

/** What is compared: luminance of the dots where they are known, else of cells. */
interface Seen {
  readonly cells: Float64Array;
  readonly dots: Float64Array | undefined;
}

/**
 * Decides which pictures of a game are drawn where no flash is wanted: pictures that change little are drawn at once, those
 * that change much only when they stay; whatever comes through passes the governor as well.
 */
export class SteadyPicture {
  readonly #place: GovernedPlace;
  readonly #levels: Float64Array | undefined;
  #drawn: Seen | undefined;
  /** The picture that waits, and since when it stands. */
  #waiting: Seen | undefined;
  #sinceS = 0;

  /** `levels`: relative luminance by code, where pictures come with their codes. */
  constructor(place: GovernedPlace, levels?: Float64Array) {
    this.#place = place;
    this.#levels = levels;
  }

  /**
   * Whether this frame is to be drawn; else what is drawn stays. Light by cell, shape `[cell * 3 + primary]`. `codes` as for
   * the governor.
   */
  draws(light: Float64Array, timeS: number, codes?: Uint16Array): boolean {
    const seen = this.#see(light, codes);
    const isQuiet = this.#drawn === undefined || isAlike(seen, this.#drawn);
    if (!isQuiet && !this.#hasStood(seen, timeS)) return false;
    return this.#admits(light, seen, timeS, codes);
  }

  /** Whether this frame is to be drawn where it need not be steady. */
  admits(light: Float64Array, timeS: number, codes?: Uint16Array): boolean {
    return this.#admits(light, this.#see(light, codes), timeS, codes);
  }

  #see(light: Float64Array, codes: Uint16Array | undefined): Seen {
    const levels = this.#levels;
    const cells = luminanceOf(light);
    if (levels === undefined || codes === undefined) return { cells, dots: undefined };
    const dots = new Float64Array(codes.length);
    for (let dot = 0; dot < dots.length; dot++) dots[dot] = levels[codes[dot]!]!;
    return { cells, dots };
  }

  #admits(light: Float64Array, seen: Seen, timeS: number, codes: Uint16Array | undefined): boolean {
    if (!this.#place.admits(light, timeS, codes)) return false;
    this.#drawn = seen;
    this.#waiting = undefined;
    return true;
  }

  #hasStood(seen: Seen, timeS: number): boolean {
    if (this.#waiting === undefined || !isAlike(seen, this.#waiting)) this.#sinceS = timeS;
    this.#waiting = seen;
    return timeS - this.#sinceS >= STANDS_S;
  }
}

/** Boards change all of their dots and none of their means: cells alone do not tell. */
const isAlike = (a: Seen, b: Seen): boolean =>
  changedShare(a.cells, b.cells) <= QUIET_SHARE &&
  (a.dots === undefined || b.dots === undefined || changedShare(a.dots, b.dots) <= QUIET_SHARE);
