import { css, html, LitElement, nothing, svg } from 'lit';
import { PICTURE_HEIGHT, PICTURE_WIDTH } from '../units/timing.ts';
import type { PlayAim, PlayBox } from '../workers/play.api.ts';

/**
 * Size on the page where every flash is drawn, CSS pixels. Its area is below a quarter of the 341 x 256 pixel block of WCAG 2.2 technique G176
 * (0.223 of it), so that no flash in it can fill the area that counts.
 */
const SMALL = { width: 144, height: 135 } as const;
/** Where flashes are left out. */
const LARGE = { width: 304, height: 285 } as const;

/** A pointer moves over the picture, dots and scanlines; it is pressed, or only passes. */
export class AimEvent extends Event {
  readonly aim: PlayAim;
  readonly isPressed: boolean;

  constructor(aim: PlayAim, isPressed: boolean) {
    super('aim', { bubbles: true, composed: true });
    this.aim = aim;
    this.isPressed = isPressed;
  }
}

/** A mouse has left the picture. */
class AimGoneEvent extends Event {
  constructor() {
    super('aim-gone', { bubbles: true, composed: true });
  }
}

/** A picture of the console with the wand's spot in its real size. Where pixels come from is not its business. */
export class BenchPicture extends LitElement {
  static override properties = {
    aim: { attribute: false },
    radiusDots: { attribute: false },
    isSmall: { attribute: false },
    hasWand: { attribute: false },
    outlines: { attribute: false },
  };

  static override styles = css`
    :host { display: block; max-width: 100%; position: relative; line-height: 0; touch-action: none; cursor: crosshair; }
    canvas { background: #000; display: block; width: 100%; height: 100%; image-rendering: pixelated; }
    svg { position: absolute; inset: 0; width: 100%; height: 100%; pointer-events: none; overflow: visible; }
    .box { fill: none; stroke: #ffb65c; stroke-width: 2px; vector-effect: non-scaling-stroke; }
    .box-rim { fill: none; stroke: #000; stroke-width: 5px; vector-effect: non-scaling-stroke; }
    .ring { fill: none; stroke: #b79bff; stroke-width: 1.5px; vector-effect: non-scaling-stroke; }
    .rim { fill: none; stroke: #000; stroke-width: 3px; vector-effect: non-scaling-stroke; }
  `;

  declare aim: PlayAim;
  declare radiusDots: number;
  /** Drawn as small as pictures that flash must be. */
  declare isSmall: boolean;
  declare hasWand: boolean;
  /** Boxes that flash, drawn as outlines. */
  declare outlines: readonly PlayBox[];

  constructor() {
    super();
    this.aim = { x: PICTURE_WIDTH / 2, y: PICTURE_HEIGHT / 2 };
    this.radiusDots = 6;
    this.isSmall = false;
    this.hasWand = true;
    this.outlines = [];
  }

  override willUpdate(): void {
    const { width, height } = this.isSmall ? SMALL : LARGE;
    this.style.width = `${width}px`;
    this.style.aspectRatio = `${width} / ${height}`;
  }

  override connectedCallback(): void {
    super.connectedCallback();
    this.addEventListener('pointermove', this.#follow);
    this.addEventListener('pointerdown', this.#follow);
    this.addEventListener('pointerleave', this.#leave);
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.removeEventListener('pointermove', this.#follow);
    this.removeEventListener('pointerdown', this.#follow);
    this.removeEventListener('pointerleave', this.#leave);
  }

  override render() {
    const { x, y } = this.aim;
    const r = this.radiusDots;
    const ticks = `M${x - 2 * r} ${y}h${r}M${x + r} ${y}h${r}M${x} ${y - 2 * r}v${r}M${x} ${y + r}v${r}`;
    return html`
      <canvas width=${PICTURE_WIDTH} height=${PICTURE_HEIGHT}></canvas>
      <svg viewBox="0 0 ${PICTURE_WIDTH} ${PICTURE_HEIGHT}" preserveAspectRatio="none" aria-hidden="true">
        ${this.outlines.map(({ x, y, width, height }) =>
          ['box-rim', 'box'].map(
            (name) => svg`<rect class=${name} x=${x} y=${y} width=${width} height=${height}></rect>`,
          ),
        )}
        ${
          this.hasWand
            ? svg`
        <circle class="rim" cx=${x} cy=${y} r=${r}></circle><path class="rim" d=${ticks}></path>
        <circle class="ring" cx=${x} cy=${y} r=${r}></circle><path class="ring" d=${ticks}></path>`
            : nothing
        }
      </svg>
    `;
  }

  /** Show a picture: 256 x 240 dots, RGBA. */
  paint(dots: Uint8ClampedArray<ArrayBuffer>): void {
    // A picture is told once: one that comes before there is a canvas waits for it.
    if (!this.hasUpdated) {
      void this.updateComplete.then(() => this.paint(dots));
      return;
    }
    const context = this.renderRoot.querySelector('canvas')?.getContext('2d');
    context?.putImageData(new ImageData(dots, PICTURE_WIDTH, PICTURE_HEIGHT), 0, 0);
  }

  #follow = (event: PointerEvent): void => {
    if (!this.hasWand) return;
    const box = this.getBoundingClientRect();
    const x = ((event.clientX - box.left) / box.width) * PICTURE_WIDTH;
    const y = ((event.clientY - box.top) / box.height) * PICTURE_HEIGHT;
    this.dispatchEvent(new AimEvent({ x, y }, event.type === 'pointerdown' || event.buttons !== 0));
  };

  /** A finger that is lifted has not gone elsewhere. */
  #leave = (event: PointerEvent): void => {
    if (this.hasWand && event.pointerType === 'mouse') this.dispatchEvent(new AimGoneEvent());
  };
}

customElements.define('bench-picture', BenchPicture);

declare global {
  interface HTMLElementTagNameMap {
    'bench-picture': BenchPicture;
  }
}
