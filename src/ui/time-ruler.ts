import { html, LitElement, nothing, svg } from 'lit';
import type { ShotLanes, ShotMark } from '../workers/play.api.ts';
import { TIME_RULER_STYLES } from './time-ruler.styles.ts';
import { axisSteps, moved, msAt, pixelsOf, type Span, zoomed } from './time-scale.ts';

/** Heights of the lanes, pixels, from top to bottom. */
const LANES = { pictures: 26, light: 60, sensor: 60, bit: 20, looking: 22, axis: 22 } as const;
const GAP = 8;
/** Room for the lanes' names. */
const NAMES = 108;
const SNAP_PIXELS = 6;
/** Half of what a label of the axis takes. */
const LABEL_PIXELS = 24;
const ZOOM = 0.8;

type Lane = keyof typeof LANES;
const TITLES: Readonly<Record<Exclude<Lane, 'axis'>, string>> = {
  pictures: 'pictures sent',
  light: 'light at the spot',
  sensor: 'sensor',
  bit: 'light bit',
  looking: 'program reads',
};

const TOPS = (() => {
  let top = 0;
  const tops = {} as Record<Lane, number>;
  for (const lane of Object.keys(LANES) as Lane[]) {
    tops[lane] = top;
    top += LANES[lane] + GAP;
  }
  return tops;
})();
const HEIGHT = TOPS.axis + LANES.axis;

/** One time ruler with a lane for each thing that happens to the light of a shot. */
export class TimeRuler extends LitElement {
  static override properties = {
    lanes: { attribute: false },
    marks: { attribute: false },
    span: { state: true },
    cursorMs: { state: true },
    width: { state: true },
  };

  static override styles = TIME_RULER_STYLES;

  declare lanes: ShotLanes | undefined;
  declare marks: readonly ShotMark[];
  declare private span: Span | undefined;
  declare private cursorMs: number | undefined;
  declare private width: number;
  #observer: ResizeObserver | undefined;
  #dragFrom: { readonly x: number; readonly span: Span } | undefined;

  constructor() {
    super();
    this.lanes = undefined;
    this.marks = [];
    this.span = undefined;
    this.cursorMs = undefined;
    this.width = 700;
  }

