import { frameTicks, round } from '../facts.ts';
import { field, type Intervention } from '../intervention.ts';
import type { Observation } from '../observation.ts';
import { sampleLevels } from '../rerun.ts';
import type { World } from '../world.ts';

const thresholdOf = ({ prepared: { scenario } }: Observation): number =>
  Number(scenario.lightPath.sensor['thresholdCdM2']);

function withThreshold(world: World, thresholdCdM2: number): World {
  const { lightPath } = world.scenario;
  const sensor = { ...lightPath.sensor, thresholdCdM2 };
  return { ...world, scenario: { ...world.scenario, lightPath: { ...lightPath, sensor } }, isLightNew: true };
}

/** Light of a flash is looked at for so long after it began, frames. Our choice. */
const FLASH_FRAMES = 3;
/** Samples a frame: 0.05 ms, shorter than the light of a tube's line. Our choice. */
const SAMPLES = 333;
/** Of the highest level found. Our choice: a level sampled may lie a little below the peak. */
const SAFE_SHARE = 0.9;

/** The sensor's threshold is half of what it is. */
export const HALF_THRESHOLD: Intervention = {
  name: 'threshold halved',
  title: "the sensor's threshold is halved",
  evidence: ({ result: { ticks } }) => (ticks.lightAtSpot !== null && ticks.crossing === null ? 1 : 0),
  apply: (world, first) => withThreshold(world, thresholdOf(first) / 2),
  describe(first, world, isRight) {
    const threshold = thresholdOf(first);
    const from = first.result.ticks.lightAtSpot!;
    const frame = frameTicks(first);
    const to = Math.min(first.result.ticks.deadline, from + FLASH_FRAMES * frame);
    const { aboveCdM2: level } = sampleLevels(first, world, [from, to], Math.round(frame / SAMPLES));
    const guess = Number((level * SAFE_SHARE).toPrecision(3));
    const allowed = guess > threshold / 2 && isRight(withThreshold(world, guess)) ? guess : threshold / 2;
    return {
      id: 'too-dim',
      fields: {
        threshold: field(threshold, 'cd/m2'),
        level: field(level, 'cd/m2'),
        missing: field(threshold - level, 'cd/m2'),
        allowed: field(allowed, 'cd/m2'),
      },
      sentence: `Light from this flash lifted the sensor to ${round(level)} cd/m2, ${round(threshold - level)} cd/m2 below its threshold of ${round(threshold)} cd/m2.`,
      cure: {
        text: `Lower the threshold to ${round(allowed)} cd/m2 or less, or make the flash brighter by ${round(threshold - level)} cd/m2 or more.`,
        changes: [{ in: 'scenario', path: 'lightPath.sensor.thresholdCdM2', value: allowed }],
      },
    };
  },
};
