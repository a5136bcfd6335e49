import { TIMINGS, type Timing, type TimingId, ticksPerFrame, ticksPerLine, ticksToMs } from '../units/timing.ts';

/** What turns a time of a shot into a place in the console's frame. Plain data. */
export interface ShotClock {
  readonly timing: TimingId;
  /** Tick of the trigger since power-on; times of a shot are ms after it. */
  readonly triggerTick: number;
  /** Tick at which the first processor cycle began. */
  readonly cpuPhaseTicks: number;
  /** Number of the first frame that is known, counted from power-on. */
  readonly firstFrame: number;
  /** Ticks of (line 0, dot 0) of that frame and those that follow. */
  readonly frameTicks: readonly number[];
}

/** Where the console was at a tick; frame, scanline and dot are null before the first frame that is known. */
export interface ShotPlace {
  readonly tick: number;
  readonly ms: number;
  readonly frame: number | null;
  readonly scanline: number | null;
  readonly dot: number | null;
  /** Processor cycles since power-on. */
  readonly cycle: number;
}

/** Ms after the trigger. */
export const msOfTick = ({ timing, triggerTick }: ShotClock, tick: number): number =>
  ticksToMs(TIMINGS[timing], tick - triggerTick);

/** The nearest whole tick. */
export function tickOfMs({ timing, triggerTick }: ShotClock, ms: number): number {
  const { masterNumerator, masterDenominator } = TIMINGS[timing];
  return triggerTick + Math.round((ms * masterNumerator) / (1000 * masterDenominator));
}

/** The place at the tick that is nearest to a time. A frame that is one dot short counts its last dot as the one before. */
export function placeAt(clock: ShotClock, ms: number): ShotPlace {
  const timing = TIMINGS[clock.timing];
  const tick = tickOfMs(clock, ms);
  const cycle = Math.floor((tick - clock.cpuPhaseTicks) / timing.cpuDivider);
  const row = frameRow(clock, tick);
  const common = { tick, ms: msOfTick(clock, tick), cycle };
  if (row < 0) return { ...common, frame: null, scanline: null, dot: null };
  const { start, count } = frameAt(clock, row, tick, timing);
  const since = tick - start;
  const scanline = Math.floor(since / ticksPerLine(timing));
  const dot = Math.floor((since - scanline * ticksPerLine(timing)) / timing.dotDivider);
  return { ...common, frame: clock.firstFrame + count, scanline, dot };
}

/** When the next scanline begins, ms; behind the last line of a frame that is the next frame. */
export function nextScanlineMs(clock: ShotClock, ms: number): number {
  const timing = TIMINGS[clock.timing];
  const { tick, scanline, dot } = placeAt(clock, ms);
  if (scanline === null || dot === null) return msOfTick(clock, clock.frameTicks[0] ?? tick);
  const row = frameRow(clock, tick);
  const { start } = frameAt(clock, row, tick, timing);
  const next = start + (scanline + 1) * ticksPerLine(timing);
  const frame = clock.frameTicks[row + 1] ?? Number.POSITIVE_INFINITY;
  return msOfTick(clock, Math.min(next, frame));
}

/** When the next frame begins, ms. */
export function nextFrameMs(clock: ShotClock, ms: number): number {
  const tick = tickOfMs(clock, ms);
  const next = clock.frameTicks.find((start) => start > tick);
  if (next !== undefined) return msOfTick(clock, next);
  const timing = TIMINGS[clock.timing];
  const { start } = frameAt(clock, frameRow(clock, tick), tick, timing);
  return msOfTick(clock, start + ticksPerFrame(timing));
}

/** Row of the latest known frame that has begun at a tick; -1 before the first. */
function frameRow({ frameTicks }: ShotClock, tick: number): number {
  let row = frameTicks.length - 1;
  while (row >= 0 && frameTicks[row]! > tick) row--;
  return row;
}

/** Start and count of the frame at a tick; behind the last known one frames are not short. */
function frameAt(
  { frameTicks }: ShotClock,
  row: number,
  tick: number,
  timing: Timing,
): { start: number; count: number } {
  const known = frameTicks[Math.max(0, row)] ?? 0;
  if (row < frameTicks.length - 1) return { start: known, count: row };
  const more = Math.floor((tick - known) / ticksPerFrame(timing));
  return { start: known + more * ticksPerFrame(timing), count: row + more };
}
