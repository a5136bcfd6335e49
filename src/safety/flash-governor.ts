import { type FineFlashes, fineFlashesOf } from './fine-flashes.ts';
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
 * technique G176 at the size at which the pictures are shown. It does not ask where frames come from: steps, scrubbing and
 * playing backwards are frames at times as well.
 */
export class FlashGovernor {
  #analyser: FlashAnalyser;
  /** Dot by dot, where codes are given. */
  #fine: FineFlashes[];
  readonly #most: number;

  /**
   * `most`: fewer than 5 where several pictures share the view. `cellDots` as for the analyser. `bytes`: sRGB by code, to
   * govern fine patterns too. Error: PARAM_RANGE.
   */
  constructor(size: ShownSize, most = MOST_CHANGES, cellDots = 8, bytes?: Uint8Array) {
    this.#most = most;
    this.#analyser = new FlashAnalyser({ profile: PROFILE, size, cellDots });
    this.#fine = bytes === undefined ? [] : fineFlashesOf(PROFILE, size, bytes);
  }

  /** Whether this frame may be shown from `timeS` on. If not, the frame before stays on the screen. */
  admits(light: Float64Array, timeS: number, codes?: Uint16Array): boolean {
    const trial = this.#analyser.copy();
    trial.push(light, timeS);
    if (trial.worstChanges > this.#most) return false;
    const fine = codes === undefined ? this.#fine : this.#fine.map((one) => tried(one, codes, timeS));
    if (fine.some((one) => one.worst.changes > this.#most)) return false;
    this.#analyser = trial;
    this.#fine = fine;
    return true;
  }
}

/** A copy that has seen the picture. */
function tried(fine: FineFlashes, codes: Uint16Array, timeS: number): FineFlashes {
  const trial = fine.copy();
  trial.push(codes, timeS);
  return trial;
}
