import type { SpotWeights } from '../light/optics/optics.ts';
import { sourcePresentation } from '../light/signal/source.ts';
import type { Picture } from '../picture/picture.ts';
import { PICTURE_WIDTH, type Timing, ticksPerFrame, ticksPerLine } from '../units/timing.ts';
import { isRightJudgement } from './judgement.ts';
import type { LightExtremes, TickRange } from './light-extremes.ts';
import type { PictureName } from './picture-names.ts';
import type { ShotClock } from './shot-clock.ts';
import type { ShotResult } from './shot-watch.ts';

/** A stretch of time, ms after the trigger. */
export interface Stretch {
  readonly fromMs: number;
  readonly toMs: number;
}

/** A part of the light's lanes, finer than the whole: columns of equal width from `fromMs` to `toMs`. */
export interface LanesDetail extends Stretch, LightExtremes {}

/**
 * What a time ruler draws of a shot; times in ms after the trigger. `light`, `sensor` and `threshold` are in cd/m2 by
 * column of equal width from `fromMs` to `toMs`; light and sensor as pairs of least and largest: shape `[column * 2 + 0|1]`.
 */
export interface ShotLanes extends LanesDetail {
  /** When the bit was lit. */
  readonly lit: readonly Stretch[];
  /** When the program read the port, time and again, until it decided. */
  readonly looking: readonly Stretch[];
  /** Every read of the port, ms; also those after the decision. */
  readonly reads: Float64Array;
  /** Where in the code each read stands, as a row of `codes`. */
  readonly readCodes: Uint16Array;
  /** Places in the code: an address `$C123`, or what the symbols call it. */
  readonly codes: readonly string[];
  /** The pictures on the wire; the flash is in the one that `isFlash`. `frame` counts from power-on. */
  readonly pictures: readonly PictureOnWire[];
  /** The rows of the spot as they leave the plug, light of white = 1. Shape: `[row * 3 + 0|1|2]` = from ms, to ms, level. */
  readonly wire: Float64Array;
  /** What the program said first; null when it said nothing. */
  readonly said: SaidAt | null;
  readonly clock: ShotClock;
}

export interface PictureOnWire extends Stretch {
  readonly isFlash: boolean;
  readonly name: PictureName;
  readonly frame: number;
}

export interface SaidAt {
  readonly ms: number;
  readonly text: string;
  readonly isRight: boolean;
}

/** Reads no farther apart than this are one look. Strategies read every 0.2 ms or faster. */
const LOOK_MS = 0.5;

/** Stretches in which the bit is lit. */
export function litStretches(flips: readonly number[], { from: start, to: end }: TickRange): TickRange[] {
  const stretches: TickRange[] = [];
  for (let i = 0; i < flips.length; i += 2) {
    const [from, to] = [Math.max(start, flips[i]!), Math.min(end, flips[i + 1] ?? end)];
    if (from < to) stretches.push({ from, to });
  }
  return stretches;
}

/** Reads that follow each other closely as one stretch. */
export function looks(readsMs: readonly number[]): Stretch[] {
  const stretches: { fromMs: number; toMs: number }[] = [];
  for (const at of readsMs) {
    const latest = stretches[stretches.length - 1];
    if (latest !== undefined && at - latest.toMs <= LOOK_MS) latest.toMs = at;
    else stretches.push({ fromMs: at, toMs: at });
  }
  return stretches;
}

/** The pictures of a stretch, each from its line 0 to that of the next, cut at the stretch. */
export function picturesWithin(
  pictures: readonly Picture[],
  timing: Timing,
  range: TickRange,
): { readonly picture: Picture; readonly range: TickRange }[] {
  return pictures.flatMap((picture, row) => {
    const end = pictures[row + 1]?.lineZeroTick ?? picture.lineZeroTick + ticksPerFrame(timing);
    const [from, to] = [Math.max(range.from, picture.lineZeroTick), Math.min(range.to, end)];
    return from < to ? [{ picture, range: { from, to } }] : [];
  });
}

/** One row of the spot as it leaves the plug. */
export interface RowOnWire extends TickRange {
  readonly level: number;
}

/** The rows of a spot on the lattice of scanlines in one picture: light that the spot's dots of the row stand for. */
export function rowsOnWire(
  picture: Picture,
  { firstRow, rowCount, firstDot, dotCount, weight }: SpotWeights,
  lightOfCode: Float64Array,
  timing: Timing,
): RowOnWire[] {
  const { tTop, tPerRow } = sourcePresentation(picture, timing);
  return Array.from({ length: rowCount }, (_, row) => {
    let [sum, weights] = [0, 0];
    for (let dot = 0; dot < dotCount; dot++) {
      const share = weight[row * dotCount + dot]!;
      sum += share * lightOfCode[picture.codes[(firstRow + row) * PICTURE_WIDTH + firstDot + dot]!]!;
      weights += share;
    }
    const from = tTop + (firstRow + row) * tPerRow;
    return { from, to: from + ticksPerLine(timing), level: weights === 0 ? 0 : sum / weights };
  });
}

/** What the program said first, in the words of reports. */
export function saidOf({ said, judgement, ticks: { decision } }: ShotResult): Omit<SaidAt, 'ms'> | null {
  if (said.kind === 'nothing' || decision === null) return null;
  return { text: said.kind === 'none' ? 'none' : `target ${said.target}`, isRight: isRightJudgement(judgement) };
}
