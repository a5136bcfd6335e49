import type { AimMove } from '../light/light-path.ts';
import type { ModelSetting } from '../light/parameters.ts';
import type { ModelSpec, ParameterSpec, ParameterValues, Preset, Sourced } from '../references/sourced.ts';
import { cos, exp, ln, sin } from '../units/exact-math.ts';
import { hashNoise } from '../units/noise.ts';
import { PICTURE_HEIGHT, PICTURE_WIDTH, type Timing, ticksToSeconds } from '../units/timing.ts';
import type { Aim } from './truth.ts';

const sourced = (value: number, unit: string, kind: Sourced['kind'], source: string): Sourced => ({
  value,
  unit,
  source,
  kind,
});
const estimate = (value: number, unit: string, what: string): Sourced =>
  sourced(value, unit, 'assumed', `assumed: ${what}`);
const NOVICE = 'one-handed novice, estimate';
const HALVED = 'half of one-handed, estimate';
const parameter = (name: string, title: string, min: number, max: number, standard: Sourced): ParameterSpec => ({
  name,
  title,
  unit: standard.unit,
  min,
  max,
  standard,
});

const DRIFT_S = estimate(0.7, 's', 'estimate');
const ARM_HZ = estimate(
  3.5,
  'Hz',
  'the middle of a mechanical resonance of 2 to 5 Hz, Elble and Randall 1978 (from memory)',
);
const TREMOR_HZ = estimate(
  9.5,
  'Hz',
  'near the middle of 8 to 12 Hz, the tremor that the title of Lippold, J. Physiol. 1970 names',
);
const QUALITY = estimate(4, '', 'estimate');
const NO_PULL = sourced(0, 'degrees', 'derived', 'derived: no step');
const PULL = sourced(0.3, 'degrees', 'common practice', '0.1 to 0.5 degrees, no source');
const PULL_MS = sourced(150, 'ms', 'common practice', '100 to 200 ms, no source');
const DOT_MRAD = sourced(
  0.857,
  'mrad',
  'derived',
  'derived: 27 inch 4:3 screen, 411 mm high, 240 lines, seen from 2 m',
);

const hand = (share: number, what: string, pullDeg: Sourced): Preset['values'] => ({
  driftDeg: estimate(0.15 * share, 'degrees', what),
  driftS: DRIFT_S,
  armDeg: estimate(0.06 * share, 'degrees', what),
  armHz: ARM_HZ,
  tremorDeg: estimate(0.03 * share, 'degrees', what),
  tremorHz: TREMOR_HZ,
  quality: QUALITY,
  pullDeg,
  pullMs: PULL_MS,
  dotMrad: DOT_MRAD,
});
const oneHanded = hand(1, NOVICE, NO_PULL);

const spec: ModelSpec = {
  kind: 'swaying-hand',
  title: 'hand that sways',
  what: 'Moves the aim from the trigger on: slow drift, the arm, tremor, and a step as the trigger is pulled.',
  parameters: [
    parameter('driftDeg', 'drift, standard deviation', 0, 2, oneHanded['driftDeg']!),
    parameter('driftS', 'time constant of the drift', 0.05, 10, DRIFT_S),
    parameter('armDeg', 'swing of the arm, standard deviation', 0, 2, oneHanded['armDeg']!),
    parameter('armHz', 'frequency of the arm', 0.5, 20, ARM_HZ),
    parameter('tremorDeg', 'tremor, standard deviation', 0, 2, oneHanded['tremorDeg']!),
    parameter('tremorHz', 'frequency of the tremor', 0.5, 20, TREMOR_HZ),
    parameter('quality', 'quality of arm and tremor as resonators', 0.6, 50, QUALITY),
    parameter('pullDeg', 'step as the trigger is pulled', 0, 2, NO_PULL),
    parameter('pullMs', 'how long the step takes', 1, 1000, PULL_MS),
    parameter('dotMrad', 'angle of a dot, seen from the hand', 0.05, 10, DOT_MRAD),
  ],
  presets: [
    { id: 'one-handed', title: 'novice, one hand', values: oneHanded },
    { id: 'braced', title: 'both hands or braced', values: hand(0.5, HALVED, NO_PULL) },
    { id: 'one-handed-pull', title: 'novice, one hand, 0.3 degree step at the pull', values: hand(1, NOVICE, PULL) },
    { id: 'braced-pull', title: 'both hands or braced, 0.3 degree step at the pull', values: hand(0.5, HALVED, PULL) },
  ],
};

