import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { linearPrimaries } from '../../src/references/palette.ts';
import { ticksPerFrame, ticksPerLine } from '../../src/units/timing.ts';
import {
  BLACK,
  draws,
  lamp,
  lcd,
  lineRate,
  makePath,
  patchwork,
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
const LINE = ticksPerLine(TIMING_60);

describe('energy', () => {
  // A low-pass has a DC gain of 1: in a periodic state its mean is the mean of the light.
  test.each([
    [1, { x: 128, y: 120 }, 1],
    [2, { x: 128, y: 120 }, 1],
    [2, { x: 0, y: 120 }, 0.5],
    [2, { x: 256, y: 240 }, 0.25],
  ])(
    'phosphor %i: a steady white field has the mean luminance of the tube times the share on the screen',
    (phosphor, aim, share) => {
      const frames = 14;
      const history = play({ paint: whole(() => true), frames });
      const path = makePath(
        { stages: [], panel: tube({ whiteCdM2: 100, phosphor }), room: room(500), optics: spot(6) },
        history,
        aim,
      );
      const from = history.get(frames - 3)!.lineZeroTick;
      const to = history.get(frames - 1)!.lineZeroTick;
      path.bitAt(from);
      let sum = 0;
      for (let tick = from; tick < to; tick += 4) sum += path.sensorAt(tick).x;
      const roomLight = (0.1 * 500) / Math.PI;
      expect((sum * 4) / (to - from) - roomLight).toBeCloseTo(100 * share, 1);
    },
  );

  test('a steady white LCD gives white, a black one black', () => {
    const history = play({ paint: whole((n) => n >= 6), frames: 12 });
    const path = makePath(
      { stages: [], panel: lcd({ whiteCdM2: 350, blackCdM2: 0.1, riseMs: 1 }), room: room(0) },
      history,
    );
    path.bitAt(6 * FRAME - 100);
    expect(path.lightAt(6 * FRAME - 100)).toBeCloseTo(0.1, 12);
    path.bitAt(12 * FRAME);
    expect(path.lightAt(12 * FRAME)).toBeCloseTo(350, 9);
  });

  test('peak of one dot of a phosphor of 30 us: mean x frame / tau = 55 464 cd/m2 for 100 cd/m2 (derived)', () => {
    const history = play({ paint: whole((n) => n === 1), frames: 4 });
    const aim = { x: 128.3, y: 120.3 };
    const green = wideBand({ weightRed: 0, weightGreen: 1, weightBlue: 0 });
    const path = makePath(
      { stages: [], panel: tube({ phosphor: 2 }), room: room(0), optics: spot(0.5), sensor: green },
      history,
      aim,
    );
    // dots 127 and 128, lines 119 and 120 have their centres within 1 of the aim; dot 127 of line 119 comes first
    const tick = FRAME + 16 + 119 * LINE + 127 * 4;
    const weight = (d: number) => 0.5 ** ((d / 0.5) ** 2);
    const share = weight(0.8) / (weight(0.8) + weight(0.2));
    path.bitAt(tick - 1);
    expect(path.lightAt(tick - 1)).toBe(0);
    expect(path.lightAt(tick) / share / share / 55_464).toBeCloseTo(1, 4);
  });

  // Simulation with the same phosphors and silicon weights, Gaussian aperture (derived): FWHM lines, peak over mean.
  test.each([
    [4, 30.8],
    [10, 15.4],
    [20, 9.0],
  ])('aperture of %i lines at half weight: line-averaged peak / frame mean %f', (fwhm, expected) => {
    const frames = 12;
    const history = play({ paint: whole(() => true), frames });
    const path = makePath(
      { stages: [], panel: tube({ whiteCdM2: 100 }), room: room(0), optics: spot(fwhm / 2) },
      history,
      { x: 128, y: 120.5 },
    );
    const start = history.get(frames - 1)!.lineZeroTick;
    path.bitAt(start);
    let peak = 0;
    for (let line = 105; line < 145; line++) {
      let sum = 0;
      for (let tick = 0; tick < LINE; tick++) sum += path.lightAt(start + line * LINE + tick);
      peak = Math.max(peak, sum / LINE);
    }
    // our spot is cut at two radii, which leaves out 2 % of the aperture, and the lines here begin at dot 0
    expect(Math.abs(peak / 100 / expected - 1)).toBeLessThan(0.08);
  });
});

describe('linearity', () => {
  test.each([
    [
      'tube',
      (scale: number) => ({ panel: tube({ whiteCdM2: 100 * scale }), sensor: wideBand({ thresholdCdM2: 45 * scale }) }),
    ],
    [
      'tube and line-rate sensor',
      (scale: number) => ({
        panel: tube({ whiteCdM2: 100 * scale }),
        sensor: lineRate({ thresholdCdM2: 18 * scale, dropCdM2: 5 * scale }),
      }),
    ],
    [
      'lcd',
      (scale: number) => ({
        panel: lcd({ whiteCdM2: 200 * scale, blackCdM2: 0.5 * scale }),
        sensor: wideBand({ thresholdCdM2: 45 * scale }),
      }),
    ],
    [
      'lcd with a switched backlight, under a lamp',
      (scale: number) => ({
        panel: lcd({ whiteCdM2: 200 * scale, blackCdM2: 0.5 * scale, pwmHz: 500, pwmDuty01: 0.5 }),
        sensor: wideBand({ thresholdCdM2: 45 * scale }),
        room: lamp({ illuminanceLux: 300 * scale }),
      }),
    ],
  ])('%s: twice the luminance and twice the threshold give the same flips and twice the light', (_, models) => {
    const run = (scale: number) =>
      makePath({ stages: [], room: room(100 * scale), ...models(scale) }, play({ paint: patchwork(4), frames: 8 }));
    const [one, two] = [run(1), run(2)];
    for (let tick = 0; tick < 8 * FRAME; tick += 40_000) {
      one.bitAt(tick);
      two.bitAt(tick);
      expect(two.lightAt(tick) / one.lightAt(tick)).toBeCloseTo(2, 12);
    }
    expect(one.flips.length).toBeGreaterThan(1);
    expect(two.flips).toEqual(one.flips);
  });
});

test('monotone: brighter codes never give less light, on either panel', () => {
  const light = linearPrimaries(false);
  const brightest = (a: number, b: number): boolean => [0, 1, 2].every((p) => light[a * 3 + p]! <= light[b * 3 + p]!);
  const codes = Array.from({ length: 512 }, (_, code) => code);
  const property = fc.property(
    fc.integer({ min: 0, max: 1e6 }),
    fc.boolean(),
    fc.double({ min: 0.2, max: 8, noNaN: true }),
    fc.double({ min: 0.2, max: 8, noNaN: true }),
    (seed, isTube, riseMs, fallMs) => {
      const draw = draws(seed, 1);
      const frames = 5;
      const dim = Array.from({ length: frames }, () => Math.floor(draw(0, 512)));
      const bright = dim.map((code) => {
        const choices = codes.filter((other) => brightest(code, other));
        return choices[Math.floor(draw(0, choices.length))]!;
      });
      const panel = isTube ? tube() : lcd({ rows: 300, riseMs, fallMs });
      const [low, high] = [dim, bright].map((list) =>
        makePath({ stages: [], panel, optics: spot(1) }, play({ paint: (to, n) => to.fill(list[n]!), frames })),
      );
      for (let i = 0; i < 60; i++) {
        const tick = Math.floor((i * frames * FRAME) / 60);
        expect(high!.lightAt(tick)).toBeGreaterThanOrEqual(low!.lightAt(tick) - 1e-9);
        expect(high!.sensorAt(tick).x).toBeGreaterThanOrEqual(low!.sensorAt(tick).x - 1e-9);
      }
    },
  );
  fc.assert(property, { seed: 5, numRuns: 60 });
});

test('moving scene and aim down by k lines moves the flips of a tube by k lines', () => {
  const band = (top: number) => (codes: Uint16Array, n: number) => {
    codes.fill(BLACK);
    if (n === 2) codes.fill(WHITE, top * 256, (top + 20) * 256);
  };
  const run = (k: number) => {
    const path = makePath({ stages: [], panel: tube(), optics: spot(4) }, play({ paint: band(50 + k), frames: 5 }), {
      x: 99.5,
      y: 60.25 + k,
    });
    path.bitAt(5 * FRAME);
    return path.flips;
  };
  const still = run(0);
  expect(still).toHaveLength(2);
  for (const k of [1, 17, 120]) expect(run(k)).toEqual(still.map((tick) => tick + k * LINE));
});
