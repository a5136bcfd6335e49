import type { LightPathSettings } from '../../shot/light-path-settings.ts';
import type { PlayOutcome, ShotLanes } from '../../workers/play.api.ts';

/** Size of a station's drawing, in the units of its path. */
export const PLOT = { width: 40, height: 18 } as const;

/** Least room above the floor that a curve gets, so that noise on nothing is not drawn as a mountain. */
const LEAST_TOP = 1e-3;

/**
 * What every station does to the flash of a shot, as SVG paths on one time axis, from the console's plug to the bit. The
 * optics have no time: theirs is how the spot weighs the glass.
 */
export function stationPlots({ lanes, wires }: PlayOutcome, path: LightPathSettings): string[] | undefined {
  if (lanes === null || wires === null) return undefined;
  const light = cutTo(lanes, largestOfPairs(lanes.light));
  const sensor = cutTo(lanes, largestOfPairs(lanes.sensor));
  return [
    ...wires.traces.map((trace) => curve(trace)),
    curve(light),
    curve(withRoom(light, path)),
    curve(spotProfile()),
    curve(sensor, 0),
    bitPath(lanes),
  ];
}

/** The part of the columns from the trigger on: lanes begin before it. */
function cutTo({ fromMs, toMs }: ShotLanes, columns: Float32Array): Float32Array {
  return columns.slice(Math.min(columns.length - 2, Math.round((-fromMs / (toMs - fromMs)) * columns.length)));
}

const largestOfPairs = (pairs: Float32Array): Float32Array =>
  Float32Array.from({ length: pairs.length / 2 }, (_, i) => pairs[2 * i + 1]!);

/** A curve that fills the height; one that never rises lies on the floor. `floor`: what is drawn at the bottom. */
function curve(values: ArrayLike<number>, floor?: number): string {
  const columns = Array.from({ length: PLOT.width }, (_, x) => {
    const from = Math.floor((x / PLOT.width) * values.length);
    const to = Math.max(from + 1, Math.floor(((x + 1) / PLOT.width) * values.length));
    return Array.from({ length: to - from }, (_, i) => values[from + i]!).reduce((a, b) => Math.max(a, b));
  });
  const bottom = floor ?? Math.min(...columns);
  const top = Math.max(...columns, bottom + LEAST_TOP);
  const y = (value: number): string => (PLOT.height * (1 - (value - bottom) / (top - bottom))).toFixed(1);
  return `M${columns.map((value, x) => `${x} ${y(value)}`).join('L')}`;
}

const RIPPLES = 4;

/** A flickering room as ripples on the light; their number is no frequency. */
function withRoom(light: Float32Array, { room }: LightPathSettings): Float32Array {
  const percent = room['flickerPercent'];
  if (typeof percent !== 'number') return light;
  const top = light.reduce((a, b) => Math.max(a, b), 0);
  const swing = 0.25 * (percent / 100) * top;
  return light.map((value, i) => value + swing * Math.sin((i / light.length) * RIPPLES * 2 * Math.PI));
}

const spotProfile = (): number[] =>
  Array.from({ length: PLOT.width }, (_, x) => Math.exp(-(((x - PLOT.width / 2) / (PLOT.width / 6)) ** 2)));

function bitPath({ lit, toMs }: ShotLanes): string {
  const x = (ms: number): string => (PLOT.width * Math.max(0, Math.min(1, ms / toMs))).toFixed(1);
  const steps = lit
    .filter((stretch) => stretch.toMs > 0)
    .map(({ fromMs, toMs }) => `H${x(fromMs)}V1H${x(toMs)}V${PLOT.height}`);
  return `M0 ${PLOT.height}${steps.join('')}H${PLOT.width}`;
}
