import { LightPath, type LightPathSettings, type LightPathState } from '../../src/light/light-path.ts';
import { PANELS } from '../../src/light/panel/index.ts';
import { type ModelSetting, standardValues } from '../../src/light/parameters.ts';
import { ROOMS } from '../../src/light/room/index.ts';
import { SENSORS } from '../../src/light/sensor/index.ts';
import { PictureHistory } from '../../src/picture/picture.ts';
import type { ModelSpec } from '../../src/references/sourced.ts';
import { Fingerprint } from '../../src/units/hash.ts';
import { hashNoise } from '../../src/units/noise.ts';
import { TIMINGS, type Timing, ticksPerFrame } from '../../src/units/timing.ts';

export const BLACK = 0x0f;
export const WHITE = 0x20;
export const TIMING_60 = TIMINGS['60hz'];

/** Writes the codes of picture n. */
export type Painter = (codes: Uint16Array, n: number) => void;

export interface Reel {
  readonly paint: Painter;
  readonly frames: number;
  readonly timing?: Timing;
  readonly firstTick?: number;
  readonly capacity?: number;
}

/** A history in which all pictures have begun; every second one is a dot short on a timing that skips. */
export function play({
  paint,
  frames,
  timing = TIMING_60,
  firstTick = 0,
  capacity = frames + 16,
}: Reel): PictureHistory {
  const history = new PictureHistory(capacity);
  for (let n = 0; n < frames; n++) beginPicture(history, paint, n, timing, firstTick);
  return history;
}

/** Begin picture n where the console would. */
export function beginPicture(
  history: PictureHistory,
  paint: Painter,
  n: number,
  timing: Timing,
  firstTick = 0,
): number {
  const skipped = timing.skipsOddDot ? Math.floor(n / 2) * timing.dotDivider : 0;
  const tick = firstTick + n * ticksPerFrame(timing) - skipped;
  paint(history.begin(tick, []).codes, n);
  return tick;
}

const setting = (spec: ModelSpec, values: Record<string, number> = {}): ModelSetting => ({
  kind: spec.kind,
  ...standardValues(spec),
  ...values,
});

/** A model's setting: its standard values, and those that are given instead. */
const settingOf =
  (models: readonly { readonly spec: ModelSpec }[], kind: string) =>
  (values: Record<string, number> = {}): ModelSetting =>
    setting(models.find(({ spec }) => spec.kind === kind)!.spec, values);

export const lcd = settingOf(PANELS, 'lcd');
export const tube = settingOf(PANELS, 'beam-tube');
export const wideBand = settingOf(SENSORS, 'wide-band');
export const lineRate = settingOf(SENSORS, 'line-rate');
export const lamp = settingOf(ROOMS, 'flickering-light');
export const delay = (delayMs: number): ModelSetting => ({ kind: 'pure-delay', delayMs });
export const spot = (radiusDots: number): ModelSetting => ({ kind: 'gaussian-spot', radiusDots });
export const room = (illuminanceLux: number, diffuseReflectance01 = 0.1): ModelSetting => ({
  kind: 'constant-light',
  illuminanceLux,
  diffuseReflectance01,
});

export const STANDARD: LightPathSettings = {
  stages: [delay(32)],
  panel: lcd(),
  room: room(50),
  optics: spot(2),
  sensor: wideBand(),
};

export function makePath(
  settings: Partial<LightPathSettings>,
  history: PictureHistory,
  aim = { x: 128, y: 120 },
  timing: Timing = TIMING_60,
): LightPath {
  return new LightPath({ settings: { ...STANDARD, ...settings }, timing, history, aim });
}

/** Uniform in [low, high), whole numbers with `Math.floor`. */
export type Draw = (low: number, high: number) => number;

export function draws(seed: number, stream: number): Draw {
  let index = 0;
  return (low, high) => low + (high - low) * hashNoise(seed, stream, index++);
}

/** Pictures in blocks of 8 x 8 dots with random codes; each third picture repeats the one before. */
export function patchwork(seed: number): Painter {
  const drawn = new Map<number, Uint16Array>();
  return (codes, n) => {
    const same = n % 3 === 2 ? n - 1 : n;
    if (!drawn.has(same))
      drawn.set(
        same,
        codes.map((_, i) => blockCode(seed, same, (i >> 11) * 32 + ((i & 255) >> 3))),
      );
    codes.set(drawn.get(same)!);
  };
}

const blockCode = (seed: number, picture: number, block: number): number =>
  Math.floor(512 * hashNoise(seed, 2, picture * 1024 + block));

/** Black, and white in picture n where `isWhite(n)`. */
export const whole =
  (isWhite: (n: number) => boolean): Painter =>
  (codes, n) =>
    codes.fill(isWhite(n) ? WHITE : BLACK);

/** One hash of every number in a saved state. */
export function hashOf(state: LightPathState): string {
  const print = new Fingerprint();
  const add = (value: unknown): void => {
    if (typeof value === 'number') print.addDouble(value);
    else if (typeof value === 'boolean') print.addInt(Number(value));
    else if (typeof value === 'string') print.addText(value);
    else if (value instanceof Uint16Array || value instanceof Float64Array)
      for (const one of value) print.addDouble(one);
    else
      for (const [name, one] of Object.entries(value as object)) {
        print.addText(name);
        add(one);
      }
  };
  add(state);
  return print.digest();
}
