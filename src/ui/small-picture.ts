import { css, html, LitElement } from 'lit';
import { PICTURE_HEIGHT, PICTURE_WIDTH } from '../units/timing.ts';
import type { PlayAim } from '../workers/play.api.ts';

/**
 * Size on the page, CSS pixels. Its area is below a quarter of the 341 x 256 pixel block of WCAG 2.2 technique G176
 * (0.223 of it), so that no flash in it can fill the area that counts.
 */
const SHOWN = { width: 144, height: 135 } as const;

/** The wand was moved, dots and scanlines. */
export class AimEvent extends Event {
  readonly aim: PlayAim;

  constructor(aim: PlayAim) {
    super('aim', { bubbles: true, composed: true });
    this.aim = aim;
  }
}

/** A small picture of the console with the wand's spot in its real size. Where pixels come from is not its business. */
export class SmallPicture extends LitElement {
  static override properties = {
    aim: { attribute: false },
    radiusDots: { attribute: false },
  };

  static override styles = css`
    :host { display: inline-block; position: relative; line-height: 0; touch-action: none; cursor: crosshair; }
    canvas { width: ${SHOWN.width}px; height: ${SHOWN.height}px; background: #000; display: block; }
    svg { position: absolute; inset: 0; width: ${SHOWN.width}px; height: ${SHOWN.height}px; pointer-events: none; overflow: hidden; }
    .ring { fill: none; stroke: #b79bff; stroke-width: 1.5px; vector-effect: non-scaling-stroke; }
    .rim { fill: none; stroke: #000; stroke-width: 3px; vector-effect: non-scaling-stroke; }
  `;

  declare aim: PlayAim;
  declare radiusDots: number;

  constructor() {
    super();
    this.aim = { x: PICTURE_WIDTH / 2, y: PICTURE_HEIGHT / 2 };
    this.radiusDots = 6;
  }

  override connectedCallback(): void {
    super.connectedCallback();
    this.addEventListener('pointermove', this.#follow);
    this.addEventListener('pointerdown', this.#follow);
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.removeEventListener('pointermove', this.#follow);
    this.removeEventListener('pointerdown', this.#follow);
  }

  override render() {
    const { x, y } = this.aim;
    const r = this.radiusDots;
    const ticks = `M${x - 2 * r} ${y}h${r}M${x + r} ${y}h${r}M${x} ${y - 2 * r}v${r}M${x} ${y + r}v${r}`;
    return html`
      <canvas width=${PICTURE_WIDTH} height=${PICTURE_HEIGHT}></canvas>
      <svg viewBox="0 0 ${PICTURE_WIDTH} ${PICTURE_HEIGHT}" preserveAspectRatio="none" aria-hidden="true">
        <circle class="rim" cx=${x} cy=${y} r=${r}></circle><path class="rim" d=${ticks}></path>
        <circle class="ring" cx=${x} cy=${y} r=${r}></circle><path class="ring" d=${ticks}></path>
      </svg>
    `;
  }

  /** Show a picture: 256 x 240 dots, RGBA. */
  paint(dots: Uint8ClampedArray<ArrayBuffer>): void {
    const context = this.renderRoot.querySelector('canvas')?.getContext('2d');
    context?.putImageData(new ImageData(dots, PICTURE_WIDTH, PICTURE_HEIGHT), 0, 0);
  }

  #follow = (event: PointerEvent): void => {
    const box = this.getBoundingClientRect();
    const x = ((event.clientX - box.left) / box.width) * PICTURE_WIDTH;
    const y = ((event.clientY - box.top) / box.height) * PICTURE_HEIGHT;
    this.dispatchEvent(new AimEvent({ x, y }));
  };
}

customElements.define('small-picture', SmallPicture);

declare global {
  interface HTMLElementTagNameMap {
    'small-picture': SmallPicture;
  }
}
