import {
  type LanesDetail,
  nextFrameMs,
  nextScanlineMs,
  type ShotLanes,
  type ShotMark,
} from '../../workers/play.api.ts';
import { moved, msAt, pixelsOf, type Span, zoomed } from '../time-scale.ts';
import type { Gesture } from './gestures.ts';
import type { RulerCommand } from './ruler-keys.ts';
import { type CursorPart, columnMs, cursorParts, cursorText, measureText, ShotCurves, showing } from './ruler-state.ts';
import { type RulerTimes, rulerTimes } from './ruler-times.ts';
import type { RulerColours, RulerView } from './ruler-view.ts';

const SNAP_PX = 6;
/** Less is nothing: a hundredth of a tick. */
const ROUNDING_MS = 5e-7;
const ZOOM = 0.8;
/** A notch of a mouse wheel, px. Common practice, no source. */
const WHEEL_NOTCH = 100;
/** Share of what is seen that an arrow key moves the cursor by. */
const ARROW_SHARE = 1 / 100;
/** Share of what is seen that is asked for on either side of it. */
const DETAIL_MARGIN = 0.5;

/** The part that is seen and the cursors: what rulers that move together share. */
export interface RulerLook {
  readonly span: Span;
  readonly cursorMs: number | undefined;
  readonly secondMs: number | undefined;
  readonly isHeld: boolean;
}

/** What a ruler shows of one shot, and what moves it. Times in ms after the trigger, x in pixels of the time axis. */
export class RulerModel {
  readonly lanes: ShotLanes;
  readonly marks: readonly ShotMark[];
  readonly curves: ShotCurves;
  /** The times that can be looked at; before and behind its lanes a ruler is empty. */
  readonly times: RulerTimes;
  span: Span;
  cursorMs: number | undefined;
  secondMs: number | undefined;
  isHeld = false;
  /** Of the time axis, px. */
  width = 1;
  #scrubs = false;

  /** `times`: those of the shot, where nothing else is said. */
  constructor(lanes: ShotLanes, marks: readonly ShotMark[], times: RulerTimes = rulerTimes(lanes, marks)) {
    this.lanes = lanes;
    this.marks = marks;
    this.curves = new ShotCurves(lanes, marks);
    this.times = times;
    this.span = times.shot;
  }

  get look(): RulerLook {
    const { span, cursorMs, secondMs, isHeld } = this;
    return { span, cursorMs, secondMs, isHeld };
  }

  set look({ span, cursorMs, secondMs, isHeld }: RulerLook) {
    this.span = zoomed(span, 1, span.fromMs, this.times.whole);
    this.cursorMs = cursorMs;
    this.secondMs = secondMs;
    this.isHeld = isHeld;
  }

  viewOf(colours: RulerColours, detail: LanesDetail | undefined): RulerView {
    const { lanes, marks, span, curves, cursorMs, secondMs } = this;
    const { lightScale, sensorScale } = curves;
    const scene = { lanes, marks, span, curves: curves.covering(span, detail), lightScale, sensorScale, colours };
    return { ...scene, cursorMs, secondMs, cursorText: this.#cursorText() };
  }

  #cursorText(): string {
    const { lanes, span, cursorMs, secondMs } = this;
    if (cursorMs === undefined) return '';
    return secondMs === undefined ? cursorText(lanes, cursorMs, span) : measureText(lanes, cursorMs, secondMs);
  }

  /** All that is known of the cursor, and of what lies between two. */
  get parts(): readonly CursorPart[] {
    const { lanes, marks, cursorMs, secondMs } = this;
    if (cursorMs === undefined) return [];
    const parts = cursorParts(lanes, marks, cursorMs);
    return secondMs === undefined
      ? parts
      : [...parts, { name: 'measured', value: measureText(lanes, cursorMs, secondMs) }];
  }

  /** The part of the light that is seen in less than a column a pixel, with some of what lies around it. */
  wantedDetail(detail: LanesDetail | undefined): (Span & { readonly columns: number }) | undefined {
    const { lanes, span, width } = this;
    const seen = span.toMs - span.fromMs;
    if (columnMs(this.curves.covering(span, detail).light) <= seen / width) return undefined;
    const fromMs = Math.max(lanes.fromMs, span.fromMs - DETAIL_MARGIN * seen);
    const toMs = Math.min(lanes.toMs, span.toMs + DETAIL_MARGIN * seen);
    if (toMs <= fromMs) return undefined;
    return { fromMs, toMs, columns: Math.ceil(((toMs - fromMs) / seen) * width) };
  }

  show(span: Span): void {
    this.span = zoomed(span, 1, span.fromMs, this.times.whole);
  }

  /** Put the cursor somewhere and keep it there, and show it. */
  hold(ms: number): void {
    const { whole } = this.times;
    this.cursorMs = Math.max(whole.fromMs, Math.min(whole.toMs, ms));
    this.span = showing(this.span, this.cursorMs, whole);
    this.isHeld = true;
  }

