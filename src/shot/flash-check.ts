import { displayBytes } from '../references/palette.ts';
import type { ShownSize } from '../safety/flash-analyser.ts';
import { linearOf, relativeLuminance } from '../safety/flash-colour.ts';
import type { FlashProfile } from '../safety/flash-profile.ts';
import { FlashWatch, type StreamVerdict } from '../safety/flash-watch.ts';
import { PictureCells } from '../safety/picture-cells.ts';
import { type StripesFound, StripeWatch } from '../safety/stripes.ts';
import { msToTicks, type Timing, ticksPerFrame, ticksToSeconds } from '../units/timing.ts';
import { buttonsAt } from './inputs.ts';
import { LiveSession } from './live-session.ts';
import type { PreparedScenario } from './shot.ts';

export interface FlashCheckOptions {
  readonly profiles: readonly FlashProfile[];
  readonly size: ShownSize;
  /** How long the program is watched after power-on, s. */
  readonly seconds: number;
}

/** What the game shows, held against limits. Pictures are codes, as a `Picture` has them. */
export interface GameFlashes {
  /** In the order of the profiles. */
  readonly verdicts: readonly StreamVerdict<Uint16Array>[];
  readonly stripes: StripesFound | null;
}

/** Cells of 8 dots, as the profiles' areas are counted. */
const CELL_DOTS = 8;

/** Holds the console's pictures against limits, one by one. */
export class PictureFlashes {
  readonly #cells: PictureCells;
  readonly #watch: FlashWatch<Uint16Array>;
  readonly #stripes: StripeWatch;

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
    this.#watch.push({ light, timeS, codes, changed: this.#cells.changed, picture: () => codes.slice() });
    this.#stripes.push(codes, timeS, this.#cells.changedCells > 0);
  }

  get found(): GameFlashes {
    return { verdicts: this.#watch.verdicts(), stripes: this.#stripes.found };
  }
}

const luminanceByCode = (bytes: Uint8Array): Float64Array =>
  Float64Array.from({ length: bytes.length / 3 }, (_, code) => {
    const [red, green, blue] = bytes.subarray(3 * code, 3 * code + 3);
    return relativeLuminance(linearOf(red!), linearOf(green!), linearOf(blue!));
  });

/**
 * Hold what the program shows on its own raster against published limits, while the scenario's pads, pulls and shots are
 * played in one go; of shots at one time, which are alternatives, the first. Errors: PROGRAM_JAMMED, PARAM_RANGE.
 */
export function checkFlashes(prepared: PreparedScenario, options: FlashCheckOptions): GameFlashes {
  const { scenario, timing } = prepared;
  const pulls = [...scenario.pulls, ...scenario.shots]
    .sort((a, b) => a.atMs - b.atMs)
    .filter(({ atMs }, i, all) => atMs !== all[i - 1]?.atMs);
  const session = new LiveSession(prepared, pulls[0]!.aim);
  const flashes = new PictureFlashes(options, timing.swapsRedGreenEmphasis);
  const frames = framesIn(options.seconds, timing);
  let pulled = 0;
  let seen = -1;
  for (let frame = 0; frame < frames; frame++) {
    for (const port of [1, 2] as const) session.holdButtons(port, buttonsAt(scenario.pads, port, session.tick, timing));
    const next = pulls[pulled];
    if (next !== undefined && session.tick >= msToTicks(timing, next.atMs)) {
      session.moveAim(next.aim);
      session.pullTrigger();
      pulled++;
    }
    session.runFrame();
    for (const picture of session.sentAfter(seen)) {
      seen = picture.index;
      flashes.push(picture.codes, ticksToSeconds(timing, picture.lineZeroTick));
    }
  }
  return flashes.found;
}

const framesIn = (seconds: number, timing: Timing): number =>
  Math.ceil(seconds / ticksToSeconds(timing, ticksPerFrame(timing)));
