import { changedShare, changedShareOfDots, luminanceOf } from './cell-luminance.ts';
import type { GovernedPlace } from './flash-governor.ts';

/**
 * A picture with more than this share of such dots, or cells, is held back at first. Our choice: moths are less, a black
 * picture more.
 */
const QUIET_SHARE = 0.03;
/** So long a picture has to stand before it replaces one that differs that much, s. Our choice: a shot of six black
 * pictures, three boxes of two and two black ones takes 0.28 s at 50 Hz; boxes are too small to be other pictures. */
const STANDS_S = 0.3;

/** What is compared: luminance of cells, and of the dots where their codes are known. */
interface Seen {
  readonly cells: Float64Array;
  readonly codes: Uint16Array | undefined;
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
    const isQuiet = this.#drawn === undefined || this.#isAlike(seen, this.#drawn);
    if (!isQuiet && !this.#hasStood(seen, timeS)) return false;
    return this.#admits(light, seen, timeS, codes);
  }

  /** Whether this frame is to be drawn where it need not be steady. */
  admits(light: Float64Array, timeS: number, codes?: Uint16Array): boolean {
    return this.#admits(light, this.#see(light, codes), timeS, codes);
  }

  /** The picture that is drawn is the frame once more: it stays, and what waited no longer does. */
  stay(): void {
    this.#waiting = undefined;
  }

  #see(light: Float64Array, codes: Uint16Array | undefined): Seen {
    return { cells: luminanceOf(light), codes: this.#levels === undefined ? undefined : codes?.slice() };
  }

  /** Boards change all of their dots and none of their means: cells alone do not tell. */
  #isAlike(a: Seen, b: Seen): boolean {
    if (changedShare(a.cells, b.cells) > QUIET_SHARE) return false;
    if (this.#levels === undefined || a.codes === undefined || b.codes === undefined) return true;
    return changedShareOfDots(a.codes, b.codes, this.#levels) <= QUIET_SHARE;
  }

  #admits(light: Float64Array, seen: Seen, timeS: number, codes: Uint16Array | undefined): boolean {
    if (!this.#place.admits(light, timeS, codes)) return false;
    this.#drawn = seen;
    this.#waiting = undefined;
    return true;
  }

  #hasStood(seen: Seen, timeS: number): boolean {
    if (this.#waiting === undefined || !this.#isAlike(seen, this.#waiting)) this.#sinceS = timeS;
    this.#waiting = seen;
    return timeS - this.#sinceS >= STANDS_S;
  }
}
