import { frameTicks, toMs } from '../facts.ts';
import type { Intervention } from '../intervention.ts';
import type { Observation } from '../observation.ts';
import { shifted, timeFinding } from './picture-in-time.ts';

/** A program that goes on looking is given the light so long after it begins, else so long before its only look. Frames; our choice. */
const INSIDE_FRAMES = 0.25;

/**
 * How much later the light would have had to come, ticks: when the program, after its longest pause behind the light of the
 * flash, looks again. 0 where the light came no sooner than that, and for a program that said a target.
 */
function lacking({ result }: Observation, frame: number): number {
  const { reads, said, truth, ticks } = result;
  const { crossing } = ticks;
  if (crossing === null || truth.kind !== 'target' || said.kind === 'target') return 0;
  let [look, pause] = [0, 0];
  for (let i = 1; i < reads.length; i++) {
    const since = reads[i]! - reads[i - 1]!;
    if (reads[i]! > crossing && since > pause) [look, pause] = [reads[i]!, since];
  }
  if (pause === 0) return 0;
  const inside = INSIDE_FRAMES * frame;
  const isLooking = reads[reads.length - 1]! - look > 2 * inside;
  return Math.max(0, Math.round(look - crossing + (isLooking ? inside : -Math.min(pause / 2, inside))));
}

const missing = (first: Observation): number => lacking(first, frameTicks(first));

/** A delay of the scenario is at most so long, ms. */
const LONGEST_MS = 500;

const laterMs = (first: Observation): number => Number(toMs(first, missing(first)).toFixed(3));

/** The picture comes as late as the program waits for it, by what its reads show. */
export const PICTURE_LATER: Intervention = {
  name: 'picture later',
  title: 'the picture comes as late as the program expects it',
  evidence: (first) => (laterMs(first) <= LONGEST_MS ? missing(first) : 0),
  apply: (world, first) => shifted(world, first, laterMs(first)),
  describe: (first, world, isRight) => timeFinding(first, world, isRight, laterMs(first)),
};