/** The kinds of hand, for schemas and help texts. */
export const HANDS: readonly ModelSpec[] = [spec];

/**
 * Points of the noise grid (1,074 / 1,330 / 1,330 ticks from power-on, 0.05 ms) from one move of the aim to the next: 8.3 ms,
 * half a frame. Our choice: the one-handed preset moves by 0.5 dots in that time.
 */
const GRID_POINTS = 166;
const GRID_TICKS = { '60hz': 1074, '50hz': 1330, '50hz-clone': 1330 } as const;

/** Draws of one component of one axis in one shot. */
const DRAWS_PER_SHOT = 0x10_0000;

/** What the sway of a shot is drawn from. */
export interface Lot {
  readonly seed: number;
  readonly shot: number;
}

/**
 * Where a swaying hand takes the aim after the trigger.
 *
 * At the trigger the wand points at the aim; from there it moves as the hand does, in x and y alike: an Ornstein-Uhlenbeck
 * drift, two resonators driven by white noise, each in its steady state when the trigger is pulled, and a step in a direction
 * drawn by lot. It moves at points of the noise grid and stands between them. Stepped exactly, so that what is drawn does not
 * depend on how far the shot goes.
 * Ticks of the moves: after `triggerTick`, up to `endTick`.
 */
export function handMoves(
  hand: ModelSetting,
  aim: Aim,
  triggerTick: number,
  endTick: number,
  lot: Lot,
  timing: Timing,
): AimMove[] {
  const values = hand as unknown as ParameterValues;
  const every = GRID_POINTS * GRID_TICKS[timing.id];
  const stepS = ticksToSeconds(timing, every);
  const dotsPerDegree = (1000 * RADIANS_PER_DEGREE) / values['dotMrad']!;
  const axes = [0, 1].map((axis) => new AxisSway(values, lot, axis));
  const direction = 2 * PI * hashNoise(lot.seed, PULL_STREAM, lot.shot * DRAWS_PER_SHOT);
  const toPull = [cos(direction), sin(direction)];
  const moves: AimMove[] = [];
  let tick = (Math.floor(triggerTick / every) + 1) * every;
  for (let last = triggerTick; tick <= endTick; last = tick, tick += every) {
    const sinceLast = tick - last === every ? stepS : ticksToSeconds(timing, tick - last);
    const pull =
      values['pullDeg']! * Math.min(1, (ticksToSeconds(timing, tick - triggerTick) * 1000) / values['pullMs']!);
    const at = axes.map((sway, axis) => dotsPerDegree * (sway.after(sinceLast) + pull * toPull[axis]!));
    moves.push({ tick, aim: onGlass(aim.x + at[0]!, aim.y + at[1]!) });
  }
  return moves;
}

const PI = 3.141592653589793;
const RADIANS_PER_DEGREE = PI / 180;
/** Streams 0 to 7 are those of the two axes. */
const PULL_STREAM = 8;

/** A light path takes aims up to one screen beside the screen. */
const onGlass = (x: number, y: number): Aim => ({
  x: Math.min(2 * PICTURE_WIDTH, Math.max(-PICTURE_WIDTH, x)),
  y: Math.min(2 * PICTURE_HEIGHT, Math.max(-PICTURE_HEIGHT, y)),
});

/** Displacement of one axis since the trigger, in degrees. */
class AxisSway {
  readonly #parts: readonly (Drift | Resonator)[];
  readonly #start: number;

