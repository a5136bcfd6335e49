import type { ModelSetting } from '../../../light/parameters.ts';
import { ms, round, spanOf } from '../facts.ts';
import { field, type Intervention } from '../intervention.ts';
import type { Observation } from '../observation.ts';
import type { World } from '../world.ts';

/** Shortest response of an LCD model, 10 to 90 %, ms. */
const AT_ONCE_MS = 0.01;

/** The slower of rise and fall, ms; a panel that shows impulses counts as 1. */
function responseMs({ prepared: { scenario } }: Observation): number {
  const { panel } = scenario.lightPath;
  return panel.kind === 'lcd' ? Math.max(Number(panel['riseMs']), Number(panel['fallMs'])) : 1;
}

/** An LCD of the same white with another response, ms; steady light. */
function withResponse(world: World, response: number): World {
  const { lightPath } = world.scenario;
  const { panel } = lightPath;
  const limited = (name: string): number => Math.min(Number(panel[name] ?? response), response);
  const ideal: ModelSetting = {
    kind: 'lcd',
    rows: Number(panel['rows'] ?? 1080),
    scanMs: Number(panel['scanMs'] ?? 16),
    riseMs: limited('riseMs'),
    fallMs: limited('fallMs'),
    whiteCdM2: Number(panel['whiteCdM2']),
    blackCdM2: 0,
    pwmHz: 0,
    pwmDuty01: 1,
    pwmPhase01: 0,
  };
  return { ...world, scenario: { ...world.scenario, lightPath: { ...lightPath, panel: ideal } }, isLightNew: true };
}

/** Shares of the panel's response that are tried for the cure, the largest that is right first. */
const SHARES = [0.8, 0.65, 0.5, 0.35, 0.2, 0.1];

/** The panel shows a row at once and keeps its light until the next picture. */
export const IDEAL_PANEL: Intervention = {
  name: 'ideal panel',
  title: 'the panel answers at once and holds its light',
  evidence: responseMs,
  apply: (world) => withResponse(world, AT_ONCE_MS),
  describe(first, world, isRight) {
    const { lightAtSpot, crossing } = first.result.ticks;
    const response = responseMs(first);
    const share =
      first.prepared.scenario.lightPath.panel.kind === 'lcd'
        ? SHARES.find((part) => isRight(withResponse(world, response * part)))
        : undefined;
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
      sentence: `The panel needs ${round(response)} ms from 10 to 90 %${took === undefined ? '' : `, so light from this flash reached the threshold ${spanOf(first, took)} after the panel began to show its row`}; on one that answers at once the shot is right.`,
      cure: {
        text: `Use a panel with a response of ${allowed} ms or less.`,
        changes: [{ in: 'scenario', path: 'lightPath.panel', value: panel }],
      },
    };
  },
};
