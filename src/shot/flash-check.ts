import { displayBytes } from '../references/palette.ts';
import type { ShownSize } from '../safety/flash-analyser.ts';
import { luminanceByCode } from '../safety/flash-colour.ts';
import type { FlashProfile } from '../safety/flash-profile.ts';
import { FlashWatch, type StreamVerdict } from '../safety/flash-watch.ts';
import { PictureCells } from '../safety/picture-cells.ts';
import { type StripesFound, StripeWatch } from '../safety/stripes.ts';
import { PICTURE_HEIGHT, PICTURE_WIDTH, type Timing, ticksPerFrame, ticksToSeconds } from '../units/timing.ts';
import type { PreparedScenario } from './prepared-scenario.ts';
import { ScriptedSession } from './scripted-session.ts';

export interface FlashCheckOptions {
  readonly profiles: readonly FlashProfile[];
  readonly size: ShownSize;
  /** How long the program is watched after power-on, s. */
  readonly seconds: number;
}

/** What pictures show, held against limits. Pictures are codes, as a `Picture` has them. */
interface PicturesFound {
  /** In the order of the profiles. */
  readonly verdicts: readonly StreamVerdict<Uint16Array>[];
  readonly stripes: StripesFound | null;
}

/** What the game shows, and what of its scenario was played meanwhile. */
export interface GameFlashes extends PicturesFound {
  readonly played: PlayedScript;
}

/** Shots and pulls of a scenario, by their times, ms. */
export interface PlayedScript {
  /** Those that were made. */
  readonly madeMs: readonly number[];
  /** Those that were not watched for a second after they were made, or not made at all: too little time was asked for. */
  readonly notWatchedMs: readonly number[];
  /** Those at which the trigger was still held from the one before: the program saw no pull. */
  readonly heldMs: readonly number[];
  /** How many were left out because another one is made at the same time. */
  readonly alternatives: number;
}

/** So long a shot is watched after it was made, ms: changes are counted over a second. */
const WATCHED_MS = 1000;

/** Cells of 8 dots, as the profiles' areas are counted. */
const CELL_DOTS = 8;

/** Holds the console's pictures against limits, one by one. */
export class PictureFlashes {
  readonly #cells: PictureCells;
  readonly #watch: FlashWatch<Uint16Array>;
  readonly #stripes: StripeWatch;
  /** The picture before the latest one. */
  #before = new Uint16Array(PICTURE_WIDTH * PICTURE_HEIGHT);
  #latest = new Uint16Array(PICTURE_WIDTH * PICTURE_HEIGHT);

  /** Error: PARAM_RANGE. */
  constructor({ profiles, size }: Omit<FlashCheckOptions, 'seconds'>, swapsRedGreenEmphasis: boolean) {
    const bytes = displayBytes(swapsRedGreenEmphasis);
    this.#cells = new PictureCells(CELL_DOTS, swapsRedGreenEmphasis);
    this.#watch = new FlashWatch({ profiles, size, bytes });
    this.#stripes = new StripeWatch(luminanceByCode(bytes), size);
  }

  /** A picture, shown from `timeS` on. Error: PARAM_RANGE if time goes back. */
  push(codes: Uint16Array, timeS: number): void {
    const light = this.#cells.meansOf(codes);
    const { changed, changedCells } = this.#cells;
    if (changedCells > 0) this.#remember(codes);
    const before = this.#before;
    const isSame = changedCells === 0;
    const picture = () => codes.slice();
    this.#watch.push({ light, timeS, codes, changed, isSame, picture, before: () => before.slice() });
    this.#stripes.push(codes, timeS, changedCells > 0);
  }

  #remember(codes: Uint16Array): void {
    [this.#before, this.#latest] = [this.#latest, this.#before];
    this.#latest.set(codes);
  }

  get found(): PicturesFound {
    return { verdicts: this.#watch.verdicts(), stripes: this.#stripes.found };
  }
}

/**
 * Hold what the program shows on its own raster against published limits, while the scenario's pads, pulls and shots are
 * played in one go; of shots at one time, which are alternatives, the first. Errors: PROGRAM_JAMMED, PARAM_RANGE.
 */
export function checkFlashes(prepared: PreparedScenario, options: FlashCheckOptions): GameFlashes {
  const { scenario, timing } = prepared;
  const all = [...scenario.pulls, ...scenario.shots].sort((a, b) => a.atMs - b.atMs);
  const pulls = all.filter(({ atMs }, i) => atMs !== all[i - 1]?.atMs);
  const script = new ScriptedSession(prepared, pulls);
  const flashes = new PictureFlashes(options, timing.swapsRedGreenEmphasis);
  const frames = framesIn(options.seconds, timing);
  let seen = -1;
  for (let frame = 0; frame < frames; frame++) {
    script.runFrame();
    for (const picture of script.session.sentAfter(seen)) {
      seen = picture.index;
      flashes.push(picture.codes, ticksToSeconds(timing, picture.lineZeroTick));
    }
  }
  const times = pulls.map(({ atMs }) => atMs);
  const made = script.pulls;
  const isWatched = (atMs: number, i: number): boolean =>
    i < made.length && atMs + WATCHED_MS <= options.seconds * 1000;
  const played = {
    madeMs: times.filter((_, i) => i < made.length && made[i] !== 'held'),
    notWatchedMs: times.filter((atMs, i) => !isWatched(atMs, i)),
    heldMs: times.filter((_, i) => made[i] === 'held'),
    alternatives: all.length - pulls.length,
  };
  return { ...flashes.found, played };
}

const framesIn = (seconds: number, timing: Timing): number =>
  Math.ceil(seconds / ticksToSeconds(timing, ticksPerFrame(timing)));
