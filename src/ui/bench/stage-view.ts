import { html, nothing } from 'lit';
import type { Rendering } from '../../workers/play.api.ts';
import { CAUTION } from '../caution.ts';
import type { PicturePair } from './picture-pair.ts';
import type { PlayDesk } from './play-desk.ts';
import { type LoggedShot, toldText } from './shot-log.ts';
import type { WandDesk } from './wand-desk.ts';

/** Buttons of the pad that a game can be led with where there is no keyboard. */
const PAD = ['Start', 'Select', 'B', 'A'] as const;

/** What has to be read before anything moves. */
export const cautionView = (begin: () => void) => html`
  <section class="caution" aria-labelledby="caution-title">
    <h2 id="caution-title">Before anything moves</h2>
    ${CAUTION.map((paragraph) => html`<p>${paragraph}</p>`)}
    <button class="primary" @click=${begin}>I have read this: start</button>
  </section>
`;

export interface StageParts {
  readonly play: PlayDesk;
  readonly wand: WandDesk;
  readonly pictures: PicturePair;
  readonly rendering: Rendering;
  /** What the game is called. */
  readonly name: string;
  readonly goOn: () => void;
  /** The latest shot, if it was shot with what is chosen now. */
  readonly latest: LoggedShot | undefined;
  /** Bring what is told of it into view. */
  readonly tell: () => void;
}

/** Both pictures, or the small one in which everything flashes, and what hand and pad can do. */
export function stageView({ play, wand, pictures, rendering, name, goOn, latest, tell }: StageParts) {
  const isFull = rendering === 'full';
  return html`
    <div
      class="play"
      role="application"
      tabindex="0"
      aria-label=${`${name}. Arrow keys move the wand, space pulls the trigger, Enter is start, Escape pauses.`}
      @keydown=${wand.keyDown}
      @keyup=${wand.keyUp}
      @aim=${wand.follow}
      @aim-gone=${wand.gone}
    >
      ${
        isFull
          ? nothing
          : html`<figure>
              <bench-picture id="sent" .aim=${wand.aim} .radiusDots=${play.radiusDots} .hasWand=${false} .outlines=${pictures.outlines('sent')}></bench-picture>
              <figcaption>what the console sends</figcaption>
            </figure>`
      }
      <figure>
        <p class="told" aria-hidden="true">${toldText(latest)}</p>
        <bench-picture id="shown" .aim=${wand.aim} .radiusDots=${play.radiusDots} .isSmall=${isFull} .outlines=${pictures.outlines('shown')} @pointerdown=${wand.pointerDown}></bench-picture>
        <figcaption>what the glass shows</figcaption>
      </figure>
    </div>
    <p class="told">
      ${toldText(latest)}${latest === undefined ? nothing : html`: <button type="button" class="quiet" @click=${tell}>${latest.lanes === null ? 'what came of it' : 'what the light did'}</button>`}
    </p>
    <p class="pad">
      ${
        play.phase === 'paused'
          ? html`<button class="primary" @click=${goOn}>Go on</button> <span class="secondary">paused${play.isStale ? '; the pictures are still those of what was played before' : ''}</span>`
          : html`<button @click=${play.pause}>Pause</button> <span class="secondary">Escape does the same</span>`
      }
      ${PAD.map((name) => html`<button ?disabled=${play.phase !== 'running'} @click=${() => wand.tap(name)}>${name}</button>`)}
    </p>
    <dl class="keys">
      <dt>pointer, arrow keys</dt><dd>aim (Shift: 8 dots, Control: 32)</dd>
      <dt>click, space</dt><dd>pull the trigger</dd>
      <dt>Enter, Q</dt><dd>Start, Select</dd>
      <dt>W A S D, J, K</dt><dd>pad, B, A</dd>
    </dl>
  `;
}
