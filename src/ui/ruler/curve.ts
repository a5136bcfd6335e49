import type { Span } from '../time-scale.ts';
import type { MinMaxPyramid } from './min-max-pyramid.ts';

/** A curve by columns of equal width over a stretch of time. */
export interface Curve extends Span {
  readonly pyramid: MinMaxPyramid;
}

/** Points of a band: x in pixels, least and largest of what lies there. */
export interface BandPoints {
  readonly x: Float64Array;
  readonly least: Float64Array;
  readonly largest: Float64Array;
}

/**
 * What is to be drawn of a curve over a stretch of time that is `width` pixels wide: one point a pixel where the curve has
 * more columns than that, else one a column. Columns just outside the stretch are taken along, so that lines reach the border.
 */
export function curvePoints({ fromMs, toMs, pyramid }: Curve, span: Span, width: number): BandPoints {
  const columnMs = (toMs - fromMs) / pyramid.columns;
  const pixelMs = (span.toMs - span.fromMs) / width;
  const columnAt = (ms: number): number => (ms - fromMs) / columnMs;
  return pixelMs > columnMs ? byPixel(pyramid, width, (pixel) => columnAt(span.fromMs + pixel * pixelMs)) : byColumn();

  function byColumn(): BandPoints {
    const first = Math.max(0, Math.floor(columnAt(span.fromMs)) - 1);
    const end = Math.min(pyramid.columns, Math.ceil(columnAt(span.toMs)) + 1);
    const points = emptyPoints(Math.max(0, end - first));
    for (let column = first; column < end; column++) {
      put(
        points,
        column - first,
        (fromMs + (column + 0.5) * columnMs - span.fromMs) / pixelMs,
        pyramid,
        column,
        column + 1,
      );
    }
    return points;
  }
}

function byPixel(pyramid: MinMaxPyramid, width: number, columnAt: (pixel: number) => number): BandPoints {
  const first = Math.max(0, Math.ceil(-columnAt(0) / (columnAt(1) - columnAt(0))));
  const points = emptyPoints(Math.ceil(width));
  let count = 0;
  for (let pixel = first; pixel < width; pixel++) {
    const from = Math.max(0, Math.floor(columnAt(pixel)));
    const to = Math.min(pyramid.columns, Math.max(from + 1, Math.ceil(columnAt(pixel + 1))));
    if (from < to) put(points, count++, pixel + 0.5, pyramid, from, to);
  }
  const { x, least, largest } = points;
  return { x: x.subarray(0, count), least: least.subarray(0, count), largest: largest.subarray(0, count) };
}

const emptyPoints = (count: number): BandPoints => ({
  x: new Float64Array(count),
  least: new Float64Array(count),
  largest: new Float64Array(count),
});

function put(points: BandPoints, at: number, x: number, pyramid: MinMaxPyramid, from: number, to: number): void {
  const [least, largest] = pyramid.extremes(from, to);
  points.x[at] = x;
  points.least[at] = least;
  points.largest[at] = largest;
}
