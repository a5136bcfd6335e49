import { ALL_LINES, type LineRange } from '../../src/picture/picture.ts';
import type { TimingId } from '../../src/units/timing.ts';
import { Lot } from './lot.ts';
import { playFrame } from './random-play.ts';
import { RasterPair } from './raster-pair.ts';
import { randomScreen } from './screen.ts';

const TIMINGS_IN_TURN: readonly TimingId[] = ['60hz', '50hz', '60hz', '50hz-clone'];
const FRAMES_PER_SCREEN = 6;

interface LongPlay {
  /** The least number of dots. */
  readonly dots: number;
  readonly firstSeed: number;
  /** Registers are touched in one line of so many. */
  readonly everyLines: number;
  readonly draws?: LineRange;
}

interface Outcome {
  readonly dots: number;
  readonly pictures: number;
  readonly accesses: number;
  /** What differed first, with the seed of its screen. */
  readonly difference: string | undefined;
}

/** Screen after screen on all timings, until one differs or the dots are reached. */
export function playLong({ dots, firstSeed, everyLines, draws = ALL_LINES }: LongPlay): Outcome {
  const sum = { dots: 0, pictures: 0, accesses: 0 };
  for (let seed = firstSeed; sum.dots < dots; seed++) {
    const pair = playScreen(seed, everyLines, draws);
    const { linesPerFrame, dotsPerLine } = pair.timing;
    sum.dots += pair.comparedPictures * linesPerFrame * dotsPerLine;
    sum.pictures += pair.comparedPictures;
    sum.accesses += pair.accessCount;
    if (pair.difference !== undefined) return { ...sum, difference: `seed ${seed}: ${pair.difference}` };
  }
  return { ...sum, difference: undefined };
}

/** Some frames of a busy screen; ticks start beyond 32 bits for most seeds. */
export function playScreen(
  seed: number,
  everyLines: number,
  draws: LineRange = ALL_LINES,
  lateAccess = -1,
): RasterPair {
  const timing = TIMINGS_IN_TURN[seed % TIMINGS_IN_TURN.length]!;
  const startTick = (seed % 7) * 2 ** 31;
  const pair = new RasterPair({ timing, screen: randomScreen(seed), startTick, draws });
  pair.lateAccess = lateAccess;
  const lot = new Lot(seed);
  const play = { everyLines, darkOneIn: 3 + (seed % 9) };
  for (let frame = 0; frame < FRAMES_PER_SCREEN && pair.difference === undefined; frame++) playFrame(pair, lot, play);
  return pair;
}
