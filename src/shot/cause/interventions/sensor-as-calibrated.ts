import type { ModelSetting } from '../../../light/parameters.ts';
import { round } from '../facts.ts';
import { field, type Intervention } from '../intervention.ts';
import type { Observation } from '../observation.ts';

const thresholdOf = (sensor: ModelSetting): number => Number(sensor['thresholdCdM2']);

/** From the sensor's threshold at the calibration to that at the shot, cd/m2. */
function moved({ prepared: { scenario } }: Observation): number {
  const { pullsLightPath, lightPath } = scenario;
  if (pullsLightPath === undefined || pullsLightPath.sensor.kind !== lightPath.sensor.kind) return 0;
  return thresholdOf(lightPath.sensor) - thresholdOf(pullsLightPath.sensor);
}

/** The sensor is set as it was when the program calibrated. */
export const SENSOR_AS_CALIBRATED: Intervention = {
  name: 'sensor as calibrated',
  title: 'the sensor is set as it was at the calibration',
  evidence: (first) => Math.abs(moved(first)),
  apply(world) {
    const { pullsLightPath, lightPath } = world.scenario;
    const sensor = { ...lightPath.sensor, thresholdCdM2: pullsLightPath!.sensor['thresholdCdM2']! };
    return { ...world, scenario: { ...world.scenario, lightPath: { ...lightPath, sensor } }, isLightNew: true };
  },
  describe(first) {
    const now = thresholdOf(first.prepared.scenario.lightPath.sensor);
    const then = now - moved(first);
    return {
      id: 'threshold-moved',
      fields: { atCalibration: field(then, 'cd/m2'), atShot: field(now, 'cd/m2'), moved: field(now - then, 'cd/m2') },
      sentence: `The sensor's threshold was ${round(then)} cd/m2 when the program calibrated and ${round(now)} cd/m2 at the shot: it moved by ${round(now - then)} cd/m2 and the crossing with it.`,
      cure: {
        text: `Set the threshold back by ${round(now - then)} cd/m2, to ${round(then)} cd/m2, or calibrate anew after setting it.`,
        changes: [{ in: 'scenario', path: 'lightPath.sensor.thresholdCdM2', value: then }],
      },
    };
  },
};
