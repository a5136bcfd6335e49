import { isRefusal } from '../live-play.ts';
import type { CursorTimeEvent } from '../ruler/ruler-events.ts';
import type { PicturePair } from './picture-pair.ts';
import type { PlayDesk } from './play-desk.ts';

/** A picture that was held back is asked for again. */
const AGAIN_MS = 120;

/** Both pictures as they stood at the ruler's cursor; the game pauses for it. */
export class HeldInstant {
  readonly #play: PlayDesk;
  readonly #pictures: PicturePair;
  #count = 0;

  constructor(play: PlayDesk, pictures: PicturePair) {
    this.#play = play;
    this.#pictures = pictures;
  }

  follow = async ({ ms }: Pick<CursorTimeEvent, 'ms'>): Promise<void> => {
    const count = ++this.#count;
    if (ms === null || this.#play.phase === 'caution') return;
    this.#play.pause();
    const answer = await this.#play.service.still(ms, performance.now());
    // The game may have gone on, or another instant be held.
    const isLeft = () => count !== this.#count || this.#play.phase !== 'paused';
    if (isRefusal(answer) || isLeft()) return;
    this.#pictures.paint('shown', answer.shown);
    this.#pictures.paint('sent', answer.sent);
    if (answer.isHeldBack) setTimeout(() => !isLeft() && void this.follow({ ms }), AGAIN_MS);
  };
}