  constructor(values: ParameterValues, lot: Lot, axis: number) {
    const toss = (part: number) => new Tosses(lot, 4 * axis + part);
    this.#parts = [
      new Drift(values['driftDeg']!, values['driftS']!, toss(0)),
      new Resonator(values['armDeg']!, values['armHz']!, values['quality']!, toss(1)),
      new Resonator(values['tremorDeg']!, values['tremorHz']!, values['quality']!, toss(2)),
    ];
    this.#start = this.#sum();
  }

  after(seconds: number): number {
    for (const part of this.#parts) part.step(seconds);
    return this.#sum() - this.#start;
  }

  #sum(): number {
    return this.#parts.reduce((sum, { position }) => sum + position, 0);
  }
}

/** Ornstein-Uhlenbeck process in its steady state. */
class Drift {
  position: number;
  readonly #deviation: number;
  readonly #tauS: number;
  readonly #toss: Tosses;

  constructor(deviation: number, tauS: number, toss: Tosses) {
    this.#deviation = deviation;
    this.#tauS = tauS;
    this.#toss = toss;
    this.position = deviation * toss.next();
  }

  step(seconds: number): void {
    const kept = exp(-seconds / this.#tauS);
    this.position = kept * this.position + this.#deviation * Math.sqrt(1 - kept * kept) * this.#toss.next();
  }
}

/**
 * Damped oscillator driven by white noise, in its steady state: position and speed are independent there, the speed with w0
 * times the deviation of the position. A step is exact: the state turns and decays, and noise of the covariance that is
 * missing to the steady state comes in.
 */
class Resonator {
  position: number;
  /** Speed / w0. */
  #speed: number;
  readonly #deviation: number;
  readonly #w0: number;
  readonly #quality: number;
  readonly #toss: Tosses;

  constructor(deviation: number, frequencyHz: number, quality: number, toss: Tosses) {
    this.#deviation = deviation;
    this.#w0 = 2 * PI * frequencyHz;
    this.#quality = quality;
    this.#toss = toss;
    this.position = deviation * toss.next();
    this.#speed = deviation * toss.next();
  }

  step(seconds: number): void {
    const damping = 1 / (2 * this.#quality);
    const ring = Math.sqrt(1 - damping * damping);
    const angle = this.#w0 * seconds;
    const decay = exp(-damping * angle);
    const [c, s] = [decay * cos(ring * angle), (decay * sin(ring * angle)) / ring];
    // Transition of (position, speed / w0).
    const [a11, a12, a21, a22] = [c + damping * s, s, -s, c - damping * s];
    // Covariance 1 - A A^T of the noise that comes in, as a triangular root.
    const q11 = Math.max(0, 1 - a11 * a11 - a12 * a12);
    const q12 = -(a11 * a21 + a12 * a22);
    const q22 = Math.max(0, 1 - a21 * a21 - a22 * a22);
    const root11 = Math.sqrt(q11);
    const root21 = root11 > 0 ? q12 / root11 : 0;
    const root22 = Math.sqrt(Math.max(0, q22 - root21 * root21));
    const [first, second] = [this.#toss.next(), this.#toss.next()];
    const [position, speed] = [this.position, this.#speed];
    this.position = a11 * position + a12 * speed + this.#deviation * root11 * first;
    this.#speed = a21 * position + a22 * speed + this.#deviation * (root21 * first + root22 * second);
  }
}

/** Standard normal variables of one stream, by Box and Muller (from memory). */
class Tosses {
  readonly #seed: number;
  readonly #stream: number;
  #index: number;

  constructor({ seed, shot }: Lot, stream: number) {
    this.#seed = seed;
    this.#stream = stream;
    this.#index = shot * DRAWS_PER_SHOT;
  }

  next(): number {
    const radius = Math.sqrt(-2 * ln(1 - hashNoise(this.#seed, this.#stream, this.#index++)));
    return radius * cos(2 * PI * hashNoise(this.#seed, this.#stream, this.#index++));
  }
}
