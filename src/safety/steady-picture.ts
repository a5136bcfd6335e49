import { changedShare, luminanceOf } from './cell-luminance.ts';
import type { GovernedPlace } from './flash-governor.ts';

/** A picture with more than this share of such cells is held back at first. Our choice: moths are less, a black picture more. */
const QUIET_SHARE = 0.03;
/** So long a picture has to stand before it replaces one that differs that much, s. Our choice: a shot of six black
 * pictures, three boxes of two and two black ones takes 0.28 s at 50 Hz; boxes are too small to be other pictures. */
const STANDS_S = 0.3;

/**
 * Decides which pictures of a game are drawn where no flash is wanted: pictures that change little are drawn at once, those
 * that change much only when they stay; whatever comes through passes the governor as well.
 */
export class SteadyPicture {
  readonly #place: GovernedPlace;
  #drawn: Float64Array | undefined;
  /** The picture that waits, and since when it stands. */
  #waiting: Float64Array | undefined;
  #sinceS = 0;

  constructor(place: GovernedPlace) {
    this.#place = place;
  }

  /**
   * Whether this frame is to be drawn; else what is drawn stays. Light by cell, shape `[cell * 3 + primary]`. `codes` as for
   * the governor.
   */
  draws(light: Float64Array, timeS: number, codes?: Uint16Array): boolean {
    const luminance = luminanceOf(light);
    const isQuiet = this.#drawn === undefined || changedShare(luminance, this.#drawn) <= QUIET_SHARE;
    if (!isQuiet && !this.#hasStood(luminance, timeS)) return false;
    return this.#admits(light, luminance, timeS, codes);
  }

  /** Whether this frame is to be drawn where it need not be steady. */
  admits(light: Float64Array, timeS: number, codes?: Uint16Array): boolean {
    return this.#admits(light, luminanceOf(light), timeS, codes);
  }

  #admits(light: Float64Array, luminance: Float64Array, timeS: number, codes: Uint16Array | undefined): boolean {
    if (!this.#place.admits(light, timeS, codes)) return false;
    this.#drawn = luminance;
    this.#waiting = undefined;
    return true;
  }

  #hasStood(luminance: Float64Array, timeS: number): boolean {
    if (this.#waiting === undefined || changedShare(luminance, this.#waiting) > QUIET_SHARE) this.#sinceS = timeS;
    this.#waiting = luminance;
    return timeS - this.#sinceS >= STANDS_S;
  }
}
