import { findModel, settingValues } from '../../../light/parameters.ts';
import { ROOMS } from '../../../light/room/index.ts';
import { round } from '../facts.ts';
import { field, type Intervention } from '../intervention.ts';
import type { Observation } from '../observation.ts';
import type { World } from '../world.ts';

/** Peak to peak swing of the room light on the glass, cd/m2. Steady light is what a sensor's baseline takes off: none. */
function swing({ prepared: { scenario } }: Observation): number {
  const { room } = scenario.lightPath;
  return 2 * (findModel(ROOMS, room.kind, 'room').create(settingValues(room), {}).flicker?.amplitudeCdM2 ?? 0);
}

function withLux(world: World, illuminanceLux: number): World {
  const { lightPath } = world.scenario;
  const room = { ...lightPath.room, illuminanceLux };
  return { ...world, scenario: { ...world.scenario, lightPath: { ...lightPath, room } }, isLightNew: true };
}

/** Of the light that the flicker would just lift over the threshold. Our choice. */
const SAFE_SHARE = 0.8;

/** Shares of the light that are tried, too. Our choice. */
const SHARES = [0.9, 0.8, 0.7, 0.6, 0.5, 0.4, 0.3, 0.2, 0.1];

/** No light but that of the panel. */
export const DARK_ROOM: Intervention = {
  name: 'dark room',
  title: 'the room is dark',
  evidence: swing,
  apply: (world) => withLux(world, 0),
  describe(first, world, isRight) {
    const { room, sensor } = first.prepared.scenario.lightPath;
    const lux = Number(room['illuminanceLux']);
    const threshold = Number(sensor['thresholdCdM2']);
    const guess = Math.floor((lux * SAFE_SHARE * threshold) / swing(first));
    const tried = [guess, ...SHARES.map((share) => Math.floor(share * lux))].filter((one) => one > 0 && one < lux);
    const below = tried.sort((a, b) => b - a).find((one) => isRight(withLux(world, one))) ?? 0;
    return {
      id: 'room-light',
      fields: {
        swing: field(swing(first), 'cd/m2'),
        threshold: field(threshold, 'cd/m2'),
        illuminance: field(lux, 'lx'),
        ...(below > 0 ? { allowed: field(below, 'lx') } : {}),
      },
      sentence: `The room light of ${round(lux)} lx swings by ${round(swing(first))} cd/m2 on the glass, and the sensor's threshold is ${round(threshold)} cd/m2.`,
      cure: {
        text: below > 0 ? `Dim the lamp to ${below} lx or less.` : 'Switch the lamp off.',
        changes: [{ in: 'scenario', path: 'lightPath.room.illuminanceLux', value: below }],
      },
    };
  },
};
