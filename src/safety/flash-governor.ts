import { FlashAnalyser, type ShownSize } from './flash-analyser.ts';
import { FLASH_PROFILES } from './flash-profile.ts';

/** Opposing changes within a second that the governor lets through: one less than fails. */
const MOST_CHANGES = 6;
/** The strictest profile: any area, any change that can be seen. */
const STRICTEST = FLASH_PROFILES.find(({ id }) => id === 'wcag-aaa')!;

/**
 * Stands between pictures and the page: a frame that would make more than 6 opposing changes within any second, at any
 * place or in any field, is not shown; what is shown stays, which adds no change. Our law, stricter than the published
 * limits.
 */
export class FlashGovernor {
  #analyser: FlashAnalyser;

  /** `cellDots` as for the analyser. Error: PARAM_RANGE. */
  constructor(size: ShownSize, cellDots = 8) {
    this.#analyser = new FlashAnalyser({ profile: STRICTEST, size, cellDots });
  }

  /** Whether this frame may be shown from `timeS` on. If not, the frame before stays on the screen. */
  admits(light: Float64Array, timeS: number): boolean {
    const trial = this.#analyser.copy();
    trial.push(light, timeS);
    if (trial.worstChanges > MOST_CHANGES) return false;
    this.#analyser = trial;
    return true;
  }
}
