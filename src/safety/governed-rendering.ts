import type { GovernedPlace } from './flash-governor.ts';
import { WINDOW_S } from './recent-changes.ts';
import { SteadyPicture } from './steady-picture.ts';

/** Outline: flashes are left out. Reduced: every picture, in colours that cannot flash. Full: every picture as it is. */
export type GovernedKind = 'outline' | 'reduced' | 'full';

/** A picture about to be presented; light by cell, shape `[cell * 3 + primary]`. */
export interface GovernedPicture {
  readonly light: Float64Array;
  /** The same in reduced colours. */
  readonly reduced: Float64Array;
  readonly codes: Uint16Array;
}

/** What is presented. */
export interface Presented {
  /** False: what is on the screen stays there. */
  readonly isDrawn: boolean;
  /** How it is drawn. */
  readonly rendering: GovernedKind;
  /** Full flashes were more than may be shown: the page says so, and draws outlines until it is asked for full ones again. */
  readonly isHeldBack: boolean;
}

/**
 * Chooses how pictures are presented, in any order and at any times, so that no second of it has more than 6 opposing
 * changes. When full pictures would, the picture on the screen stays until a second without changes has gone by; from then on
 * flashes are left out.
 */
export class GovernedRendering {
  readonly #picture: SteadyPicture;
  #isHeldBack = false;
  #drawnS = Number.NEGATIVE_INFINITY;

  /** `place`: of a governor that knows the full colours. `levels`: relative luminance by code, to tell steady pictures by their dots. */
  constructor(place: GovernedPlace, levels?: Float64Array) {
    this.#picture = new SteadyPicture(place, levels);
  }

  /** Full pictures are asked for again. */
  allowFull(): void {
    this.#isHeldBack = false;
  }

  /** The next picture, presented from `timeS` on. */
  present(picture: GovernedPicture, wanted: GovernedKind, timeS: number): Presented {
    const rendering = this.#isHeldBack && wanted === 'full' ? 'outline' : wanted;
    const isDrawn = this.#draws(picture, rendering, timeS);
    if (isDrawn) this.#drawnS = timeS;
    if (rendering === 'full' && !isDrawn) this.#isHeldBack = true;
    return { isDrawn, rendering, isHeldBack: this.#isHeldBack && wanted === 'full' };
  }

  /** The picture that was drawn last, once more: it stays. */
  stay(): void {
    this.#picture.stay();
  }

  #draws({ light, reduced, codes }: GovernedPicture, rendering: GovernedKind, timeS: number): boolean {
    if (rendering === 'full') return this.#picture.admits(light, timeS, codes);
    if (rendering === 'reduced') return this.#picture.admits(reduced, timeS);
    if (this.#isHeldBack && timeS - this.#drawnS <= WINDOW_S) return false;
    return this.#picture.draws(light, timeS, codes);
  }
}
