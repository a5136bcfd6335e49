import type { LightPath } from '../light/light-path.ts';

/** Ticks [from, to). */
export interface TickRange {
  readonly from: number;
  readonly to: number;
}

/** Least and largest by column of equal width, cd/m2: light and sensor as pairs, shape `[column * 2 + 0|1]`. */
export interface LightExtremes {
  readonly light: Float32Array;
  readonly sensor: Float32Array;
  /** At the end of each column. */
  readonly threshold: Float32Array;
}

/** Ticks at which the light is looked at, ascending. */
export interface LookedAt {
  /** Light and sensor are; at least one in every column. */
  readonly lattice: Float64Array;
  /** The light alone is: what the beam does to the sensor comes later and is slower. */
  readonly beam: Float64Array;
}

/** What the light did in a stretch, looked at at these ticks only. `path` stands at or before the first of them and goes on. */
export function lightExtremes(
  path: LightPath,
  { lattice, beam }: LookedAt,
  { from, to }: TickRange,
  columns: number,
  thresholdCdM2: number,
): LightExtremes {
  const light = emptyPairs(columns);
  const sensor = emptyPairs(columns);
  const threshold = new Float32Array(columns);
  const columnOf = (tick: number): number => Math.min(columns - 1, Math.floor(((tick - from) / (to - from)) * columns));
  // The drawn path goes ahead and the committed one follows: a drawn one that is behind is made from that again.
  const lookAtLight = (tick: number): void => {
    widen(light, columnOf(tick), path.lightAt(tick));
    path.bitAt(tick);
  };
  let next = 0;
  for (const tick of lattice) {
    for (; next < beam.length && beam[next]! < tick; next++) lookAtLight(beam[next]!);
    lookAtLight(tick);
    const { x, b } = path.sensorAt(tick);
    widen(sensor, columnOf(tick), x);
    threshold[columnOf(tick)] = b + thresholdCdM2;
  }
  for (; next < beam.length; next++) lookAtLight(beam[next]!);
  return { light, sensor, threshold };
}

const emptyPairs = (columns: number): Float32Array =>
  Float32Array.from({ length: 2 * columns }, (_, i) =>
    i % 2 === 0 ? Number.POSITIVE_INFINITY : Number.NEGATIVE_INFINITY,
  );

function widen(pairs: Float32Array, column: number, value: number): void {
  pairs[2 * column] = Math.min(pairs[2 * column]!, value);
  pairs[2 * column + 1] = Math.max(pairs[2 * column + 1]!, value);
}

/** The points of a lattice in a range. */
export function latticeTicks({ from, to }: TickRange, origin: number, step: number): Float64Array {
  const first = origin + Math.ceil((from - origin) / step) * step;
  return Float64Array.from({ length: Math.max(0, Math.ceil((to - first) / step)) }, (_, k) => first + k * step);
}
