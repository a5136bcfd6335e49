import { describe, expect, test } from 'vitest';
import { ReferenceConsole } from '../../src/console/reference/reference-console.ts';
import { type LineRange, PictureHistory, type TargetRectangle } from '../../src/picture/picture.ts';
import { parseImage } from '../../src/program/image.ts';
import type { TraceEvent } from '../../src/trace/trace.ts';
import { TIMINGS, type TimingId, ticksPerFrame } from '../../src/units/timing.ts';
import { firstDifference } from './difference.ts';
import { LateConsole } from './late-console.ts';
import { splitProgram } from './split-program.ts';

/** Where the program has its sprite 1: the RAM at the vblank dot. */
const targetsIn = (peek: (address: number) => number): TargetRectangle[] => [
  { isLive: peek(0) === 1, x: peek(0x207), y: peek(0x204), width: 8, height: 8 },
];

/** Frames of a game on the reference console and on one that asks the fast unit late; how often it split. */
function compareFrames(timingId: TimingId, seed: number, frames: number, draws?: LineRange): number {
  const timing = TIMINGS[timingId];
  const image = splitProgram(seed);
  const histories = [new PictureHistory(3), new PictureHistory(3)] as const;
  const events: TraceEvent[] = [];
  const reference: ReferenceConsole = new ReferenceConsole({
    timing,
    image: parseImage(image),
    devices: ['none', 'none'],
    surroundings: { readLight: () => 0, isTriggerClosed: () => false, buttons: () => 0 },
    history: histories[0],
    trace: { put: (event) => event.kind !== 'dma' && events.push(event) },
    request: { fetches: [], writes: [], reads: [] },
    alignment: { cpuPhaseTicks: 0, putParity: 0 },
    hooks: { targetsForNextPicture: () => targetsIn((address) => reference.peek(address)) },
  });
  const late = new LateConsole({
    timing,
    image,
    history: histories[1],
    targets: (ram) => targetsIn((address) => ram[address]!),
    ...(draws === undefined ? {} : { draws }),
  });
  const { firstLine, lastLine } = draws ?? { firstLine: 0, lastLine: 239 };
  let splits = 0;
  for (let frame = 1; frame <= frames; frame++) {
    reference.runUntil(frame * ticksPerFrame(timing));
    late.runUntil(frame * ticksPerFrame(timing));
    const { raster, ram, cpu } = reference.save();
    expect(firstDifference('raster', late.raster.save(), raster)).toBeUndefined();
    expect(firstDifference('ram', late.ram, ram)).toBeUndefined();
    expect(firstDifference('cpu', late.cpu.save(), cpu)).toBeUndefined();
    expect(firstDifference('events', late.events, events)).toBeUndefined();
    splits += events.filter((event) => event.kind === 'register-write' && event.value === 0x7e).length;
    events.length = 0;
    late.events.length = 0;
    const [expected, found] = histories.map((history) => history.get(history.newest - 1));
    if (expected === undefined || found === undefined) continue;
    expect(found.targets).toEqual(expected.targets);
    const part = [firstLine * 256, (lastLine + 1) * 256] as const;
    expect(firstDifference('codes', found.codes.subarray(...part), expected.codes.subarray(...part))).toBeUndefined();
  }
  return splits;
}

describe('a game that splits its picture, on a console that asks the fast unit late', () => {
  test.each<[TimingId, number]>([
    ['60hz', 1],
    ['60hz', 2],
    ['50hz', 1],
    ['50hz', 7],
    ['50hz-clone', 4],
  ])(
    '%s, data %i: processor, RAM, unit, events, targets and pictures are equal after each of 25 frames',
    (timing, seed) => {
      expect(compareFrames(timing, seed, 25)).toBeGreaterThan(15);
    },
  );

  test('the same with 24 lines drawn, and with none', () => {
    expect(compareFrames('60hz', 5, 20, { firstLine: 40, lastLine: 63 })).toBeGreaterThan(10);
    expect(compareFrames('60hz', 6, 20, { firstLine: 0, lastLine: -1 })).toBeGreaterThan(10);
  });
});
