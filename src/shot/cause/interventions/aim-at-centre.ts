import { OPTICS } from '../../../light/optics/index.ts';
import { findModel, settingValues } from '../../../light/parameters.ts';
import { centreOf, findTruth, type Truth } from '../../truth.ts';
import { aimedTarget, length, round, shownTarget } from '../facts.ts';
import { field, type Intervention } from '../intervention.ts';
import type { Observation } from '../observation.ts';

/** From the aim to the centre of the shown target; nothing for a shot at nothing, which is to be none. */
function toCentre(first: Observation): { x: number; y: number } {
  const shown = shownTarget(first);
  const { aim, truth } = first.result;
  if (shown === undefined || truth.kind === 'nothing') return { x: 0, y: 0 };
  const centre = centreOf(shown);
  return { x: centre.x - aim.x, y: centre.y - aim.y };
}

/** What that aim is on, by the targets that the glass showed: a small target's centre may be an edge all the same. */
function truthThere(first: Observation): Truth {
  const { aim, shownTargets } = first.result;
  const { lightPath, targets, limits } = first.prepared.scenario;
  const { x, y } = toCentre(first);
  const optics = findModel(OPTICS, lightPath.optics.kind, 'optics').create(settingValues(lightPath.optics), {});
  const centre = { x: aim.x + x, y: aim.y + y };
  return findTruth(centre, optics.radiusDots, shownTargets, targets.marginDots, limits);
}

/** The way from an aim, without what rounds to nothing. */
function aimText({ x, y }: { readonly x: number; readonly y: number }): string {
  const part = (by: number, unit: string, less: string, more: string): string[] =>
    Number(round(Math.abs(by))) === 0 ? [] : [`${round(Math.abs(by))} ${unit} further ${by < 0 ? less : more}`];
  return `Aim ${[...part(x, 'dots', 'left', 'right'), ...part(y, 'scanlines', 'up', 'down')].join(' and ')}`;
}

/** The wand points at the centre of the target that the glass showed. */
export const AIM_AT_CENTRE: Intervention = {
  name: 'aim at the centre',
  title: "the wand points at the shown target's centre",
  movesAim: true,
  evidence: (first) => length(toCentre(first)),
  apply(world, first) {
    const { x, y } = toCentre(first);
    return {
      ...world,
      offset: { x: world.offset.x + x, y: world.offset.y + y },
      truth: truthThere(first),
      isLightNew: true,
    };
  },
  describe(first) {
    const to = toCentre(first);
    const { aim, truth, shot } = first.result;
    const target = aimedTarget(first);
    const share = truth.shares[target] ?? 0;
    return {
      id: 'off-target',
      fields: {
        target: field(target, ''),
        offCentre: field(length(to), 'dots'),
        offX: field(-to.x, 'dots'),
        offY: field(-to.y, 'dots'),
        share: field(share, ''),
      },
      sentence: `The aim was ${round(length(to))} dots off the centre of target ${target}, with ${(100 * share).toFixed(0)} % of the spot on its box.`,
      cure: {
        text: `${aimText(to)}, or make the box larger.`,
        changes: [{ in: 'scenario', path: `shots.${shot}.aim`, value: { x: aim.x + to.x, y: aim.y + to.y } }],
      },
    };
  },
};
