import './shot-comparison.ts';
import { html, nothing } from 'lit';
import type { HeldInstant } from '../bench/held-instant.ts';
import type { ShotDesk } from '../bench/shot-desk.ts';
import type { LoggedShot } from '../bench/shot-log.ts';
import type { CursorTimeEvent } from '../ruler/ruler-events.ts';
import type { KeptShot } from './kept-shot.ts';

export interface RulerSectionParts {
  readonly shots: ShotDesk;
  readonly kept: KeptShot;
  readonly held: HeldInstant;
  /** undefined: none is kept any more. */
  readonly keep: (shot: LoggedShot | undefined) => void;
}

/** The ruler of the latest shot; where a shot is kept, both on one time. */
export function rulerSection({ shots, kept, held, keep }: RulerSectionParts) {
  const now = shots.latest?.lanes === null ? undefined : shots.latest;
  if (kept.shot !== undefined) return comparison(kept.shot, now);
  if (now === undefined) return nothing;
  return html`
    <section class="ruler" aria-label="the light of this shot">
      <time-ruler .lanes=${now.lanes} .marks=${now.marks} .detail=${shots.detail}
        @detail-wanted=${shots.fetchDetail} @cursor-time=${held.follow}>
        <button type="button" slot="note" class="quiet" id="keep-shot" @click=${() => keep(now)}>
          Keep this shot for comparison
        </button>
      </time-ruler>
    </section>
  `;

  function comparison(shot: LoggedShot, latest: LoggedShot | undefined) {
    const other = latest === shot ? undefined : latest;
    // The worker has the pictures of the shot that was made last.
    const follow = (event: CursorTimeEvent): void => {
      if ((other ?? shot) === shots.shots[0]) void held.follow(event);
    };
    return html`
      <section class="ruler" aria-label="the light of the kept shot and of this one">
        <shot-comparison .kept=${shot} .now=${other} .keptDetail=${kept.detail} .nowDetail=${shots.detail}
          .isKeptCloser=${kept.isCloser} @kept-detail-wanted=${kept.fetchDetail} @detail-wanted=${shots.fetchDetail} @cursor-time=${follow}
          @let-go=${() => keep(undefined)} @keep-now=${() => keep(other)}></shot-comparison>
      </section>
    `;
  }
}
