import { round } from '../facts.ts';
import { field, type Intervention } from '../intervention.ts';
import type { Observation } from '../observation.ts';
import type { World } from '../world.ts';

/** Threshold as a share of the panel's white. Our choice: 1/8. */
const SHARE = 0.125;

const idealOf = ({ scenario: { lightPath } }: World) => ({
  kind: 'wide-band',
  cornerHz: 5000,
  thresholdCdM2: Number(lightPath.panel['whiteCdM2']) * SHARE,
  hysteresis01: 0.2,
  weightRed: 0.2126,
  weightGreen: 0.7152,
  weightBlue: 0.0722,
});

/** A wide-band sensor with the eye's sensitivity and a threshold that suits the panel. */
export const IDEAL_SENSOR: Intervention = {
  name: 'ideal sensor',
  title: "a wide-band sensor with a threshold of an eighth of the panel's white",
  evidence: ({ result: { ticks } }: Observation) => (ticks.lightAtSpot !== null && ticks.crossing === null ? 1 : 0),
  apply: (world) => {
    const { lightPath } = world.scenario;
    return {
      ...world,
      scenario: { ...world.scenario, lightPath: { ...lightPath, sensor: idealOf(world) } },
      isLightNew: true,
    };
  },
  describe(first, world) {
    const { panel, sensor } = first.prepared.scenario.lightPath;
    const ideal = idealOf(world);
    return {
      id: 'blind-sensor',
      fields: { ideal: field(ideal.thresholdCdM2, 'cd/m2') },
      sentence: `The ${sensor.kind} sensor does not see this flash on this panel (${panel.kind}): its bit stayed dark although the light was there; a wide-band sensor with a threshold of ${round(ideal.thresholdCdM2)} cd/m2 sees it.`,
      cure: {
        text: `Use a wide-band sensor with a threshold of ${round(ideal.thresholdCdM2)} cd/m2.`,
        changes: [{ in: 'scenario', path: 'lightPath.sensor', value: ideal }],
      },
    };
  },
};
