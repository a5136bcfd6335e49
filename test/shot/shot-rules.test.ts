import { describe, expect, test } from 'vitest';
import { sentenceOf } from '../../src/shot/sentence.ts';
import { runShot, type ShotResult } from '../../src/shot/shot.ts';
import { TIMINGS, ticksPerFrame } from '../../src/units/timing.ts';
import { type FirstLightSetting, firstLight } from '../first-light.ts';

const timing = TIMINGS['60hz'];
const shoot = (setting: FirstLightSetting): ShotResult => runShot(firstLight(setting), 0);
const at = (x: number, y: number, atMs = 200) => [{ aim: { x, y }, atMs }];
const LCD = { panel: { kind: 'lcd' } };

describe('the flash is the box of the aimed target', () => {
  test.each([
    [240, 104, 248, 112],
    [120, 224, 128, 232],
  ])('a lamp at the border (%i, %i): the box is cut off by the screen, and it is a hit', (lampX, lampY, x, y) => {
    const result = shoot({ lampX, lampY, shots: at(x, y) });
    expect([result.judgement, result.warnings]).toEqual(['hit', []]);
    expect(result.ticks.crossing).toBeGreaterThan(result.ticks.flashOnWire!);
  });

  test.each([0x00, 0x11, 0x1c, 0x01])('a box in the dim colour $%s is a flash like any other', (colour) => {
    const result = shoot({
      shots: at(128, 112),
      lightPath: LCD,
      patches: [
        [
          [0xa9, 0x20, 0x8d, 0x00, 0x03],
          [0xa9, colour],
        ],
      ],
    });
    expect(result.ticks.flashOnWire).not.toBeNull();
  });

  test('the first dot is one that has weight in the spot: two radii from the aim, counted from dot centres', () => {
    const line = (y: number): number => shoot({ shots: at(128, y) }).ticks.flashOnWire!;
    const [a, b, c] = [112.4, 112.7, 113].map(line);
    expect([b! - a!, c! - b!]).toEqual([1364, 0]);
  });

  test('a flash whose picture is not complete at the deadline is seen all the same', () => {
    const results = [490, 495, 497].map((ms) => shoot({ shots: at(128, 112, ms), deadlineFrames: 3 }));
    expect(results.map(({ judgement, ticks }) => [judgement, ticks.flashOnWire !== null])).toEqual(
      Array(3).fill(['hit', true]),
    );
  });

  test('what lies behind the deadline is not reported', () => {
    const { ticks } = shoot({
      shots: at(128, 112, 700),
      deadlineFrames: 10,
      lightPath: { ...LCD, stages: [{ kind: 'pure-delay', delayMs: 500 }] },
    });
    expect([ticks.lightAtSpot, ticks.crossing]).toEqual([null, null]);
    expect(ticks.flashOnWire).not.toBeNull();
  });
});

describe('what the program said', () => {
  test('an expression that reads the written address sees the new value', () => {
    expect(
      shoot({ shots: at(128, 112), said: { on: 'write', at: 'verdict', target: 'byte(verdict) - 1' } }).judgement,
    ).toBe('hit');
  });

  test('a mirror of the address is the same cell', () => {
    expect(shoot({ shots: at(128, 112), said: { on: 'write', at: 0x0804, target: 'value - 1' } }).judgement).toBe(
      'hit',
    );
  });

  test('the first write of INC is none: the second counts, and it is said once', () => {
    // sta verdict, two bytes, becomes inc verdict: 0 -> 1
    const result = shoot({
      shots: at(128, 112),
      patches: [
        [
          [0x85, 0x04, 0x4c],
          [0xe6, 0x04],
        ],
      ],
    });
    expect([result.judgement, result.saidTwice]).toEqual(['hit', false]);
  });
});

describe('reads and deadline', () => {
  test('with a sensor on each port the reads of either count', () => {
    const toPort1 = [0xad, 0x16, 0x40];
    const result = shoot({
      shots: at(128, 112),
      ports: ['light sensor', 'light sensor'],
      patches: [
        [[0xad, 0x17, 0x40, 0x29, 0x08], toPort1],
        [[0xad, 0x17, 0x40, 0x29, 0x10], toPort1],
      ],
    });
    expect(result.judgement).toBe('hit');
    expect(result.ticks.firstLitRead).toBe(result.ticks.lastRead);
  });

  test.each([
    [[], 60],
    [[{ kind: 'pure-delay', delayMs: 50 }], 64],
    [[{ kind: 'frame-buffer', frames: 2 }], 62],
  ])("the default deadline is the stages' latency in whole frames and 60 more: %j", (stages, frames) => {
    const prepared = firstLight({ shots: at(128, 112), lightPath: { stages } });
    const { deadlineFrames: _, ...scenario } = prepared.scenario;
    const { ticks } = runShot({ ...prepared, scenario }, 0);
    expect((ticks.deadline - ticks.trigger) / ticksPerFrame(timing)).toBe(frames);
  });
});

describe('the sentence', () => {
  const sentence = (setting: FirstLightSetting): string => sentenceOf(shoot(setting), timing);
  test('too early only for a miss whose light came after the last read', () => {
    const late = { ...LCD, stages: [{ kind: 'pure-delay', delayMs: 50 }] };
    expect(sentence({ shots: at(128, 112), lightPath: late })).toMatch(/last read was .* after: .* too early\.$/);
    expect(sentence({ shots: at(20, 20), lightPath: late })).toBe('The aim was on nothing, and no read saw light.');
    expect(sentence({ shots: at(128, 112) })).toMatch(/; the program read it \d+\.\d µs later\.$/);
  });

  test('light too dim to cross', () => {
    expect(
      sentence({ shots: at(128, 112), lightPath: { ...LCD, sensor: { kind: 'wide-band', thresholdCdM2: 5000 } } }),
    ).toMatch(/^Light from this flash did not cross/);
  });
});
