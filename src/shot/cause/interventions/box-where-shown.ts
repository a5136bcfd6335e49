import { boxOf, centreOf } from '../../truth.ts';
import { aimedTarget, boxOffset, flashPicture, length, round, shownTarget } from '../facts.ts';
import { field, type Intervention } from '../intervention.ts';
import type { Observation } from '../observation.ts';

/** Pictures further back that the box should have gone; undefined if it stands at no place that the target had lately. */
function picturesShort(first: Observation): number | undefined {
  const k = aimedTarget(first);
  const box = flashPicture(first)?.targets[k];
  if (box === undefined) return undefined;
  const centre = centreOf(boxOf(box, first.prepared.scenario.targets.marginDots));
  const all = [...first.earlier, ...first.pictures];
  let [best, distance] = [-1, 1.01];
  for (const { index, targets } of all) {
    const target = targets[k];
    if (target === undefined) continue;
    const at = centreOf(target);
    const away = length({ x: at.x - centre.x, y: at.y - centre.y });
    if (away < distance) [best, distance] = [index, away];
  }
  return best < 0 ? undefined : best - first.shownPicture;
}

/** The wand points as far beside as the box stands beside the place where the glass showed the target. */
export const BOX_WHERE_SHOWN: Intervention = {
  name: 'box where shown',
  title: 'the box stands where the glass showed the target',
  evidence: (first) => (first.result.truth.kind === 'nothing' ? 0 : length(boxOffset(first))),
  apply(world, first) {
    const { x, y } = boxOffset(first);
    return { ...world, offset: { x: world.offset.x + x, y: world.offset.y + y }, isLightNew: true };
  },
  describe(first) {
    const off = boxOffset(first);
    const short = picturesShort(first);
    const target = aimedTarget(first);
    const shown = shownTarget(first)!;
    const count = short === undefined ? '' : `${Math.abs(short)} picture${Math.abs(short) === 1 ? '' : 's'}`;
    const back = short === undefined ? '' : `, where it was ${count} ${short < 0 ? 'earlier' : 'later'}`;
    return {
      id: 'box-elsewhere',
      fields: {
        target: field(target, ''),
        shownX: field(shown.x, 'dots'),
        shownY: field(shown.y, 'scanlines'),
        away: field(length(off), 'dots'),
        ...(short === undefined
          ? { awayX: field(off.x, 'dots'), awayY: field(off.y, 'scanlines') }
          : { pictures: field(short, 'pictures') }),
      },
      sentence: `When the trigger was pulled the glass showed target ${target} at (${shown.x}, ${shown.y}); its box stood ${round(length(off))} dots beside that${back}.`,
      cure: {
        text:
          short === undefined
            ? `Move the box by ${round(-off.x)} dots and ${round(-off.y)} scanlines: to where the glass showed the target.`
            : `Take the place of the box from ${count} ${short < 0 ? 'less far' : 'further'} back.`,
        changes: [
          short === undefined
            ? {
                in: 'program',
                constant: 'margin',
                by: Math.ceil(Math.max(Math.abs(off.x), Math.abs(off.y))),
                unit: 'dots',
              }
            : { in: 'program', constant: 'rewind', by: short, unit: 'pictures' },
        ],
      },
    };
  },
};
