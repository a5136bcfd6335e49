import { describe, expect, test } from 'vitest';
import type { LightPath, LightPathSettings } from '../../src/light/light-path.ts';
import { PictureHistory } from '../../src/picture/picture.ts';
import { msToTicks, ticksPerFrame, ticksToSeconds } from '../../src/units/timing.ts';
import {
  BLACK,
  beginPicture,
  lcd,
  makePath,
  type Painter,
  play,
  room,
  spot,
  TIMING_60,
  tube,
  WHITE,
  whole,
  wideBand,
} from './light-bench.ts';

const FRAME = ticksPerFrame(TIMING_60);
const second = (s: number): number => msToTicks(TIMING_60, 1000 * s);

/** Run as a console does: begin a picture, ask when it is over. `look` is called before each picture. */
function watch(
  settings: Partial<LightPathSettings>,
  paint: Painter,
  frames: number,
  look?: (path: LightPath, n: number) => void,
): LightPath {
  const history = new PictureHistory(12);
  const path = makePath({ stages: [], optics: spot(1), ...settings }, history);
  for (let n = 0; n < frames; n++) {
    const tick = beginPicture(history, paint, n, TIMING_60);
    if (n > 0) path.bitAt(tick);
    look?.(path, n);
  }
  return path;
}

describe('baseline of the wide-band sensor on an LCD (rule of our own, see wide-band.ts)', () => {
  test('below the threshold it rises with 1 s', () => {
    const step = 20;
    const readings: { tick: number; above: number }[] = [];
    const settings = { panel: lcd({ whiteCdM2: step, blackCdM2: 0.001, riseMs: 0.1 }), room: room(0) };
    const path = watch(
      settings,
      whole((n) => n > 0),
      130,
      (at, n) => {
        if (n < 5) return;
        const { x, b } = at.sensorAt(n * FRAME);
        readings.push({ tick: n * FRAME, above: x - b });
      },
    );
    expect(path.flips).toEqual([]);
    const [first, last] = [readings[0]!, readings[readings.length - 1]!];
    const seconds = ticksToSeconds(TIMING_60, last.tick - first.tick);
    expect(last.above / first.above).toBeCloseTo(Math.exp(-seconds), 6);
    expect(first.above).toBeGreaterThan(0.9 * step);
  });

  test('while lit it rises with 10 s, until a steady light is no signal any more', () => {
    const settings = { panel: lcd({ whiteCdM2: 100, blackCdM2: 0.001, riseMs: 0.1 }), room: room(0) };
    let above = 0;
    let measuredAt = 0;
    const path = watch(
      settings,
      whole((n) => n > 0),
      1100,
      (at, n) => {
        if (n !== 10) return;
        measuredAt = n * FRAME;
        const { x, b } = at.sensorAt(measuredAt);
        above = x - b;
      },
    );
    expect(path.flips).toHaveLength(2);
    const expected = measuredAt + second(10 * Math.log(above / 20));
    expect(Math.abs(path.flips[1]! - expected)).toBeLessThan(100);
  });

  test('it follows down at once: a dim flash right after a long bright sky is seen as without the sky', () => {
    const [sky, black, flash] = [60, 4, 2];
    const settings = { panel: lcd({ riseMs: 2, fallMs: 1 }), room: room(200) };
    const scene =
      (hasSky: boolean): Painter =>
      (codes, n) => {
        const isSky = hasSky && n >= 1 && n <= sky;
        const isFlash = n > sky + black && n <= sky + black + flash;
        codes.fill(isSky ? WHITE : isFlash ? 0x00 : BLACK);
      };
    const [after, without] = [true, false].map(
      (hasSky) => watch(settings, scene(hasSky), sky + black + flash + 6).flips,
    );
    expect(without).toHaveLength(2);
    expect(after).toHaveLength(4);
    expect(Math.abs(after![2]! - without![0]!)).toBeLessThan(10);
    expect(Math.abs(after![3]! - without![1]!)).toBeLessThan(1000);
  });

  test('room light alone is never a signal, however bright', () => {
    const settings = { panel: lcd(), room: room(100_000, 1) };
    expect(
      watch(
        settings,
        whole(() => false),
        30,
      ).flips,
    ).toEqual([]);
    expect(
      watch(
        settings,
        whole((n) => n === 9),
        30,
      ).flips,
    ).toHaveLength(2);
  });

  test('hysteresis: lit at the first tick above the threshold, unlit at the first below it less the hysteresis', () => {
    const settings = {
      stages: [],
      panel: lcd({ riseMs: 4, fallMs: 4 }),
      sensor: wideBand({ thresholdCdM2: 50, hysteresis01: 0.4 }),
    };
    const make = () => makePath(settings, play({ paint: whole((n) => n % 8 === 2), frames: 24 }));
    const asked = make();
    asked.bitAt(24 * FRAME);
    expect(asked.flips).toHaveLength(6);
    const path = make();
    for (const [i, flip] of asked.flips.entries()) {
      path.bitAt(flip - 1);
      const [before, at] = [flip - 1, flip].map((tick) => path.sensorAt(tick)).map(({ x, b }) => x - b);
      if (i % 2 === 0) {
        expect(before).toBeLessThanOrEqual(50);
        expect(at).toBeGreaterThan(50);
      } else {
        expect(before).toBeGreaterThanOrEqual(30);
        expect(at).toBeLessThan(30);
      }
    }
  });

  test('a steady picture makes no cuts', () => {
    const cuts: number[] = [];
    const checker: Painter = (codes) => {
      for (let i = 0; i < codes.length; i++) codes[i] = (i & 1) === 1 ? 0x10 : 0x2a;
    };
    watch({ panel: lcd() }, checker, 200, (path, n) => {
      if (n > 20) cuts.push(path.save().tick);
    });
    expect(new Set(cuts).size).toBe(1);
  });
});

