import type { ModelSetting } from '../../../light/parameters.ts';
import { ms, round, spanOf } from '../facts.ts';
import { field, type Intervention } from '../intervention.ts';
import type { Observation } from '../observation.ts';
import type { World } from '../world.ts';

/** Shortest response of an LCD model, 10 to 90 %, ms. */
const AT_ONCE_MS = 0.01;

/** The slower of rise and fall, ms; 0 for a panel without cells, whose light comes in impulses. */
function responseMs({ prepared: { scenario } }: Observation): number {
  const { panel } = scenario.lightPath;
  return panel.kind === 'lcd' ? Math.max(Number(panel['riseMs']), Number(panel['fallMs'])) : 0;
}

/** The same panel, scan, levels and backlight included, with a rise and a fall that are no slower than this, ms. */
function withResponse(world: World, response: number): World {
  const { lightPath } = world.scenario;
  const { panel } = lightPath;
  const limited = (name: string): number => Math.min(Number(panel[name]), response);
  const ideal: ModelSetting = { ...panel, riseMs: limited('riseMs'), fallMs: limited('fallMs') };
  return { ...world, scenario: { ...world.scenario, lightPath: { ...lightPath, panel: ideal } }, isLightNew: true };
}

/** Shares of the panel's response that are tried for the cure, the largest that is right first. */
const SHARES = [0.8, 0.65, 0.5, 0.35, 0.2, 0.1, 0.05, 0.02];

/** The cells of the panel follow at once. Nothing else of it is changed. */
export const IDEAL_PANEL: Intervention = {
  name: 'ideal panel',
  title: 'the cells of the panel answer at once',
  evidence: responseMs,
  apply: (world) => withResponse(world, AT_ONCE_MS),
  describe(first, world, isRight) {
    const { lightAtSpot, crossing } = first.result.ticks;
    const response = responseMs(first);
    const share = SHARES.find((part) => isRight(withResponse(world, response * part)));
    const allowed = share === undefined ? AT_ONCE_MS : Number((response * share).toPrecision(3));
    const took = lightAtSpot === null || crossing === null ? undefined : crossing - lightAtSpot;
    const { panel } = withResponse(world, allowed).scenario.lightPath;
    return {
      id: 'slow-panel',
      fields: {
        response: field(response, 'ms'),
        allowed: field(allowed, 'ms'),
        ...(took === undefined ? {} : { toThreshold: ms(first, took) }),
      },
      sentence: `The panel needs ${round(response)} ms from 10 to 90 %${took === undefined ? '' : `, so light from this flash reached the threshold ${spanOf(first, took)} after the panel began to show its row`}; on the same panel with cells that answer at once the shot is right.`,
      cure: {
        text: `Use a panel with a response of ${allowed} ms or less, the other settings as they are.`,
        changes: [{ in: 'scenario', path: 'lightPath.panel', value: panel }],
      },
    };
  },
};
