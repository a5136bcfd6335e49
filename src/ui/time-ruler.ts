import { html, LitElement, nothing, type PropertyValues } from 'lit';
import { type LanesDetail, placeAt, type ShotLanes, type ShotMark } from '../workers/play.api.ts';
import { OPENING_STYLES } from './opening.styles.ts';
import { drawOn } from './ruler/draw-on.ts';
import { type Gesture, Gestures } from './ruler/gestures.ts';
import { rulerColours } from './ruler/ruler-colours.ts';
import { controls, instantsTable, readout, type SavedKind, saves } from './ruler/ruler-controls.ts';
import { CursorTimeEvent, DetailWantedEvent, RulerLookEvent } from './ruler/ruler-events.ts';
import { rulerFile, saveFile } from './ruler/ruler-files.ts';
import { RULER_KEYS, type RulerCommand } from './ruler/ruler-keys.ts';
import { type RulerLayout, rulerLayout } from './ruler/ruler-layout.ts';
import { type RulerLook, RulerModel } from './ruler/ruler-model.ts';
import type { RulerTimes } from './ruler/ruler-times.ts';
import { SIDEWAYS_STYLES } from './sideways.styles.ts';
import { TIME_RULER_STYLES } from './time-ruler.styles.ts';
import type { Span } from './time-scale.ts';

/** How long the view stands before detail is asked for. Our choice. */
const DETAIL_DELAY_MS = 120;
const LEAST_WIDTH = 120;

/**
 * One time ruler with a lane for each thing that happens to the light of a shot; drawn at most once an animation frame.
 * Events: `cursor-time` when the held cursor has moved or is let go, `detail-wanted` when a closer look needs more columns,
 * `ruler-look` when somebody has moved view or cursors.
 * Slot: `note`, at the end of the row of keys.
 */
export class TimeRuler extends LitElement {
  static override properties = {
    lanes: { attribute: false },
    marks: { attribute: false },
    detail: { attribute: false },
    times: { attribute: false },
    look: { attribute: false },
    isBrief: { attribute: false },
    number: { attribute: false },
    width: { state: true },
  };

  static override styles = [SIDEWAYS_STYLES, OPENING_STYLES, TIME_RULER_STYLES];

  declare lanes: ShotLanes | undefined;
  declare marks: readonly ShotMark[];
  /** A part of the light, finer, as the service answers it. */
  declare detail: LanesDetail | undefined;
  /** The times that can be looked at, where they are not those of the shot alone. */
  declare times: RulerTimes | undefined;
  /** View and cursors, where another ruler moves them too. */
  declare look: RulerLook | undefined;
  /** Without the row of keys: another ruler has it. */
  declare isBrief: boolean;
  /** Which shot it is, where there are others. */
  declare number: number | undefined;
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
    this.times = undefined;
    this.look = undefined;
    this.isBrief = false;
    this.number = undefined;
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
    if (changed.has('lanes') || changed.has('times'))
      this.#model = this.lanes && new RulerModel(this.lanes, this.marks, this.times);
    if (changed.has('lanes')) this.detail = undefined;
    this.#layout = rulerLayout(this.width);
    if (this.#model === undefined) return;
    this.#model.width = this.#layout.plot.width;
    if (this.look !== undefined && (changed.has('look') || changed.has('times') || changed.has('lanes')))
      this.#model.look = this.look;
  }

  override render() {
    const model = this.#model;
    if (model === undefined) return nothing;
    const { lanes, marks } = model;
    const { fromMs, toMs } = model.times.whole;
    const ms = model.cursorMs ?? 0;
    return html`
      <div @keydown=${this.#key}>
        <div class="plot" tabindex="0" role="slider"
          aria-label=${`time in ${this.#name}`} aria-describedby=${this.isBrief ? nothing : 'hint'}
          aria-valuemin=${fromMs.toFixed(2)} aria-valuemax=${toMs.toFixed(2)} aria-valuenow=${ms.toFixed(2)}
          aria-valuetext=${this.#spoken(model, ms)}
          @wheel=${this.#wheel} @pointerdown=${this.#down} @pointermove=${this.#move} @pointerup=${this.#up}
          @pointercancel=${this.#cancel} @pointerleave=${this.#leave}
        ><canvas></canvas></div>
        ${readout(model.parts)}
        ${this.isBrief ? saves(this.#saveAs) : controls(model.isHeld, this.do, this.#saveAs)}
        ${instantsTable(lanes, marks, this.#name)}
      </div>
    `;
  }

  get #name(): string {
    return this.number === undefined ? 'the shot' : `shot ${this.number}`;
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
    this.#moved();
  }

  /** Hold the cursor at a time, ms after the trigger. */
  holdAt(ms: number): void {
    this.#model?.hold(ms);
    this.#moved();
  }

  /** What the keys and buttons do, for a page that has them too: `hold`, `next scanline`, ... */
  do = (command: RulerCommand, isShifted = false): void => {
    this.#model?.do(command, isShifted);
    this.#moved();
  };

  /** View or cursors are others now. */
  #moved(): void {
    this.requestUpdate();
    if (this.#model !== undefined) this.dispatchEvent(new RulerLookEvent(this.#model.look));
  }

  /** Pixels from the left border of the time axis. */
  #xOf(event: MouseEvent): number {
    return event.clientX - (event.currentTarget as Element).getBoundingClientRect().left - this.#layout.plot.x;
  }

  #wheel = (event: WheelEvent): void => {
    if (!this.#model!.wheel(event.deltaX, event.deltaY, this.#xOf(event))) return;
    event.preventDefault();
    this.#moved();
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
    this.#moved();
  }

  #cancel = (event: PointerEvent): void => this.#gestures.cancel(event.pointerId);

  #leave = (): void => {
    if (this.#gestures.isIdle) this.#model!.leave();
    this.#moved();
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

  #saveAs = async (kind: SavedKind): Promise<void> => {
    const file = await this.fileOf(kind);
    const number = this.number === undefined ? '' : `-${this.number}`;
    if (file !== undefined) saveFile(file, `shot${number}.${kind.toLowerCase()}`);
  };
}

customElements.define('time-ruler', TimeRuler);

declare global {
  interface HTMLElementTagNameMap {
    'time-ruler': TimeRuler;
  }
}
