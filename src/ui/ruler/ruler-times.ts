import type { ShotLanes, ShotMark } from '../../workers/play.api.ts';
import type { Span } from '../time-scale.ts';

/** Frames shown before the first and behind the last instant of a shot. */
const FRAMES_AROUND = { before: 0.5, after: 1.5 } as const;

/** What can be looked at, and what is looked at first. */
export interface RulerTimes {
  readonly whole: Span;
  readonly shot: Span;
}

/** Of one shot: its lanes, and the part of them in which the shot lies. */
export const rulerTimes = (lanes: ShotLanes, marks: readonly ShotMark[]): RulerTimes => ({
  whole: { fromMs: lanes.fromMs, toMs: lanes.toMs },
  shot: shotSpan(lanes, marks),
});

/** Of two shots on one time: all of both. */
export const joinedTimes = (a: RulerTimes, b: RulerTimes): RulerTimes => ({
  whole: joined(a.whole, b.whole),
  shot: joined(a.shot, b.shot),
});

const joined = (a: Span, b: Span): Span => ({
  fromMs: Math.min(a.fromMs, b.fromMs),
  toMs: Math.max(a.toMs, b.toMs),
});

function shotSpan({ fromMs, toMs, pictures }: ShotLanes, marks: readonly ShotMark[]): Span {
  if (marks.length === 0) return { fromMs, toMs };
  const frameMs = Math.max(0, ...pictures.map((picture) => picture.toMs - picture.fromMs)) || (toMs - fromMs) / 20;
  const times = marks.map(({ ms }) => ms);
  return {
    fromMs: Math.max(fromMs, Math.min(...times) - FRAMES_AROUND.before * frameMs),
    toMs: Math.min(toMs, Math.max(...times) + FRAMES_AROUND.after * frameMs),
  };
}
