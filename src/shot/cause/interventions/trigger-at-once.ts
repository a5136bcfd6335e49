import { msToTicks } from '../../../units/timing.ts';
import { countText } from '../../sentence.ts';
import { frameTicks, ms, reactionPicture, spanOf } from '../facts.ts';
import { type Finding, field, type Intervention } from '../intervention.ts';
import type { Observation } from '../observation.ts';

/** A program that looks at the trigger once a frame changes the picture two frames and a vertical blank later. Derived. */
const QUICKEST_FRAMES = 2.1;

/** A contact that was too short for the program is closed so much earlier. Our choice: longer than any debouncing. */
const IGNORED_FRAMES = 20;

/**
 * The program read the contact closed, and neither changed the picture nor said anything, although there was time for it
 * when the contact had opened.
 */
function isIgnored(first: Observation): boolean {
  const { result, record, prepared, shot } = first;
  const { scenario, timing } = prepared;
  const { trigger, decision, deadline } = result.ticks;
  const opened = trigger + msToTicks(timing, scenario.shots[shot]!.squeezeMs);
  if (decision !== null || deadline < opened + QUICKEST_FRAMES * frameTicks(first)) return false;
  return ([1, 2] as const).some((port) => record.firstClosedRead(port, trigger) !== undefined);
}

/**
 * Whole frames by which the contact is to close earlier; 0 where that would be within the pull before: the program is then
 * late because it was busy with that.
 */
function framesLate(first: Observation): number {
  const frames = reactionFramesLate(first);
  const { scenario, timing } = first.prepared;
  const closes = first.result.ticks.trigger - frames * frameTicks(first);
  return scenario.pulls.some(({ atMs, squeezeMs }) => closes <= msToTicks(timing, atMs + squeezeMs)) ? 0 : frames;
}

/** Whole frames by which the first changed picture came later than from a program that acts on the first edge. */
function reactionFramesLate(first: Observation): number {
  const reaction = reactionPicture(first);
  if (reaction === undefined) return isIgnored(first) ? IGNORED_FRAMES : 0;
  const frames = (reaction.lineZeroTick - first.result.ticks.trigger) / frameTicks(first);
  return Math.max(0, Math.ceil(frames - QUICKEST_FRAMES));
}

/** The contact closes as many frames earlier as the program was slow to act on it. */
export const TRIGGER_AT_ONCE: Intervention = {
  name: 'trigger at once',
  title: 'the program acts on the first edge of the trigger',
  evidence: framesLate,
  apply(world, first) {
    const earlier = framesLate(first) * frameTicks(first);
    return { ...world, closesEarlierTicks: earlier, startsTicksBefore: earlier + 2 * frameTicks(first) };
  },
  describe(first) {
    if (reactionPicture(first) === undefined) return ignored(first);
    const frames = framesLate(first);
    const { trigger } = first.result.ticks;
    const reaction = reactionPicture(first)!.lineZeroTick - trigger;
    return {
      id: 'trigger-late',
      fields: { reaction: ms(first, reaction), late: field(frames, 'frames') },
      sentence: `The first picture that answers the trigger began ${spanOf(first, reaction)} after it: ${countText(frames, 'frame')} later than from a program that acts on the first edge.`,
      cure: {
        text: `Act on the trigger's first edge and ignore later ones: ${countText(frames, 'frame')} sooner.`,
        changes: [{ in: 'program', constant: 'debounce', by: -frames, unit: 'frames' }],
      },
    };
  },
};

/** Whether it waits for the contact or was busy with something else is not seen from outside. */
function ignored(first: Observation): Finding {
  const { scenario, timing } = first.prepared;
  const { squeezeMs } = scenario.shots[first.shot]!;
  const frames = Math.max(0, Math.floor(msToTicks(timing, squeezeMs) / frameTicks(first)) - 1);
  return {
    id: 'trigger-late',
    fields: {
      closed: field(squeezeMs, 'ms'),
      earlier: field(IGNORED_FRAMES, 'frames'),
      debounce: field(frames, 'frames'),
    },
    sentence: `The program read the trigger's contact closed and did nothing until it opened again after ${squeezeMs} ms; closed ${IGNORED_FRAMES} frames earlier, it is acted on in time.`,
    cure: {
      text: `Act on the trigger's first edge: wait for at most ${countText(frames, 'frame')} until the contact is taken for closed, and keep an edge that comes while the program is busy.`,
      changes: [{ in: 'program', constant: 'debounce', to: frames, unit: 'frames' }],
    },
  };
}
