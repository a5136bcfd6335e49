import { html, LitElement, nothing, type PropertyValues } from 'lit';
import { type LanesDetail, placeAt, type ShotLanes, type ShotMark } from '../workers/play.api.ts';
import { drawOn } from './ruler/draw-on.ts';
import { type Gesture, Gestures } from './ruler/gestures.ts';
import { rulerColours } from './ruler/ruler-colours.ts';
import { controls, instantsTable, readout, type SavedKind } from './ruler/ruler-controls.ts';
import { CursorTimeEvent, DetailWantedEvent } from './ruler/ruler-events.ts';
import { rulerFile, saveFile } from './ruler/ruler-files.ts';
import { RULER_KEYS, type RulerCommand } from './ruler/ruler-keys.ts';
import { type RulerLayout, rulerLayout } from './ruler/ruler-layout.ts';
import { RulerModel } from './ruler/ruler-model.ts';
import { TIME_RULER_STYLES } from './time-ruler.styles.ts';
import type { Span } from './time-scale.ts';

/** How long the view stands before detail is asked for. Our choice. */
const DETAIL_DELAY_MS = 120;
const LEAST_WIDTH = 120;

/**
 * One time ruler with a lane for each thing that happens to the light of a shot; drawn at most once an animation frame.
 * Events: `cursor-time` when the held cursor has moved or is let go, `detail-wanted` when a closer look needs more columns.
 * Slot: `note`, at the end of the row of keys.
 */
export class TimeRuler extends LitElement {
  static override properties = {
    lanes: { attribute: false },
    marks: { attribute: false },
    detail: { attribute: false },
    width: { state: true },
  };

  static override styles = TIME_RULER_STYLES;

  declare lanes: ShotLanes | undefined;
  declare marks: readonly ShotMark[];
  /** A part of the light, finer, as the service answers it. */
  declare detail: LanesDetail | undefined;
  declare private width: number;
  #model: RulerModel | undefined;
  #layout: RulerLayout = rulerLayout(LEAST_WIDTH);
  #observer: ResizeObserver | undefined;
  readonly #darkness = matchMedia('(prefers-color-scheme: dark)');
  readonly #gestures = new Gestures();
  #request = 0;
  #detailTimer: ReturnType<typeof setTimeout> | undefined;
  /** The held time that was told last; null = none. */
  #toldMs: number | null = null;

  constructor() {
    super();
    this.lanes = undefined;
    this.marks = [];
    this.detail = undefined;
    this.width = 700;
  }

