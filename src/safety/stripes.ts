import { PICTURE_HEIGHT, PICTURE_WIDTH } from '../units/timing.ts';
import type { ShownSize } from './flash-analyser.ts';

/** Least change of relative luminance from stripe to stripe. Our choice: that of a flash. */
const LEAST_CHANGE = 0.1;
/** The lighter stripe is brighter than this: 50 cd/m2 at a white of 200. Source: expert consensus, Epilepsia 46(9):1423, 2005. */
const LEAST_LIGHT = 0.25;
/** More pairs than these are told, of stripes that change and of ones that stand still. Source: same, and for 8 game accessibility guidelines. */
const MOST_MOVING = 5;
const MOST_STILL = 8;
/** Least share of the block, and how long. Source: same (0.006 sr, a quarter of the block; 0.5 s). */
const LEAST_SHARE = 0.25;
const LEAST_S = 0.5;
/** How long it is until a picture is looked at again, s, in turn. Our choice: uneven, so that no flashing keeps step with it. */
const LOOKS_S = [0.21, 0.29, 0.17, 0.33] as const;
/** Stripes that come back within this go on, s: they flash. Our choice. */
const GONE_S = 1;
/** Source: WCAG 2.2 technique G176. */
const BLOCK = { width: 341, height: 256 } as const;
/** Stripes move that differ in more than this share of their bands: a figure before them covers less. Our choice. */
const MOVED_SHARE = 0.25;
/** Levels that are told apart where stripes change places. Our choice: half of a flash. */
const LEVEL_STEPS = 20;
/** Stripes are at least this long: lines are summed over bands of so many dots. Our choice. */
const BAND = 8;

/** Light and dark stripes that stood for a while. */
export interface StripesFound {
  readonly run: 'upright' | 'level';
  readonly pairs: number;
  readonly share: number;
  readonly isMoving: boolean;
  readonly fromS: number;
  readonly toS: number;
}

interface Pattern {
  readonly run: 'upright' | 'level';
  readonly pairs: number;
  readonly share: number;
  /** Where the stripes of each band begin, as text; empty where it has few. */
  readonly places: readonly string[];
}

/**
 * Looks for pairs of light and dark stripes over a quarter of the block, half a second long. A caution, no limit: published
 * advice names figures, success criteria do not. Stripes finer than a band of 8 dots is long are seen; writing mostly is not.
 */
export class StripeWatch {
  /** Relative luminance by code. */
  readonly #levels: Float64Array;
  readonly #size: ShownSize;
  #lookedS = Number.NEGATIVE_INFINITY;
  #looks = 0;
  /** Since when stripes have been there, when they were seen last, and whether they have changed. */
  #since: { fromS: number; seenS: number; isMoving: boolean } | undefined;
  /** Of the picture looked at last, and whether it has changed since. */
  #pattern: Pattern = { run: 'upright', pairs: 0, share: 0, places: [] };
  #hasChanged = true;
  #found: StripesFound | null = null;

  constructor(levels: Float64Array, size: ShownSize) {
    this.#levels = levels;
    this.#size = size;
  }

