import { html, LitElement, nothing, type PropertyValues } from 'lit';
import { CanvasPen } from '../ruler/canvas-pen.ts';
import { rulerColours } from '../ruler/ruler-colours.ts';
import { CHART_STYLES } from './lag-map.styles.ts';
import { ChooseCellEvent } from './lag-map-events.ts';
import { drawLegend, legendHeight } from './legend-drawing.ts';
import type { MapView } from './map-drawing.ts';
import { cellAt, cellX, type MapLayout, mapLayout } from './map-layout.ts';
import { MapPainter, type Sight } from './map-painter.ts';
import {
  aimedWords,
  aimWords,
  cellText,
  type KnownRates,
  type MapTable,
  mapCell,
  outcomeWords,
  placeWords,
  rateWords,
  tellingShot,
} from './map-table.ts';

interface CellPlace {
  readonly row: number;
  readonly column: number;
}

const LEAST_WIDTH = 200;
/** Of a frame; the browser needs about as long again to show what was drawn. Our choice. */
const DRAWING_MS = 10;
/** Rows and columns that a key moves by; Home and End go to the ends of a row. */
const STEPS: Readonly<Record<string, readonly [rows: number, columns: number]>> = {
  ArrowUp: [-1, 0],
  ArrowDown: [1, 0],
  ArrowLeft: [0, -1],
  ArrowRight: [0, 1],
  Home: [0, Number.NEGATIVE_INFINITY],
  End: [0, Number.POSITIVE_INFINITY],
  PageUp: [Number.NEGATIVE_INFINITY, 0],
  PageDown: [Number.POSITIVE_INFINITY, 0],
};

/**
 * The map and what it says of one cell. Arrow keys go from cell to cell and read it out, Enter asks for its shot.
 * Event: `choose-cell`.
 */
export class LagMapChart extends LitElement {
  static override properties = {
    table: { attribute: false },
    rates: { attribute: false },
    inProgress: { attribute: false },
    openable: { attribute: false },
    held: { state: true },
    hovered: { state: true },
    spoken: { state: true },
    width: { state: true },
  };

  static override styles = CHART_STYLES;

  declare table: MapTable;
  declare rates: KnownRates;
  declare inProgress: ReadonlyMap<number, number>;
  /** Rows whose shots the bench can play. */
  declare openable: readonly boolean[];
  /** The cell that keys or a click have gone to. */
  declare private held: CellPlace | undefined;
  declare private hovered: CellPlace | undefined;
  /** What is read out. */
  declare private spoken: string;
  /** CSS pixels; 0 until it was measured. */
  declare private width: number;
  #observer: ResizeObserver | undefined;
  readonly #darkness = matchMedia('(prefers-color-scheme: dark)');
  #request = 0;
  readonly #painter = new MapPainter();
  /** What the legend was drawn with. */
  #legend = '';

  constructor() {
    super();
    this.table = { delays: [], rows: [] };
    this.rates = new Map();
    this.inProgress = new Map();
    this.openable = [];
    this.held = undefined;
    this.hovered = undefined;
    this.spoken = '';
    this.width = 0;
  }