  override connectedCallback(): void {
    super.connectedCallback();
    this.#observer = new ResizeObserver(([entry]) => {
      this.width = Math.max(LEAST_WIDTH, Math.floor(entry!.contentRect.width));
    });
    this.#observer.observe(this);
    this.#darkness.addEventListener('change', this.redraw);
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.#observer?.disconnect();
    this.#darkness.removeEventListener('change', this.redraw);
    cancelAnimationFrame(this.#request);
    clearTimeout(this.#detailTimer);
    this.#request = 0;
  }

  override willUpdate(changed: PropertyValues<this>): void {
    if (changed.has('lanes')) {
      this.#model = this.lanes && new RulerModel(this.lanes, this.marks);
      this.detail = undefined;
    }
    this.#layout = rulerLayout(this.width);
    if (this.#model !== undefined) this.#model.width = this.#layout.plot.width;
  }

  override render() {
    const model = this.#model;
    if (model === undefined) return nothing;
    const { lanes, marks } = model;
    const ms = model.cursorMs ?? 0;
    return html`
      <div @keydown=${this.#key}>
        <div class="plot" tabindex="0" role="slider" aria-label="time in the shot" aria-describedby="hint"
          aria-valuemin=${lanes.fromMs.toFixed(2)} aria-valuemax=${lanes.toMs.toFixed(2)} aria-valuenow=${ms.toFixed(2)}
          aria-valuetext=${this.#spoken(model, ms)}
          @wheel=${this.#wheel} @pointerdown=${this.#down} @pointermove=${this.#move} @pointerup=${this.#up}
          @pointercancel=${this.#cancel} @pointerleave=${this.#leave}
        ><canvas></canvas></div>
        ${readout(model.parts)} ${controls(model.isHeld, this.do, (kind) => void this.#save(kind))}
        ${instantsTable(lanes, marks)}
      </div>
    `;
  }

  #spoken({ lanes, marks }: RulerModel, ms: number): string {
    const { frame, scanline, dot } = placeAt(lanes.clock, ms);
    const instant = marks.find((mark) => Math.abs(mark.ms - ms) < 1e-9)?.title;
    const place = frame === null ? '' : `, frame ${frame}, scanline ${scanline}, dot ${dot}`;
    return `${ms.toFixed(2)} ms${place}${instant === undefined ? '' : `, ${instant}`}`;
  }

  override updated(): void {
    this.redraw();
    clearTimeout(this.#detailTimer);
    const wanted = this.#model?.wantedDetail(this.detail);
    if (wanted === undefined) return;
    this.#detailTimer = setTimeout(() => this.dispatchEvent(new DetailWantedEvent(wanted)), DETAIL_DELAY_MS);
  }

  /** Draw before the next picture of the screen, for instance because the page has other colours now. */
  redraw = (): void => {
    if (this.#request === 0) this.#request = requestAnimationFrame(this.#drawFrame);
  };

  #drawFrame = (): void => {
    this.#request = 0;
    this.drawNow();
    const heldMs = this.#model?.isHeld === true ? (this.#model.cursorMs ?? null) : null;
    if (heldMs === this.#toldMs) return;
    this.#toldMs = heldMs;
    this.dispatchEvent(new CursorTimeEvent(heldMs));
  };

  /** Draw at once. */
  drawNow(): void {
    const canvas = this.renderRoot.querySelector('canvas');
    const model = this.#model;
    if (canvas === null || model === undefined) return;
    drawOn(canvas, this.#layout, model.viewOf(rulerColours(this), this.detail), devicePixelRatio);
  }

  /** What is seen, ms after the trigger; undefined without a shot. */
  get view(): Span | undefined {
    return this.#model?.span;
  }

  /** Show this part, within what there is. */
  show(span: Span): void {
    this.#model?.show(span);
    this.requestUpdate();
  }

  /** Hold the cursor at a time, ms after the trigger. */
  holdAt(ms: number): void {
    this.#model?.hold(ms);
    this.requestUpdate();
  }

  /** What the keys and buttons do, for a page that has them too: `hold`, `next scanline`, ... */
  do = (command: RulerCommand, isShifted = false): void => {
    this.#model?.do(command, isShifted);
    this.requestUpdate();
  };

  /** Pixels from the left border of the time axis. */
  #xOf(event: MouseEvent): number {
    return event.clientX - (event.currentTarget as Element).getBoundingClientRect().left - this.#layout.plot.x;
  }

  #wheel = (event: WheelEvent): void => {
    if (!this.#model!.wheel(event.deltaX, event.deltaY, this.#xOf(event))) return;
    event.preventDefault();
    this.requestUpdate();
  };

  #down = (event: PointerEvent): void => {
    if (event.button !== 0) return;
    (event.currentTarget as Element).setPointerCapture(event.pointerId);
    this.#model!.grab(this.#xOf(event));
    this.#gestures.down(event.pointerId, this.#xOf(event));
  };

  #move = (event: PointerEvent): void => this.#follow(this.#gestures.move(event.pointerId, this.#xOf(event)));

  #up = (event: PointerEvent): void => this.#follow(this.#gestures.up(event.pointerId, event.shiftKey));

  #follow(gesture: Gesture | undefined): void {
    if (gesture === undefined) return;
    this.#model!.follow(gesture);
    this.requestUpdate();
  }

  #cancel = (event: PointerEvent): void => this.#gestures.cancel(event.pointerId);

  #leave = (): void => {
    if (this.#gestures.isIdle) this.#model!.leave();
    this.requestUpdate();
  };

  #key = (event: KeyboardEvent): void => {
    const { key, shiftKey, ctrlKey, metaKey, altKey } = event;
    const command = RULER_KEYS[key.length === 1 ? key.toLowerCase() : key];
    if (command === undefined || ctrlKey || metaKey || altKey) return;
    if (command === 'escape' && !this.#model!.canEscape) return;
    this.do(command, shiftKey);
    event.preventDefault();
    event.stopPropagation();
  };

  /** The ruler as a file of this kind; undefined without a shot. */
  async fileOf(kind: SavedKind): Promise<Blob | undefined> {
    return this.#model && (await rulerFile(kind, this.#layout, this.#model.viewOf(rulerColours(this), this.detail)));
  }

  async #save(kind: SavedKind): Promise<void> {
    const file = await this.fileOf(kind);
    if (file !== undefined) saveFile(file, `shot.${kind.toLowerCase()}`);
  }
}

customElements.define('time-ruler', TimeRuler);

declare global {
  interface HTMLElementTagNameMap {
    'time-ruler': TimeRuler;
  }
}
