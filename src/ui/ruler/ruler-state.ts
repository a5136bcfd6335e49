import { grouped } from '../../units/grouped.ts';
import { TIMINGS, ticksPerFrame, ticksPerLine, ticksToMs } from '../../units/timing.ts';
import { type LanesDetail, placeAt, type ShotLanes, type ShotMark } from '../../workers/play.api.ts';
import { moved, type Span } from '../time-scale.ts';
import type { Curve } from './curve.ts';
import { MinMaxPyramid } from './min-max-pyramid.ts';
import { type LaneScale, msText, type RulerCurves } from './ruler-view.ts';
import { SnapPoints } from './snap-points.ts';

/** What is made once of a shot, so that drawing it at any zoom is quick. */
export class ShotCurves {
  readonly whole: RulerCurves;
  readonly lightScale: LaneScale;
  readonly sensorScale: LaneScale;
  readonly snapPoints: SnapPoints;
  #detail: { readonly of: LanesDetail; readonly curves: RulerCurves } | undefined;

  constructor(lanes: ShotLanes, marks: readonly ShotMark[]) {
    this.whole = curvesOf(lanes);
    const { light, sensor, threshold } = this.whole;
    this.lightScale = scaleOf([light]);
    this.sensorScale = scaleOf([sensor, threshold]);
    this.snapPoints = new SnapPoints(lanes, marks);
  }

  /** The finest curves that cover what is seen. */
  covering(span: Span, detail: LanesDetail | undefined): RulerCurves {
    const { fromMs, toMs } = this.whole.light;
    const isLess = (one: Span): boolean =>
      one.fromMs > Math.max(fromMs, span.fromMs) + 1e-9 || one.toMs < Math.min(toMs, span.toMs) - 1e-9;
    if (detail === undefined || isLess(detail)) return this.whole;
    if (this.#detail?.of !== detail) this.#detail = { of: detail, curves: curvesOf(detail) };
    const { curves } = this.#detail;
    return columnMs(curves.light) < columnMs(this.whole.light) ? curves : this.whole;
  }
}

/** Width of a column. */
export const columnMs = ({ fromMs, toMs, pyramid }: Curve): number => (toMs - fromMs) / pyramid.columns;

function curvesOf({ fromMs, toMs, light, sensor, threshold }: LanesDetail): RulerCurves {
  const curve = (pairs: Float32Array): Curve => ({ fromMs, toMs, pyramid: new MinMaxPyramid(pairs) });
  const doubled = new Float32Array(2 * threshold.length);
  for (let at = 0; at < doubled.length; at++) doubled[at] = threshold[at >> 1]!;
  return { light: curve(light), sensor: curve(sensor), threshold: curve(doubled) };
}

/** From 0 or what lies below it to the largest. */
function scaleOf(curves: readonly Curve[]): LaneScale {
  const extremes = curves.map(({ pyramid }) => pyramid.extremes(0, pyramid.columns));
  const least = Math.min(0, ...extremes.map(([one]) => one));
  return { least, largest: Math.max(least + 1e-3, ...extremes.map(([, one]) => one)) };
}

/** The span moved so that a time is seen. */
export function showing(span: Span, ms: number, whole: Span): Span {
  if (ms >= span.fromMs && ms <= span.toMs) return span;
  return moved(span, ms - (span.fromMs + span.toMs) / 2, whole);
}

/** One thing that is said of the cursor's time. */
export interface CursorPart {
  readonly name: string;
  readonly value: string;
}

/** Everything that is known of a time of the shot. */
export function cursorParts(lanes: ShotLanes, marks: readonly ShotMark[], ms: number): CursorPart[] {
  const { tick, frame, scanline, dot, cycle } = placeAt(lanes.clock, ms);
  const whole = (value: number | null): string => (value === null ? '\u2013' : grouped(value));
  const parts = [
    { name: 'time', value: msText(ms, 4) },
    { name: 'tick', value: whole(tick) },
    { name: 'frame', value: whole(frame) },
    { name: 'scanline', value: whole(scanline) },
    { name: 'dot', value: whole(dot) },
    { name: 'cycle', value: whole(cycle) },
  ];
  const code = codeAt(lanes, ms);
  if (code !== undefined) parts.push({ name: 'code', value: code });
  const mark = marks.find((one) => Math.abs(one.ms - ms) < 1e-9);
  if (mark !== undefined) parts.push({ name: 'instant', value: mark.title });
  return parts;
}

/** Where the latest read of the port at or before a time stands in the code. */
function codeAt({ reads, readCodes, codes }: ShotLanes, ms: number): string | undefined {
  let [low, high] = [0, reads.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (reads[middle]! <= ms + 1e-9) low = middle + 1;
    else high = middle;
  }
  return low === 0 ? undefined : codes[readCodes[low - 1]!];
}

/** What stands at the cursor itself; the less time is seen, the more digits. */
export function cursorText(lanes: ShotLanes, ms: number, { fromMs, toMs }: Span): string {
  const digits = toMs - fromMs > 20 ? 2 : toMs - fromMs > 2 ? 3 : 4;
  const { scanline, dot } = placeAt(lanes.clock, ms);
  const place = scanline === null ? '' : ` · scanline ${scanline} · dot ${dot}`;
  return `${msText(ms, digits)}${place}`;
}

/** What lies between two times. */
export function measureText({ clock }: ShotLanes, fromMs: number, toMs: number): string {
  const timing = TIMINGS[clock.timing];
  const lengthMs = Math.abs(toMs - fromMs);
  const lines = lengthMs / ticksToMs(timing, ticksPerLine(timing));
  const frames = lengthMs / ticksToMs(timing, ticksPerFrame(timing));
  return `${msText(lengthMs, 3)} · ${lines.toFixed(1)} scanlines · ${frames.toFixed(2)} frames`;
}
