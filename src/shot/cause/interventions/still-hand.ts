import { countText } from '../../sentence.ts';
import { endOf, length, ms, round, spanOf } from '../facts.ts';
import { field, type Intervention } from '../intervention.ts';
import type { Observation } from '../observation.ts';

interface Wandering {
  readonly dots: number;
  readonly tick: number;
  readonly x: number;
  readonly y: number;
}

/** Where the hand was when the light of the flash stood on the glass; else where it was farthest off. */
function wandering(first: Observation): Wandering {
  const { aim, ticks } = first.result;
  const end = endOf(first);
  const moves = first.hand.filter(({ tick }) => tick <= end);
  const offs = moves.map(({ tick, aim: at }) => {
    const off = { x: at.x - aim.x, y: at.y - aim.y };
    return { ...off, tick, dots: length(off) };
  });
  const inFlash = offs.filter(({ tick }) => ticks.lightAtSpot !== null && tick <= ticks.lightAtSpot);
  const [nobody] = [{ dots: 0, tick: ticks.trigger, x: 0, y: 0 }];
  const farthest = offs.reduce<Wandering>((most, off) => (off.dots > most.dots ? off : most), nobody!);
  return inFlash[inFlash.length - 1] ?? farthest;
}

/** After the trigger the hand keeps still. */
export const STILL_HAND: Intervention = {
  name: 'still hand',
  title: 'the hand keeps still after the trigger',
  evidence: (first) => wandering(first).dots,
  apply: (world) => ({ ...world, isHandStill: true }),
  describe(first) {
    const { dots, tick, x, y } = wandering(first);
    const after = tick - first.result.ticks.trigger;
    const needed = Math.ceil(Math.max(Math.abs(x), Math.abs(y)));
    return {
      id: 'hand-moved',
      fields: { moved: field(dots, 'dots'), after: ms(first, after), margin: field(needed, 'dots') },
      sentence: `${spanOf(first, after)} after the trigger the hand had moved the aim by ${round(dots)} dots.`,
      cure: {
        text: `Keep the wand still until the light has come, or make the box ${countText(needed, 'dot')} larger on every side, or the shot shorter.`,
        changes: [
          { in: 'scenario', path: 'hand' },
          { in: 'program', constant: 'margin', by: needed, unit: 'dots' },
        ],
      },
    };
  },
};