describe('wide-band sensor on a tube', () => {
  const sensor = wideBand({ thresholdCdM2: 25 });

  test.each([1, 2])('one pulse a frame on a white field, phosphor %i', (phosphor) => {
    const frames = 30;
    const { flips } = watch(
      { panel: tube({ phosphor }), sensor, optics: spot(6) },
      whole(() => true),
      frames,
    );
    expect(flips).toHaveLength(2 * (frames - 1));
    for (let i = 0; i < flips.length; i += 2) {
      const row = ((flips[i]! + Math.floor(i / 4) * 4) % FRAME) / 1364;
      expect(row).toBeGreaterThan(106);
      expect(row).toBeLessThan(120);
      expect(ticksToSeconds(TIMING_60, flips[i + 1]! - flips[i]!)).toBeLessThan(0.008);
    }
  });

  test('with zero lag the lit time holds the moment at which the beam crosses the aim', () => {
    const { flips } = watch(
      { panel: tube(), sensor, optics: spot(6) },
      whole((n) => n === 3),
      8,
    );
    const beam = 3 * FRAME - 4 + 16 + 120 * 1364 + 128 * 4;
    expect(flips).toHaveLength(2);
    expect(flips[0]).toBeLessThan(beam);
    expect(flips[1]).toBeGreaterThan(beam);
  });

  test('the sky of a tube leaves no blindness either', () => {
    const paint = (hasSky: boolean): Painter => whole((n) => (hasSky && n >= 1 && n <= 60) || n === 64);
    const [after, without] = [true, false].map(
      (hasSky) => watch({ panel: tube(), sensor, optics: spot(6) }, paint(hasSky), 68).flips,
    );
    expect(without).toHaveLength(2);
    expect(after!.length).toBeGreaterThan(100);
    expect(Math.abs(after![after!.length - 2]! - without![0]!)).toBeLessThan(10);
  });
});
