import { FlashAnalyser, type ShownSize } from './flash-analyser.ts';
import { FAILING_CHANGES, FLASH_PROFILES } from './flash-profile.ts';

/**
 * Opposing changes within a second that the governor lets through. A change that began before the second may go on in it
 * without being counted again: one less than passes leaves room for that.
 */
const MOST_CHANGES = FAILING_CHANGES - 2;
const PROFILE = FLASH_PROFILES.find(({ id }) => id === 'wcag-a')!;

/**
 * Stands between pictures and the page: no second of what it admits has more than 6 opposing changes, at a place or over the
 * field. A frame that would is not shown; what is shown stays, which adds no change. The count is that of WCAG 2.2 with
 * technique G176 at the size at which the pictures are shown.
 */
export class FlashGovernor {
  #analyser: FlashAnalyser;
  readonly #most: number;

  /** `most`: fewer than 5 where several pictures share the view. `cellDots` as for the analyser. Error: PARAM_RANGE. */
  constructor(size: ShownSize, most = MOST_CHANGES, cellDots = 8) {
    this.#most = most;
    this.#analyser = new FlashAnalyser({ profile: PROFILE, size, cellDots });
  }

  /** Whether this frame may be shown from `timeS` on. If not, the frame before stays on the screen. */
  admits(light: Float64Array, timeS: number): boolean {
    const trial = this.#analyser.copy();
    trial.push(light, timeS);
    if (trial.worstChanges > this.#most) return false;
    this.#analyser = trial;
    return true;
  }
}