  /** A picture, shown from `timeS` on; whether it differs from the one before. */
  push(codes: Uint16Array, timeS: number, hasChanged: boolean): void {
    if (hasChanged) this.#hasChanged = true;
    if (timeS - this.#lookedS < LOOKS_S[this.#looks % LOOKS_S.length]!) return;
    this.#lookedS = timeS;
    this.#looks++;
    const pattern = this.#hasChanged ? patternOf(codes, this.#levels, this.#size) : this.#pattern;
    this.#follow(pattern, haveMoved(this.#pattern, pattern), timeS);
    this.#pattern = pattern;
    this.#hasChanged = false;
  }

  #follow(pattern: Pattern, hasMoved: boolean, timeS: number): void {
    const before = this.#since;
    if (pattern.pairs <= MOST_MOVING || pattern.share < LEAST_SHARE) {
      // Gone for a moment only: then they flash.
      if (before !== undefined) before.isMoving = true;
      if (before !== undefined && timeS - before.seenS > GONE_S) this.#since = undefined;
      return;
    }
    const isMoving = before !== undefined && (before.isMoving || hasMoved);
    this.#since = { fromS: before?.fromS ?? timeS, seenS: timeS, isMoving };
    const { fromS } = this.#since;
    if (timeS - fromS < LEAST_S || (!isMoving && pattern.pairs <= MOST_STILL)) return;
    const { run, pairs, share } = pattern;
    if (this.#found === null || pairs > this.#found.pairs)
      this.#found = { run, pairs, share, isMoving, fromS, toS: timeS };
    else if (this.#found.fromS === fromS) this.#found = { ...this.#found, toS: timeS };
  }

  /** The stripes with the most pairs so far. */
  get found(): StripesFound | null {
    return this.#found;
  }
}

/** The stripes of a picture that have most pairs: upright ones follow each other along lines. */
function patternOf(codes: Uint16Array, levels: Float64Array, { scale, pixelAspect }: ShownSize): Pattern {
  const [across, down] = [BLOCK.width / (scale * pixelAspect), BLOCK.height / scale];
  const upright = alongBands(codes, levels, 1, PICTURE_WIDTH, PICTURE_WIDTH, PICTURE_HEIGHT, across, down);
  const level = alongBands(codes, levels, PICTURE_WIDTH, 1, PICTURE_HEIGHT, PICTURE_WIDTH, down, across);
  return level.pairs > upright.pairs ? { run: 'level', ...level } : { run: 'upright', ...upright };
}

/** Bands of 8 rows of dots: how many pairs follow each other within a block, in bands that fill the share of it. */
function alongBands(
  codes: Uint16Array,
  levels: Float64Array,
  step: number,
  stride: number,
  length: number,
  width: number,
  blockLength: number,
  blockWidth: number,
): Omit<Pattern, 'run'> {
  const reach = Math.min(length, Math.ceil(blockLength));
  const means = Array.from({ length: width / BAND }, (_, band) =>
    meansAlong(codes, levels, band * BAND * stride, step, stride, length),
  );
  const bands = means.map(turnsOf);
  // Most pictures have too few lines with that many stripes to be looked at closer.
  const striped = bands.filter((turns) => turns.length >= 2 * MOST_MOVING).length;
  if (striped * BAND * Math.min(length, blockLength) < LEAST_SHARE * blockLength * blockWidth)
    return { pairs: 0, share: 0, places: [] };
  const places = bands.map((turns, band) =>
    turns.length < 2 * MOST_MOVING ? '' : `${turns.join()} ${Math.round(LEVEL_STEPS * means[band]![turns[0]!]!)}`,
  );
  const perBlock = Math.min(bands.length, Math.ceil(blockWidth / BAND));
  let best = { pairs: 0, share: 0 };
  for (let start = 0; start + reach <= length; start += BAND) {
    const runs = bands.map((turns) => runWithin(turns, start, start + reach));
    for (let first = 0; first + perBlock <= runs.length; first++) {
      const found = strongest(runs.slice(first, first + perBlock), blockLength * blockWidth);
      if (found.pairs > best.pairs) best = found;
    }
  }
  return { ...best, places };
}

/** Stripes that stood elsewhere, or were as light where they are dark now, in more bands than something else covers. */
function haveMoved(before: Pattern, now: Pattern): boolean {
  if (before.run !== now.run) return true;
  const striped = now.places.filter((place) => place !== '').length;
  const moved = now.places.filter((place, band) => place !== '' && place !== before.places[band]).length;
  return moved > MOVED_SHARE * striped;
}

/** Mean level over a band, along it. */
function meansAlong(
  codes: Uint16Array,
  levels: Float64Array,
  first: number,
  step: number,
  stride: number,
  length: number,
): Float64Array {
  const means = new Float64Array(length);
  for (let row = 0; row < BAND; row++) {
    let at = first + row * stride;
    for (let i = 0; i < length; i++, at += step) means[i]! += levels[codes[at]!]! / BAND;
  }
  return means;
}

/** Where a level turns from light to dark or back: as opposing changes in time are counted, but along a line. */
function turnsOf(means: Float64Array): number[] {
  const turns: number[] = [];
  let [low, high, direction] = [means[0]!, means[0]!, 0];
  for (let at = 0; at < means.length; at++) {
    const level = means[at]!;
    low = Math.min(low, level);
    high = Math.max(high, level);
    const isUp = direction <= 0 && level - low >= LEAST_CHANGE && level > LEAST_LIGHT;
    const isDown = direction >= 0 && high - level >= LEAST_CHANGE && high > LEAST_LIGHT;
    if (!isUp && !isDown) continue;
    direction = isUp ? 1 : -1;
    low = high = level;
    turns.push(at);
  }
  return turns;
}

/** Pairs between two places of a band, and the length that they take. */
function runWithin(turns: readonly number[], from: number, to: number): { pairs: number; length: number } {
  const within = turns.filter((at) => at >= from && at < to);
  if (within.length < 2) return { pairs: 0, length: 0 };
  const [first, last] = [within[0]!, within[within.length - 1]!];
  // n turns part n + 1 stripes; the outer two are as wide as the rest.
  const length = ((last - first) * (within.length + 1)) / (within.length - 1);
  return { pairs: Math.floor((within.length + 1) / 2), length: Math.min(to - from, length) };
}

/** The most pairs that bands with as many fill a quarter of the block with. */
function strongest(
  runs: readonly { pairs: number; length: number }[],
  blockDots: number,
): Pick<Pattern, 'pairs' | 'share'> {
  const ordered = [...runs].sort((a, b) => b.pairs - a.pairs);
  let dots = 0;
  for (const { pairs, length } of ordered) {
    dots += length * BAND;
    if (dots / blockDots >= LEAST_SHARE) return { pairs, share: dots / blockDots };
  }
  return { pairs: 0, share: 0 };
}
