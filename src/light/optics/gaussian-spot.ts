import type { ModelSpec, Sourced } from '../../references/sourced.ts';
import { exp } from '../../units/exact-math.ts';
import { PICTURE_HEIGHT, PICTURE_WIDTH } from '../../units/timing.ts';
import { checkParameters } from '../parameters.ts';
import type { Aim, OpticsModel, SpotWeights } from './optics.ts';

const radius = (value: number, kind: Sourced['kind'], source: string): { radiusDots: Sourced } => ({
  radiusDots: { value, unit: 'dots', source, kind },
});
const LENS = 'derived: 2 m x tan(half-angle) / 1.270 mm a line on a 20 inch 4:3 tube';

const spec: ModelSpec = {
  kind: 'gaussian-spot',
  title: 'round soft spot',
  what: 'Weighs the screen around the aim with a Gaussian in x and y.',
  parameters: [
    {
      name: 'radiusDots',
      title: 'radius at half weight',
      unit: 'dots',
      min: 0.5,
      max: 60,
      standard: radius(6, 'assumed', 'assumed: a good lens; targets are 16 to 32 dots wide').radiusDots,
    },
  ],
  presets: [
    {
      id: 'fine-lens',
      title: 'good lens',
      values: radius(6, 'assumed', 'assumed: a good lens; targets are 16 to 32 dots wide'),
    },
    {
      id: 'original-lens',
      title: 'lens of the original device',
      values: radius(
        4,
        'derived',
        'derived: with it a disc of radius 4 dots lights the line-rate sensor for 21 lines (forum thread, 2014, measured)',
      ),
    },
    { id: 'half-degree', title: 'lens, half-angle 0.5 degrees at 2 m', values: radius(13.74, 'derived', LENS) },
    { id: 'one-degree', title: 'lens, half-angle 1 degree at 2 m', values: radius(27.49, 'derived', LENS) },
  ],
};

/** sqrt(2 ln 2): a Gaussian has half its weight this many sigmas from its centre. Derived. */
export const SIGMAS_TO_HALF = 1.1774100225154747;
/** The spot ends this many radii from the aim, in x and in y; the weight there is 1/16. Our choice. */
const SPOT_REACH_RADII = 2;

/** Weights along one axis, normalised over the whole lattice; only those on the screen are kept. */
interface AxisWeights {
  readonly first: number;
  readonly weight: readonly number[];
}

/** Element k of the lattice has its centre at `(k + 0.5) * pitch`; elements 0..count-1 are on the screen. */
function axisWeights(centre: number, radiusDots: number, pitch: number, count: number): AxisWeights {
  const reach = SPOT_REACH_RADII * radiusDots;
  const sigma = radiusDots / SIGMAS_TO_HALF;
  const first = Math.ceil((centre - reach) / pitch - 0.5);
  const last = Math.floor((centre + reach) / pitch - 0.5);
  const raw: number[] = [];
  for (let k = first; k <= last; k++) {
    const away = (k + 0.5) * pitch - centre;
    raw.push(exp((-away * away) / (2 * sigma * sigma)));
  }
  const total = raw.reduce((sum, weight) => sum + weight, 0);
  const from = Math.min(Math.max(first, 0), count);
  const to = Math.max(Math.min(last + 1, count), from);
  return { first: from, weight: raw.slice(from - first, to - first).map((weight) => weight / total) };
}

/** Spots that were computed last, newest first: the shots of a sweep look at one aim again and again. */
const RECENT_SPOTS = 4;
const recentSpots: {
  readonly aim: Aim;
  readonly radiusDots: number;
  readonly rows: number;
  readonly spot: SpotWeights;
}[] = [];

/** Weights that nobody may change: the same record is given out again. */
function spotWeights(aim: Aim, radiusDots: number, rows: number): SpotWeights {
  const known = recentSpots.find(
    (recent) =>
      recent.aim.x === aim.x && recent.aim.y === aim.y && recent.radiusDots === radiusDots && recent.rows === rows,
  );
  if (known !== undefined) return known.spot;
  const spot = computeSpot(aim, radiusDots, rows);
  recentSpots.unshift({ aim: { x: aim.x, y: aim.y }, radiusDots, rows, spot });
  recentSpots.length = Math.min(recentSpots.length, RECENT_SPOTS);
  return spot;
}

function computeSpot(aim: Aim, radiusDots: number, rows: number): SpotWeights {
  const x = axisWeights(aim.x, radiusDots, 1, PICTURE_WIDTH);
  const y = axisWeights(aim.y, radiusDots, PICTURE_HEIGHT / rows, rows);
  const dotCount = x.weight.length;
  const weight = new Float64Array(y.weight.length * dotCount);
  for (let row = 0; row < y.weight.length; row++)
    for (let dot = 0; dot < dotCount; dot++) weight[row * dotCount + dot] = y.weight[row]! * x.weight[dot]!;
  return {
    firstRow: y.first,
    rowCount: y.weight.length,
    firstDot: x.first,
    dotCount,
    weight,
  };
}

/** Position and size in dots and scanlines; covers [x, x + width) x [y, y + height). */
export interface Rectangle {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/**
 * Share (0..1) of the spot's weight on dots whose centre lies in the rectangle, for judging shots.
 * The lattice is that of dots and scanlines; what lies off the screen counts as outside.
 */
export function spotShare(aim: Aim, radiusDots: number, rectangle: Rectangle): number {
  const within = (axis: AxisWeights, start: number, size: number) =>
    axis.weight.reduce((sum, weight, i) => {
      const middle = axis.first + i + 0.5;
      return middle >= start && middle < start + size ? sum + weight : sum;
    }, 0);
  const x = within(axisWeights(aim.x, radiusDots, 1, PICTURE_WIDTH), rectangle.x, rectangle.width);
  const y = within(axisWeights(aim.y, radiusDots, 1, PICTURE_HEIGHT), rectangle.y, rectangle.height);
  return x * y;
}

/** A Gaussian spot: weight 1/2 at the radius (sigma = radius / 1.1774), cut at two radii in each axis. */
export const GAUSSIAN_SPOT: OpticsModel = {
  spec,
  create(values) {
    checkParameters(spec, values);
    const radiusDots = values['radiusDots']!;
    return { radiusDots, spot: (aim, rows) => spotWeights(aim, radiusDots, rows) };
  },
};
