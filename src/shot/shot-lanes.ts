import type { LightPath } from '../light/light-path.ts';
import type { PictureHistory } from '../picture/picture.ts';
import { type Timing, ticksPerFrame, ticksToMs } from '../units/timing.ts';
import type { ShotResult } from './shot-watch.ts';

/** A stretch of time, ms after the trigger. */
export interface Stretch {
  readonly fromMs: number;
  readonly toMs: number;
}

/**
 * What a time ruler draws of a shot; times in ms after the trigger. `light`, `sensor` and `threshold` are in cd/m2 by
 * column of equal width from `fromMs` to `toMs`; light and sensor as pairs of least and largest: shape `[column * 2 + 0|1]`.
 */
export interface ShotLanes extends Stretch {
  readonly light: Float32Array;
  readonly sensor: Float32Array;
  readonly threshold: Float32Array;
  /** When the bit was lit. */
  readonly lit: readonly Stretch[];
  /** When the program read the port, time and again. */
  readonly looking: readonly Stretch[];
  /** The pictures on the wire; the flash is in the one that `isFlash`. */
  readonly pictures: readonly (Stretch & { readonly isFlash: boolean })[];
}

const COLUMNS = 800;
/** Points of time looked at in a column, so that a short pulse of a tube stays visible. */
const POINTS = 4;
/** Reads no farther apart than this are one look. Strategies read every 0.2 ms or faster. */
const LOOK_MS = 0.5;
/** Frames drawn before the trigger. */
const LEAD_FRAMES = 1;

/**
 * The lanes of a shot. `path` stands where the light stood at the trigger or before, and the history still keeps the
 * pictures since then. Error: INTERNAL if it does not.
 */
export function lanesOf(
  path: LightPath,
  result: ShotResult,
  history: PictureHistory,
  timing: Timing,
  thresholdCdM2: number,
  endTick: number,
): ShotLanes {
  const { trigger } = result.ticks;
  const startTick = Math.max(trigger - LEAD_FRAMES * ticksPerFrame(timing), path.save().tick);
  const ms = (tick: number): number => ticksToMs(timing, tick - trigger);
  const light = new Float32Array(2 * COLUMNS);
  const sensor = new Float32Array(2 * COLUMNS);
  const threshold = new Float32Array(COLUMNS);
  for (let column = 0; column < COLUMNS; column++) {
    const [lights, readings] = [[] as number[], [] as number[]];
    for (let point = 0; point < POINTS; point++) {
      const share = (column * POINTS + point) / (COLUMNS * POINTS);
      const tick = startTick + Math.floor(share * (endTick - startTick));
      lights.push(path.lightAt(tick));
      const { x, b } = path.sensorAt(tick);
      readings.push(x);
      threshold[column] = b + thresholdCdM2;
    }
    light.set([Math.min(...lights), Math.max(...lights)], 2 * column);
    sensor.set([Math.min(...readings), Math.max(...readings)], 2 * column);
  }
  return {
    fromMs: ms(startTick),
    toMs: ms(endTick),
    light,
    sensor,
    threshold,
    lit: litStretches(result.flips, startTick, endTick).map(([from, to]) => ({ fromMs: ms(from), toMs: ms(to) })),
    looking: looks(result.reads.map(ms)),
    pictures: picturesOnWire(result, history, timing, startTick, endTick).map(([from, to, isFlash]) => ({
      fromMs: ms(from),
      toMs: ms(to),
      isFlash,
    })),
  };
}

function litStretches(flips: readonly number[], start: number, end: number): [number, number][] {
  const stretches: [number, number][] = [];
  for (let i = 0; i < flips.length; i += 2) {
    const [from, to] = [Math.max(start, flips[i]!), Math.min(end, flips[i + 1] ?? end)];
    if (from < to) stretches.push([from, to]);
  }
  return stretches;
}

/** Reads that follow each other closely as one stretch. */
function looks(readsMs: readonly number[]): Stretch[] {
  const stretches: { fromMs: number; toMs: number }[] = [];
  for (const at of readsMs) {
    const latest = stretches[stretches.length - 1];
    if (latest !== undefined && at - latest.toMs <= LOOK_MS) latest.toMs = at;
    else stretches.push({ fromMs: at, toMs: at });
  }
  return stretches;
}

function picturesOnWire(
  { ticks: { flashOnWire } }: ShotResult,
  history: PictureHistory,
  timing: Timing,
  start: number,
  end: number,
): [from: number, to: number, isFlash: boolean][] {
  const pictures: [number, number, boolean][] = [];
  for (let index = Math.max(0, history.newest - history.capacity + 1); index <= history.newest; index++) {
    const from = history.get(index)?.lineZeroTick;
    if (from === undefined || from >= end) continue;
    const to = history.get(index + 1)?.lineZeroTick ?? from + ticksPerFrame(timing);
    if (to <= start) continue;
    const isFlash = flashOnWire !== null && flashOnWire >= from && flashOnWire < to;
    pictures.push([Math.max(from, start), Math.min(to, end), isFlash]);
  }
  return pictures;
}