  override connectedCallback(): void {
    super.connectedCallback();
    this.#observer = new ResizeObserver(([entry]) => {
      this.width = Math.max(80, Math.floor(entry!.contentRect.width) - NAMES);
    });
    this.#observer.observe(this);
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.#observer?.disconnect();
  }

  override willUpdate(changed: Map<string, unknown>): void {
    if (!changed.has('lanes')) return;
    this.span = this.lanes;
    this.cursorMs = undefined;
  }

  override render() {
    const { lanes, span } = this;
    if (lanes === undefined || span === undefined) return nothing;
    return html`
      <svg
        width=${this.width + NAMES} height=${HEIGHT} tabindex="0" role="img"
        aria-label="Time ruler of the shot, milliseconds after the trigger. Plus and minus zoom, arrow keys move the cursor, 0 shows all; the table below has the same instants."
        @wheel=${this.#wheel} @pointerdown=${this.#grab} @pointermove=${this.#point} @pointerup=${this.#drop}
        @pointerleave=${this.#leave} @keydown=${this.#key}
      >
        <defs>
          <pattern id="hatch" width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
            <line x1="0" y1="0" x2="0" y2="6" class="hatch"></line>
          </pattern>
          <clipPath id="view"><rect x="0" y="0" width=${this.width} height=${HEIGHT}></rect></clipPath>
        </defs>
        ${(Object.keys(TITLES) as (keyof typeof TITLES)[]).map(
          (lane) => svg`<text class="name" x="0" y=${TOPS[lane] + LANES[lane] / 2 + 4}>${TITLES[lane]}</text>`,
        )}
        <g transform="translate(${NAMES} 0)" clip-path="url(#view)">
          ${this.#pictures(lanes)} ${this.#curve(lanes.light, 'light')} ${this.#sensor(lanes)}
          ${this.#bit(lanes)} ${this.#looking(lanes)} ${this.#axis(span)} ${this.#markLines()} ${this.#cursor()}
        </g>
      </svg>
      <p class="readout">${this.#readout()}</p>
      ${this.#table()}
    `;
  }

  #x(ms: number): number {
    return pixelsOf(ms, this.span!, this.width);
  }

  #block(lane: Lane, { fromMs, toMs }: Span, name: string) {
    const x = this.#x(fromMs);
    return svg`<rect class=${name} x=${x} y=${TOPS[lane]} width=${Math.max(1, this.#x(toMs) - x)} height=${LANES[lane]}></rect>`;
  }

  #pictures({ pictures }: ShotLanes) {
    return pictures.map((picture) => this.#block('pictures', picture, picture.isFlash ? 'picture flash' : 'picture'));
  }

  /** Least and largest of each column as one shape, so that a short pulse stays visible at every zoom. */
  #curve(values: Float32Array, lane: 'light' | 'sensor') {
    const { fromMs, toMs } = this.lanes!;
    const columns = values.length / 2;
    const top = Math.max(1, ...values);
    const y = (value: number): number => TOPS[lane] + LANES[lane] * (1 - value / top);
    const x = (column: number): number => this.#x(fromMs + ((column + 0.5) / columns) * (toMs - fromMs));
    const upper = Array.from({ length: columns }, (_, i) => `${x(i).toFixed(1)} ${y(values[2 * i + 1]!).toFixed(1)}`);
    const lower = Array.from({ length: columns }, (_, i) => `${x(i).toFixed(1)} ${y(values[2 * i]!).toFixed(1)}`);
    return svg`<path class=${`curve ${lane}`} d=${`M${upper.join('L')}L${lower.reverse().join('L')}Z`}></path>`;
  }

  #sensor({ sensor, threshold, fromMs, toMs }: ShotLanes) {
    const top = Math.max(1, ...sensor);
    const points = Array.from(threshold, (value, i) => {
      const x = this.#x(fromMs + ((i + 0.5) / threshold.length) * (toMs - fromMs));
      const y = TOPS.sensor + LANES.sensor * (1 - Math.min(1, value / top));
      return `${x.toFixed(1)} ${y.toFixed(1)}`;
    });
    return [this.#curve(sensor, 'sensor'), svg`<path class="threshold" d=${`M${points.join('L')}`}></path>`];
  }

  #bit({ lit }: ShotLanes) {
    return lit.map((stretch) => this.#block('bit', stretch, 'lit'));
  }

  #looking(lanes: ShotLanes) {
    return [
      this.#block('looking', lanes, 'not-looking'),
      ...lanes.looking.map((stretch) => this.#block('looking', stretch, 'looking')),
    ];
  }

  #axis(span: Span) {
    const y = TOPS.axis;
    return axisSteps(span, Math.max(2, this.width / 90)).map(
      (ms) => svg`
        <line class="tick" x1=${this.#x(ms)} x2=${this.#x(ms)} y1=${y - 4} y2=${y + 4}></line>
        <text class="step" x=${this.#x(ms)} y=${y + 17} text-anchor=${this.#anchor(ms)}>${Number(ms.toFixed(4))} ms</text>
      `,
    );
  }

  /** A label at the border begins or ends there. */
  #anchor(ms: number): 'start' | 'middle' | 'end' {
    const x = this.#x(ms);
    return x < LABEL_PIXELS ? 'start' : x > this.width - LABEL_PIXELS ? 'end' : 'middle';
  }

  #markLines() {
    return this.marks.map(
      ({ name, ms }) =>
        svg`<line class=${`mark ${name}`} x1=${this.#x(ms)} x2=${this.#x(ms)} y1="0" y2=${TOPS.axis}></line>`,
    );
  }

  #cursor() {
    if (this.cursorMs === undefined) return nothing;
    const x = this.#x(this.cursorMs);
    return svg`<line class="cursor" x1=${x} x2=${x} y1="0" y2=${TOPS.axis}></line>`;
  }

  #readout() {
    if (this.cursorMs === undefined) return 'Point at the ruler: wheel zooms, dragging moves.';
    const mark = this.marks.find(({ ms }) => ms === this.cursorMs);
    return `${this.cursorMs.toFixed(3)} ms after the trigger${mark === undefined ? '' : `: ${mark.title}`}`;
  }

  #table() {
    return html`
      <details>
        <summary>The instants as a table</summary>
        <table>
          ${this.marks.map(({ title, ms }) => html`<tr><th scope="row">${title}</th><td>${ms.toFixed(3)} ms</td></tr>`)}
        </table>
      </details>
    `;
  }

  /** The nearest mark if it is close, else the moment itself. */
  #snapped(ms: number): number {
    const near = [...this.marks].sort((a, b) => Math.abs(a.ms - ms) - Math.abs(b.ms - ms))[0];
    return near !== undefined && Math.abs(this.#x(near.ms) - this.#x(ms)) <= SNAP_PIXELS ? near.ms : ms;
  }

  #msOf(event: MouseEvent): number {
    const box = (event.currentTarget as Element).getBoundingClientRect();
    return msAt(event.clientX - box.left - NAMES, this.span!, this.width);
  }

  #wheel = (event: WheelEvent): void => {
    event.preventDefault();
    this.span = zoomed(this.span!, event.deltaY > 0 ? 1 / ZOOM : ZOOM, this.#msOf(event), this.lanes!);
  };

  #grab = (event: PointerEvent): void => {
    this.#dragFrom = { x: event.clientX, span: this.span! };
    (event.currentTarget as Element).setPointerCapture(event.pointerId);
  };

  #point = (event: PointerEvent): void => {
    if (this.#dragFrom === undefined) {
      this.cursorMs = this.#snapped(this.#msOf(event));
      return;
    }
    const { x, span } = this.#dragFrom;
    this.span = moved(span, ((x - event.clientX) / this.width) * (span.toMs - span.fromMs), this.lanes!);
  };

  #drop = (): void => {
    this.#dragFrom = undefined;
  };

  #leave = (): void => {
    this.cursorMs = undefined;
  };

  #key = (event: KeyboardEvent): void => {
    const span = this.span!;
    const middle = this.cursorMs ?? (span.fromMs + span.toMs) / 2;
    const step = (span.toMs - span.fromMs) / 50;
    if (event.key === '+' || event.key === '=') this.span = zoomed(span, ZOOM, middle, this.lanes!);
    else if (event.key === '-') this.span = zoomed(span, 1 / ZOOM, middle, this.lanes!);
    else if (event.key === '0') this.span = this.lanes;
    else if (event.key === 'ArrowRight') this.#moveCursor(middle + step);
    else if (event.key === 'ArrowLeft') this.#moveCursor(middle - step);
    else return;
    event.preventDefault();
  };

  #moveCursor(ms: number): void {
    const { fromMs, toMs } = this.lanes!;
    this.cursorMs = Math.max(fromMs, Math.min(toMs, ms));
    const { span } = this;
    if (this.cursorMs < span!.fromMs) this.span = moved(span!, this.cursorMs - span!.fromMs, this.lanes!);
    if (this.cursorMs > span!.toMs) this.span = moved(span!, this.cursorMs - span!.toMs, this.lanes!);
  }
}

customElements.define('time-ruler', TimeRuler);

declare global {
  interface HTMLElementTagNameMap {
    'time-ruler': TimeRuler;
  }
}