  override connectedCallback(): void {
    super.connectedCallback();
    this.#observer = new ResizeObserver(([entry]) => {
      this.width = Math.max(LEAST_WIDTH, Math.floor(entry!.contentRect.width));
    });
    this.#observer.observe(this);
    this.#darkness.addEventListener('change', this.#drawSoon);
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.#observer?.disconnect();
    this.#darkness.removeEventListener('change', this.#drawSoon);
    cancelAnimationFrame(this.#request);
    this.#request = 0;
  }

  override willUpdate(changed: PropertyValues): void {
    if (!changed.has('table')) return;
    const has = (place: CellPlace | undefined): boolean =>
      place !== undefined && place.row < this.table.rows.length && place.column < this.table.delays.length;
    if (!has(this.held)) this.held = undefined;
    if (!has(this.hovered)) this.hovered = undefined;
    this.spoken = '';
  }

  override render() {
    const { rows, delays } = this.table;
    return html`
      <div
        class="scroll"
        tabindex="0"
        role="application"
        aria-label="Lag map, ${rows.length} rows by ${delays.length} delays. Arrow keys go from cell to cell, Enter opens its shot."
        @scroll=${this.#drawSoon}
        @keydown=${this.#keyDown}
        @focus=${this.#focused}
        @pointermove=${this.#pointerMoved}
        @pointerleave=${this.#pointerLeft}
        @pointerdown=${this.#pointerDown}
        @dblclick=${this.#doubleClicked}
      >
        <div class="full"><canvas id="map" aria-hidden="true"></canvas></div>
      </div>
      ${this.#wideText()}
      <canvas id="legend" role="img" aria-label="Dark blue: no shot is right. Yellow: every shot is right, be it a hit at a target or rightly none at nothing. Dotted: sampled. Upright lines: the rate crosses one half."></canvas>
      <p class="unseen" aria-live="polite">${this.spoken}</p>
      ${this.#lookedAt()}
    `;
  }

  override updated(): void {
    this.#drawSoon();
  }

  /** Nothing else tells on a narrow screen that there is more. */
  #wideText() {
    const { width, fullWidth } = this.layout;
    if (this.width === 0 || fullWidth <= width) return nothing;
    const { delays } = this.table;
    return html`<p class="secondary">The map goes on to the right, to ${delays[delays.length - 1]} ms: swipe or scroll it sideways.</p>`;
  }

  get #looked(): CellPlace | undefined {
    return this.hovered ?? this.held;
  }

  /** How the map is laid out now. */
  get layout(): MapLayout {
    return mapLayout(this.table, this.width);
  }

  /** What is drawn now. */
  get view(): MapView {
    const { table, rates, inProgress } = this;
    return { table, rates, inProgress, colours: rulerColours(this), looked: this.#looked };
  }

  #lookedAt() {
    const looked = this.#looked;
    if (looked === undefined)
      return html`<div class="looked"><p class="secondary">Point at a cell, or go there with the arrow keys, to read it.</p></div>`;
    const cell = mapCell(this.table.rows[looked.row]!.cells[looked.column]!, this.rates);
    const outcomes = outcomeWords(cell);
    const telling = tellingShot(cell);
    return html`<div class="looked">
      <h3>${placeWords(this.table, looked.row, looked.column)}</h3>
      <p>${
        cell.refused !== undefined
          ? html`<span class="wrong">✕ refused:</span> ${cell.refused}`
          : cell.right === undefined
            ? `not known yet${cell.known.length === 0 ? '' : `; ${cell.known.length} of ${cell.of} aims are done`}`
            : rateWords(cell.right)
      }${outcomes === '' ? '' : `; ${outcomes}`}</p>
      ${aimedWords(cell) === '' ? nothing : html`<p class="secondary">Aimed ${aimedWords(cell)}</p>`}
      ${aimWords(cell).length === 0 ? nothing : html`<p class="secondary">${aimWords(cell).join(' · ')}</p>`}
      ${telling === undefined || telling.why === '' ? nothing : html`<p class="secondary">First wrong shot, aim ${telling.result.aim}: ${telling.why}</p>`}
      ${
        telling === undefined || this.openable[looked.row] !== true
          ? nothing
          : html`<button @click=${() => this.#choose(looked)}>Open ${telling.why === '' ? 'a shot' : 'this shot'} on the bench</button>`
      }
    </div>`;
  }

  #drawSoon = (): void => {
    if (this.#request !== 0) return;
    this.#request = requestAnimationFrame(() => {
      this.#request = 0;
      this.#draw();
    });
  };

  get #sight(): Sight {
    const { top } = this.#part('#map').getBoundingClientRect();
    return { top: -top, bottom: innerHeight - top };
  }

  #draw(): void {
    if (this.width === 0) return;
    const { layout, view } = this;
    this.#part('.full').style.width = `${layout.fullWidth}px`;
    const scrollX = this.#part('.scroll').scrollLeft;
    const pen = this.#pen('map', layout.width, layout.height);
    const until = performance.now() + DRAWING_MS;
    const hasTime = () => performance.now() < until;
    if (!this.#painter.paint(pen, layout, view, scrollX, this.#sight, String(devicePixelRatio), hasTime))
      this.#drawSoon();
    const legend = JSON.stringify([layout.width, devicePixelRatio, view.colours]);
    if (legend !== this.#legend) this.#drawLegend(layout, view);
    this.#legend = legend;
  }

  #drawLegend({ width }: MapLayout, { colours }: MapView): void {
    const height = legendHeight(width);
    const pen = this.#pen('legend', width, height);
    pen.fill({ x: 0, y: 0, width, height }, colours.sheet);
    drawLegend(pen, width, colours);
  }

  #part(selector: string): HTMLElement {
    return this.renderRoot.querySelector<HTMLElement>(selector)!;
  }

  #pen(id: string, width: number, height: number): CanvasPen {
    const canvas = this.#part(`#${id}`) as HTMLCanvasElement;
    const scale = devicePixelRatio;
    const [dotsX, dotsY] = [Math.round(width * scale), Math.round(height * scale)];
    if (canvas.width !== dotsX) canvas.width = dotsX;
    if (canvas.height !== dotsY) canvas.height = dotsY;
    canvas.style.width = `${width}px`;
    canvas.style.height = `${height}px`;
    const context = canvas.getContext('2d')!;
    context.setTransform(scale, 0, 0, scale, 0, 0);
    return new CanvasPen(context);
  }

  #placeOf(event: PointerEvent | MouseEvent): CellPlace | undefined {
    const { left, top } = this.#part('#map').getBoundingClientRect();
    const x = event.clientX - left;
    if (x < this.layout.labelWidth) return undefined;
    return cellAt(this.layout, this.table, x + this.#part('.scroll').scrollLeft, event.clientY - top);
  }

  #pointerMoved = (event: PointerEvent): void => {
    const place = this.#placeOf(event);
    if (place?.row !== this.hovered?.row || place?.column !== this.hovered?.column) this.hovered = place;
  };

  #pointerLeft = (): void => {
    this.hovered = undefined;
  };

  #pointerDown = (event: PointerEvent): void => {
    const place = this.#placeOf(event);
    if (place !== undefined) this.held = place;
  };

  #doubleClicked = (event: MouseEvent): void => {
    const place = this.#placeOf(event);
    if (place !== undefined) this.#choose(place);
  };

  #focused = (): void => {
    if (this.held === undefined && this.table.rows.length > 0) this.#goTo({ row: 0, column: 0 });
  };

  #keyDown = (event: KeyboardEvent): void => {
    if (this.held === undefined || event.altKey || event.metaKey) return;
    if (event.key === 'Enter') {
      event.preventDefault();
      this.#choose(this.held);
      return;
    }
    const step = STEPS[event.key];
    if (step === undefined) return;
    event.preventDefault();
    const within = (value: number, count: number): number => Math.min(count - 1, Math.max(0, value));
    this.#goTo({
      row: within(this.held.row + step[0], this.table.rows.length),
      column: within(this.held.column + step[1], this.table.delays.length),
    });
  };

  #goTo(place: CellPlace): void {
    this.held = place;
    this.hovered = undefined;
    this.spoken = cellText(this.table, this.rates, place.row, place.column);
    this.#bringIntoSight(place);
  }

  #bringIntoSight({ column }: CellPlace): void {
    const { layout } = this;
    const scroll = this.#part('.scroll');
    const left = cellX(layout, column) - layout.labelWidth - 2;
    const right = cellX(layout, column) + layout.cellWidth + 2 - layout.width;
    if (scroll.scrollLeft > left) scroll.scrollLeft = left;
    else if (scroll.scrollLeft < right) scroll.scrollLeft = right;
  }

  #choose({ row, column }: CellPlace): void {
    if (
      this.openable[row] !== true ||
      tellingShot(mapCell(this.table.rows[row]!.cells[column]!, this.rates)) === undefined
    ) {
      this.spoken = 'This cell has no shot that the bench can play.';
      return;
    }
    this.dispatchEvent(new ChooseCellEvent(row, column));
  }
}

customElements.define('lag-map-chart', LagMapChart);

declare global {
  interface HTMLElementTagNameMap {
    'lag-map-chart': LagMapChart;
  }
}
