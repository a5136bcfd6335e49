import { PANELS } from '../../../light/panel/index.ts';
import { findModel } from '../../../light/parameters.ts';
import { frameTicks, round } from '../facts.ts';
import { field, type Intervention } from '../intervention.ts';
import type { Observation } from '../observation.ts';
import { firstWorld, sampleLevels } from '../rerun.ts';
import type { World } from '../world.ts';

const thresholdOf = ({ prepared: { scenario } }: Observation): number =>
  Number(scenario.lightPath.sensor['thresholdCdM2']);

function withThreshold(world: World, thresholdCdM2: number): World {
  const { lightPath } = world.scenario;
  const sensor = { ...lightPath.sensor, thresholdCdM2 };
  return { ...world, scenario: { ...world.scenario, lightPath: { ...lightPath, sensor } }, isLightNew: true };
}

/** A panel that is so many times as bright, cd/m2 of its white; undefined where its model ends before. */
function brighterWhite({ scenario: { lightPath } }: World, factor: number): number | undefined {
  const { spec } = findModel(PANELS, lightPath.panel.kind, 'panel');
  const white = Number((Number(lightPath.panel['whiteCdM2']) * factor).toPrecision(4));
  const { max } = spec.parameters.find(({ name }) => name === 'whiteCdM2')!;
  return white <= max ? white : undefined;
}

function withWhite(world: World, whiteCdM2: number): World {
  const { lightPath } = world.scenario;
  const panel = { ...lightPath.panel, whiteCdM2 };
  return { ...world, scenario: { ...world.scenario, lightPath: { ...lightPath, panel } }, isLightNew: true };
}

/** Light of a flash is looked at for so long after it began, frames. Our choice. */
const FLASH_FRAMES = 3;
/** Samples a frame: 0.05 ms, shorter than the light of a tube's line. Our choice. */
const SAMPLES = 333;
/** Of the highest level found. Our choice: a level sampled may lie a little below the peak. */
const SAFE_SHARE = 0.9;
/** Shares of it that are tried as thresholds, the largest that is right first. Our choice. */
const SHARES = [SAFE_SHARE, 0.8, 0.7, 0.6];

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
    const levelIn = (one: World): number => sampleLevels(first, one, [from, to], Math.round(frame / SAMPLES)).aboveCdM2;
    // What is told is of this shot; the cure is for the one with another fault put right.
    const level = levelIn(firstWorld(first));
    const guesses = SHARES.map((share) => Number((levelIn(world) * share).toPrecision(3)));
    const isRightAt = (guess: number): boolean =>
      guess > threshold / 2 && guess < threshold && isRight(withThreshold(world, guess));
    const allowed = guesses.find(isRightAt) ?? threshold / 2;
    const factor = Number(Math.max(1.01, threshold / (level * SAFE_SHARE)).toPrecision(3));
    const white = brighterWhite(world, factor);
    const isBrighterRight = white !== undefined && isRight(withWhite(world, white));
    return {
      id: 'too-dim',
      fields: {
        threshold: field(threshold, 'cd/m2'),
        level: field(level, 'cd/m2'),
        missing: field(threshold - level, 'cd/m2'),
        allowed: field(allowed, 'cd/m2'),
        ...(isBrighterRight ? { factor: field(factor, 'times'), white: field(white, 'cd/m2') } : {}),
      },
      sentence: `Light from this flash lifted the sensor to ${round(level)} cd/m2, ${round(threshold - level)} cd/m2 below its threshold of ${round(threshold)} cd/m2.`,
      cure: {
        text: `Lower the threshold to ${round(allowed)} cd/m2 or less${isBrighterRight ? `, or turn the screen up to ${factor} times its light or more, to a white of ${round(white)} cd/m2` : ''}.`,
        changes: [{ in: 'scenario', path: 'lightPath.sensor.thresholdCdM2', value: allowed }],
      },
    };
  },
};
