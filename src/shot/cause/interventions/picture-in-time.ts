import type { ModelSetting } from '../../../light/parameters.ts';
import { countText } from '../../sentence.ts';
import { frameTicks, latencyOf, ms, spanOf, toMs } from '../facts.ts';
import { type Change, type Finding, field, type Intervention, type IsRight } from '../intervention.ts';
import type { Observation } from '../observation.ts';
import type { Stepwise } from '../stepwise.ts';
import type { World } from '../world.ts';
import { pureDelays, scanChanges, withStages } from './no-delay.ts';

/** Shares of a frame between two delays that are tried. Our choice: programs look for a frame and longer. */
const STEP_FRAMES = 0.5;
/** The picture is made later by at most so much, and earlier by at most so much, frames. Our choice. */
const MOST_LATER = 6;
const MOST_EARLIER = 30;
/** Both ends of the times at which the program looks are found to this, ms. Our choice. */
const FINEST_MS = 0.1;

const latency = (first: Observation): number => latencyOf(first, first.prepared.scenario.lightPath.stages);

/** Stages by which the picture is so many ms later than it was, or earlier where that is negative. */
function stagesFor(first: Observation, shiftMs: number): readonly ModelSetting[] {
  const { stages } = first.prepared.scenario.lightPath;
  if (shiftMs >= 0) return [...stages, ...pureDelays(shiftMs)];
  return pureDelays(toMs(first, latency(first)) + shiftMs);
}

/** The world with the picture so many ms later, or earlier. */
export const shifted = (world: World, first: Observation, shiftMs: number): World =>
  withStages(world, stagesFor(first, shiftMs));

/** By how much the picture is moved, ms, least first. */
function* shiftsOf(first: Observation): Generator<number, void> {
  const frameMs = toMs(first, frameTicks(first));
  const latencyMs = toMs(first, latency(first));
  for (let step = 1; step * STEP_FRAMES <= MOST_EARLIER; step++) {
    const shift = Number((step * STEP_FRAMES * frameMs).toFixed(3));
    if (shift < latencyMs) yield -shift;
    if (step * STEP_FRAMES <= MOST_LATER) yield shift;
  }
}

/** The shift by which each first run is right; undefined where there is none. */
const found = new WeakMap<Observation, number | undefined>();

/** The end of the right shifts that lies between a right one and a wrong one, ms: the last right one found. */
function endBetween(rightMs: number, wrongMs: number, isRightAt: (shiftMs: number) => boolean): number {
  let [right, wrong] = [rightMs, wrongMs];
  while (Math.abs(wrong - right) > FINEST_MS) {
    const middle = Number(((right + wrong) / 2).toFixed(3));
    if (isRightAt(middle)) right = middle;
    else wrong = middle;
  }
  return right;
}

/** The shifts about a right one with which the shot is right, ms: nearest to none, and farthest from it. */
function endsOf(first: Observation, right: number, isRightAt: (shiftMs: number) => boolean): readonly [number, number] {
  const step = Math.sign(right) * STEP_FRAMES * toMs(first, frameTicks(first));
  let nearest = right;
  while (Math.abs(nearest) > Math.abs(step) && isRightAt(nearest - step)) nearest -= step;
  const wrong = Math.abs(nearest) > Math.abs(step) ? nearest - step : 0;
  const edge = endBetween(nearest, wrong, isRightAt);
  // Away from the edge, to the tenth that is said.
  const near = Number((Math.sign(edge) * Math.ceil(Math.abs(edge) / FINEST_MS - 1e-9) * FINEST_MS).toFixed(1));
  const latencyMs = toMs(first, latency(first));
  let far = right;
  while (Math.abs(far - right) < MOST_LATER * Math.abs(step) && far + step > -latencyMs && isRightAt(far + step))
    far += step;
  if (far + step <= -latencyMs)
    return [near, isRightAt(-latencyMs) ? -latencyMs : endBetween(far, -latencyMs, isRightAt)];
  return [near, endBetween(far, far + step, isRightAt)];
}

/** Whole frames by which the program would have to look later (earlier where negative); undefined if none will do. */
function framesFor(first: Observation, [near, far]: readonly [number, number]): number | undefined {
  const frameMs = toMs(first, frameTicks(first));
  const frames = Math.ceil(Math.abs(near) / frameMs);
  return frames * frameMs <= Math.abs(far) ? -Math.sign(near) * frames : undefined;
}

/**
 * The picture comes at another time, at which the program looks for it: a program that looks after a fixed delay, or for one
 * target after the other, is right on screens of one lateness and wrong on those before and behind. The last to be tried.
 */
export const PICTURE_IN_TIME: Intervention = {
  name: 'picture in time',
  title: 'the picture comes when the program looks for it',
  evidence: ({ result: { truth, ticks, reads } }) =>
    truth.kind === 'target' && ticks.crossing !== null && ticks.flashOnWire !== null ? reads.length : 0,
  apply: (world, first) => shifted(world, first, found.get(first) ?? 0),
  *search(first, world, isRight): Stepwise<boolean> {
    found.delete(first);
    for (const shiftMs of shiftsOf(first)) {
      yield;
      if (!isRight(shifted(world, first, shiftMs))) continue;
      found.set(first, shiftMs);
      return true;
    }
    return false;
  },
  describe: (first, world, isRight) => timeFinding(first, world, isRight, found.get(first)!),
};

/** What is said of a shot that is right when the picture is moved by `rightMs`: the times between which it is, and the least change. */
export function timeFinding(first: Observation, world: World, isRight: IsRight, rightMs: number): Finding {
  const { crossing, flashOnWire } = first.result.ticks;
  const arrival = crossing! - flashOnWire!;
  const ends = endsOf(first, rightMs, (shiftMs) => isRight(shifted(world, first, shiftMs)));
  const [near, far] = ends;
  const tick = frameTicks(first) / toMs(first, frameTicks(first));
  const [from, to] = [arrival + Math.min(near, far) * tick, arrival + Math.max(near, far) * tick];
  const isLate = near < 0;
  const off = Math.abs(near) * tick;
  const frames = framesFor(first, ends);
  const inProgram =
    frames === undefined
      ? ''
      : `Let the program look ${countText(Math.abs(frames), 'frame')} ${frames > 0 ? 'later' : 'sooner'}, or `;
  const inPicture = `${isLate ? 'choose a picture mode that is' : 'make the picture'} ${spanOf(first, off)} ${isLate ? 'less late' : 'later'}`;
  const text = `${inProgram}${inPicture}`;
  const stages = stagesFor(first, near);
  const changes: Change[] = [
    { in: 'scenario', path: 'lightPath.stages', value: stages },
    ...scanChanges(world, stages),
  ];
  if (frames !== undefined)
    changes.push({ in: 'program', constant: 'frames before the look', by: frames, unit: 'frames' });
  return {
    id: isLate ? 'too-early' : 'picture-early',
    fields: {
      arrival: ms(first, arrival),
      from: ms(first, from),
      to: ms(first, to),
      ...(isLate ? { late: ms(first, off) } : { early: ms(first, off) }),
      ...(frames === undefined ? {} : { frames: field(Math.abs(frames), 'frames') }),
    },
    sentence: `Light from this flash crossed the threshold ${spanOf(first, arrival)} after its line left the console; the program is right where that takes ${spanOf(first, from)} to ${spanOf(first, to)}: the picture came ${spanOf(first, off)} too ${isLate ? 'late' : 'early'} for it.`,
    cure: { text: `${text.charAt(0).toUpperCase()}${text.slice(1)}, for this aim.`, changes },
  };
}
