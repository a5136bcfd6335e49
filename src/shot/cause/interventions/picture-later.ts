import { frameTicks, ms, spanOf, toMs } from '../facts.ts';
import { field, type Intervention } from '../intervention.ts';
import type { Observation } from '../observation.ts';
import type { World } from '../world.ts';

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

function withLater(world: World, first: Observation): World {
  const { lightPath } = world.scenario;
  const stages = [...lightPath.stages, { kind: 'pure-delay', delayMs: laterMs(first) }];
  return { ...world, scenario: { ...world.scenario, lightPath: { ...lightPath, stages } }, isLightNew: true };
}

/** The picture comes as late as the program waits for it. */
export const PICTURE_LATER: Intervention = {
  name: 'picture later',
  title: 'the picture comes as late as the program expects it',
  evidence: (first) => (laterMs(first) <= LONGEST_MS ? missing(first) : 0),
  apply: withLater,
  describe(first, world) {
    const later = missing(first);
    const { crossing, flashOnWire, trigger } = first.result.ticks;
    const wire = flashOnWire ?? trigger;
    const frames = Math.max(1, Math.round(later / frameTicks(first)));
    const { stages } = withLater(world, first).scenario.lightPath;
    return {
      id: 'picture-early',
      fields: {
        arrival: ms(first, crossing! - wire),
        expected: ms(first, crossing! + later - wire),
        early: ms(first, later),
        frames: field(frames, 'frames'),
      },
      sentence: `Light from this flash crossed the threshold ${spanOf(first, crossing! - wire)} after its line left the console; the program waits for it until ${spanOf(first, crossing! + later - wire)} after: the picture came ${spanOf(first, later)} too early for it.`,
      cure: {
        text: `Let the program wait ${frames} frame${frames === 1 ? '' : 's'} less, or make the picture ${spanOf(first, later)} later.`,
        changes: [
          { in: 'scenario', path: 'lightPath.stages', value: stages },
          { in: 'program', constant: 'frames before the look', by: -frames, unit: 'frames' },
        ],
      },
    };
  },
};
