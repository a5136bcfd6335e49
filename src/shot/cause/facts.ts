import type { ModelSetting } from '../../light/parameters.ts';
import { SignalChain } from '../../light/signal/signal-chain.ts';
import type { TargetRectangle } from '../../picture/picture.ts';
import { ticksPerFrame, ticksToMs } from '../../units/timing.ts';
import { spanText } from '../sentence.ts';
import { aimedTargetOf, boxOf, centreOf } from '../truth.ts';
import { type Field, field } from './intervention.ts';
import type { Observation } from './observation.ts';
import type { PictureNote } from './picture-notes.ts';

/** The target that the shot is about; -1 = none. */
export const aimedTarget = ({ result: { truth } }: Observation): number => aimedTargetOf(truth);

/** Where the glass showed the aimed target at the trigger. */
export function shownTarget(first: Observation): TargetRectangle | undefined {
  return first.result.shownTargets[aimedTarget(first)];
}

/** The last tick at which the shot was open: what the program said, or the deadline. */
export const endOf = ({ result: { ticks } }: Observation): number => ticks.decision ?? ticks.deadline;

export const frameTicks = ({ prepared: { timing } }: Observation): number => ticksPerFrame(timing);

export const toMs = ({ prepared: { timing } }: Observation, ticks: number): number => ticksToMs(timing, ticks);

/** How late stages make the picture, ticks. */
export const latencyOf = ({ prepared: { timing } }: Observation, stages: readonly ModelSetting[]): number =>
  new SignalChain(stages, timing).largestLatencyTicks;

/** A length of time as a field, and in words. */
export const ms = (first: Observation, ticks: number): Field => field(toMs(first, ticks), 'ms');
export const spanOf = (first: Observation, ticks: number): string => spanText(toMs(first, ticks));

/** Pictures that began after the trigger. */
export const picturesSince = (first: Observation): PictureNote[] =>
  first.pictures.filter(({ lineZeroTick }) => lineZeroTick > first.result.ticks.trigger);

/** Light of white = 1; a box counts as lit from this rise on. Assumed: a third of the darkest colours that flash. */
const BOX_RISE = 0.05;

/** The picture in which the box of the aimed target is flashed, wherever the program has it. */
export function flashPicture(first: Observation): PictureNote | undefined {
  const k = aimedTarget(first);
  if (k < 0) return undefined;
  return first.pictures.find(
    (note, i) => i > 0 && (note.boxLight[k] ?? 0) - (first.pictures[i - 1]!.boxLight[k] ?? 0) >= BOX_RISE,
  );
}

/** How far the box of the flash stands from where the glass showed the target, dots and scanlines. */
export function boxOffset(first: Observation): { x: number; y: number } {
  const [shown, flash] = [shownTarget(first), flashPicture(first)];
  const target = flash?.targets[aimedTarget(first)];
  if (shown === undefined || target === undefined) return { x: 0, y: 0 };
  const [box, at] = [centreOf(boxOf(target, first.prepared.scenario.targets.marginDots)), centreOf(shown)];
  return { x: box.x - at.x, y: box.y - at.y };
}

/** The picture in which the target is no longer drawn, or its box is, or all is darker, for the first time since the trigger. */
export function reactionPicture(first: Observation): PictureNote | undefined {
  const k = Math.max(0, aimedTarget(first));
  const [before] = first.pictures;
  const scene = before?.targetLight[k] ?? 0;
  const whole = before?.pictureLight ?? 0;
  const flash = flashPicture(first);
  return picturesSince(first).find(
    (note) =>
      note === flash ||
      note.pictureLight < whole / 2 ||
      (note.targetLight[k] ?? 0) < scene / 2 ||
      (note.targetLight[k] ?? 0) > 2 * scene + BOX_RISE,
  );
}

export const length = ({ x, y }: { x: number; y: number }): number => Math.sqrt(x * x + y * y);

/** A number with one decimal, or more where it is small. */
export const round = (value: number): string => value.toFixed(Math.abs(value) < 10 ? 2 : 1);