  /** Follow a wheel. False where nothing moves: the page may scroll. */
  wheel(deltaX: number, deltaY: number, x: number): boolean {
    const {
      span,
      times: { whole },
    } = this;
    const isSideways = Math.abs(deltaX) > Math.abs(deltaY);
    this.span = isSideways
      ? moved(span, this.#msOf(deltaX), whole)
      : zoomed(span, ZOOM ** (-deltaY / WHEEL_NOTCH), this.#msAt(x), whole);
    const byMs = Math.abs(this.span.fromMs - span.fromMs) + Math.abs(this.span.toMs - span.toMs);
    return byMs > ROUNDING_MS;
  }

  /** A pointer goes down: at a held cursor it drags that, else the view. */
  grab(x: number): void {
    const cursorX = this.cursorMs === undefined ? Number.NaN : pixelsOf(this.cursorMs, this.span, this.width);
    this.#scrubs = this.isHeld && Math.abs(cursorX - x) <= SNAP_PX;
  }

  follow(gesture: Gesture): void {
    switch (gesture.kind) {
      case 'hover':
        if (!this.isHeld) this.cursorMs = gesture.x < 0 ? undefined : this.#snappedAt(gesture.x);
        break;
      case 'click':
        if (gesture.isShifted) this.#measureTo(this.#snappedAt(gesture.x));
        else this.hold(this.#snappedAt(gesture.x));
        break;
      case 'drag':
        if (this.#scrubs) this.hold(this.#snappedAt(gesture.x));
        else this.span = moved(this.span, -this.#msOf(gesture.byX), this.times.whole);
        break;
      case 'pinch':
        this.span = moved(this.span, -this.#msOf(gesture.byX), this.times.whole);
        this.span = zoomed(this.span, gesture.factor, this.#msAt(gesture.x), this.times.whole);
    }
  }

  /** The pointer has left. */
  leave(): void {
    if (!this.isHeld) this.cursorMs = undefined;
  }

  do(command: RulerCommand, isShifted = false): void {
    this.#commands[command](isShifted);
  }

  readonly #commands: Readonly<Record<RulerCommand, (isShifted: boolean) => void>> = {
    'zoom in': () => this.#zoom(ZOOM),
    'zoom out': () => this.#zoom(1 / ZOOM),
    'show all': () => this.show(this.times.whole),
    later: (isShifted) => this.#step(1, isShifted),
    earlier: (isShifted) => this.#step(-1, isShifted),
    begin: () => this.hold(this.times.whole.fromMs),
    end: () => this.hold(this.times.whole.toMs),
    hold: () => this.#toggleHold(),
    'next scanline': () => this.hold(nextScanlineMs(this.lanes.clock, this.cursorMs ?? 0)),
    'next frame': () => this.hold(nextFrameMs(this.lanes.clock, this.cursorMs ?? 0)),
    'back to the shot': () => this.#backToShot(),
    measure: () => this.#measure(),
    escape: () => this.#escape(),
  };

  get #middleMs(): number {
    return this.cursorMs ?? (this.span.fromMs + this.span.toMs) / 2;
  }

  #zoom(factor: number): void {
    this.span = zoomed(this.span, factor, this.#middleMs, this.times.whole);
  }

  /** A step of an arrow key, or to the next instant or edge. */
  #step(direction: 1 | -1, isToEdge: boolean): void {
    const ms = this.#middleMs;
    const step = (this.span.toMs - this.span.fromMs) * ARROW_SHARE;
    this.hold(isToEdge ? (this.curves.snapPoints.next(ms, direction) ?? ms) : ms + direction * step);
  }

  #toggleHold(): void {
    if (this.isHeld) this.isHeld = false;
    else this.hold(this.cursorMs ?? 0);
  }

  /** The shot fills the ruler, and the cursor stands at the trigger. */
  #backToShot(): void {
    this.span = this.times.shot;
    this.secondMs = undefined;
    this.hold(0);
  }

  /** Leave a second cursor where the cursor stands, or take it away. */
  #measure(): void {
    this.cursorMs ??= 0;
    this.secondMs = this.secondMs === undefined ? this.cursorMs : undefined;
  }

  #measureTo(ms: number): void {
    this.hold(this.cursorMs ?? 0);
    this.secondMs = ms;
  }

  /** The second cursor goes first, then the hold. */
  #escape(): void {
    if (this.secondMs === undefined) this.isHeld = false;
    this.secondMs = undefined;
  }

  /** Whether escape would take something away. */
  get canEscape(): boolean {
    return this.isHeld || this.secondMs !== undefined;
  }

  #msAt(x: number): number {
    return msAt(x, this.span, this.width);
  }

  #msOf(pixels: number): number {
    return (pixels / this.width) * (this.span.toMs - this.span.fromMs);
  }

  #snappedAt(x: number): number {
    return this.curves.snapPoints.snapped(this.#msAt(x), this.#msOf(SNAP_PX));
  }
}
