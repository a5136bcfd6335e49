import { describe, expect, test } from 'vitest';
import { linearPrimaries } from '../../src/references/palette.ts';
import { TIMINGS, type TimingId, ticksPerFrame, ticksPerLine } from '../../src/units/timing.ts';
import {
  BLACK,
  delay,
  draws,
  lcd,
  makePath,
  type Painter,
  patchwork,
  play,
  room,
  spot,
  tube,
  WHITE,
  whole,
  wideBand,
} from './light-bench.ts';
import { DenseWideBand, denseLcd, denseTube, seen, spotElements } from './single-tick.ts';

// The expected ticks are computed here from the definitions with Math.exp, apart from the code under test.

describe('LCD: first crossing of a step from black to white, closed form of a row by row sum', () => {
  // x - b for light that steps by s(1 - e^(-p t)), low-pass pole q, baseline pole r: transform s p q / ((z+p)(z+q)(z+r)).
  const response = (t: number, [p, q, r]: readonly [number, number, number]): number =>
    t <= 0
      ? 0
      : p *
        q *
        (Math.exp(-p * t) / ((q - p) * (r - p)) +
          Math.exp(-q * t) / ((p - q) * (r - q)) +
          Math.exp(-r * t) / ((p - r) * (q - r)));

  test.each(Array.from({ length: 60 }, (_, i) => i))('random setting %i', (i) => {
    const draw = draws(11, i);
    const timing = TIMINGS[(['60hz', '50hz', '50hz-clone'] as const)[Math.floor(draw(0, 3))]!];
    const rows = Math.floor(draw(240, 2161));
    const radius = draw(0.6, 4);
    const aim = { x: draw(1, 255), y: draw(1, 239) };
    const riseMs = draw(0.3, 30);
    const [white, black] = [draw(100, 500), draw(0, 1)];
    const lux = draw(0, 1000);
    const cornerHz = draw(500, 20_000);
    const isStored = draw(0, 1) < 0.5;
    const scanMs = isStored ? draw(2, 16.6) : draw(15.5, 16.6);
    const delayMs = draw(0, 120);
    const frames = 12;
    const path = makePath(
      {
        stages: isStored ? [{ kind: 'frame-buffer', frames: 1 }, delay(delayMs)] : [delay(delayMs)],
        panel: lcd({ rows, scanMs, riseMs, whiteCdM2: white, blackCdM2: black }),
        room: room(lux),
        optics: spot(radius),
        sensor: wideBand({ cornerHz, thresholdCdM2: 25 }),
      },
      play({ paint: whole((n) => n >= 1), frames, timing }),
      aim,
      timing,
    );
    const clock = timing.masterNumerator / timing.masterDenominator;
    const start =
      1 * ticksPerFrame(timing) +
      4 * timing.dotDivider +
      Math.round((delayMs / 1000) * clock) +
      (isStored ? ticksPerFrame(timing) : ticksPerLine(timing));
    const scanTicks = Math.round((scanMs / 1000) * clock);
    const elements = spotElements(aim, radius, rows);
    const heightOfRow = new Map<number, number>();
    for (const { row, weight } of elements) {
      heightOfRow.set(
        row,
        (heightOfRow.get(row) ?? 0) + weight * (white - black) * seen(linearPrimaries(false), WHITE),
      );
    }
    const poles = [Math.log(9) / (riseMs / 1000), 2 * Math.PI * cornerHz, 1] as const;
    const steps = [...heightOfRow].map(([row, height]) => ({
      at: start + Math.round((row * scanTicks) / rows),
      height,
    }));
    const above = (ticks: number): number =>
      steps.reduce((sum, { at, height }) => sum + height * response((ticks - at) / clock, poles), 0);
    const first = Math.min(...steps.map(({ at }) => at));
    let [low, high] = [first, first + 0.06 * clock];
    expect(above(high)).toBeGreaterThan(25);
    while (high - low > 1e-4) {
      const middle = (low + high) / 2;
      if (above(middle) > 25) high = middle;
      else low = middle;
    }
    path.bitAt(start + 9 * ticksPerFrame(timing));
    expect(path.flips[0]).toBe(Math.ceil(low));
    expect(path.flips).toHaveLength(1);
  });
});

const OFFICE = (0.1 * 500) / Math.PI;

interface Screening {
  readonly id: TimingId;
  readonly paint: Painter;
  readonly aim: { x: number; y: number };
  readonly radius: number;
  readonly threshold: number;
  readonly white: number;
}

const blinking = whole((n) => n % 3 === 1);
const coloured: Painter = (codes, n) => codes.fill([0x16, BLACK, 0x2a, 0x12, BLACK][n % 5]!);

describe('tube against single-tick stepping', () => {
  const FRAMES = 6;

  test.each<Screening & { phosphor: number }>([
    { id: '60hz', paint: blinking, aim: { x: 128.2, y: 100.4 }, radius: 3, threshold: 25, white: 100, phosphor: 1 },
    { id: '60hz', paint: whole(() => true), aim: { x: 60, y: 20 }, radius: 6, threshold: 25, white: 100, phosphor: 1 },
    { id: '50hz', paint: coloured, aim: { x: 30.7, y: 236.9 }, radius: 4, threshold: 8, white: 120, phosphor: 1 },
    { id: '60hz', paint: patchwork(5), aim: { x: 100.1, y: 150.5 }, radius: 5, threshold: 60, white: 100, phosphor: 1 },
    { id: '60hz', paint: patchwork(6), aim: { x: 200.1, y: 50.5 }, radius: 2, threshold: 15, white: 80, phosphor: 2 },
    { id: '50hz-clone', paint: blinking, aim: { x: 128, y: 120 }, radius: 1, threshold: 400, white: 100, phosphor: 2 },
  ])(
    '$id, radius $radius, threshold $threshold, phosphor $phosphor',
    ({ id, paint, aim, radius, threshold, white, phosphor }) => {
      const timing = TIMINGS[id];
      const history = play({ paint, frames: FRAMES, timing });
      const path = makePath(
        {
          stages: [],
          panel: tube({ whiteCdM2: white, phosphor }),
          room: room(500),
          optics: spot(radius),
          sensor: wideBand({ thresholdCdM2: threshold }),
        },
        history,
        aim,
        timing,
      );
      const light = denseTube({ timing, history, frames: FRAMES, aim, radius, white }, phosphor);
      const sensor = new DenseWideBand(timing, 5000, threshold, OFFICE);
      const end = FRAMES * ticksPerFrame(timing);
      for (let tick = 0; tick < end; tick++) {
        const { constant, modes } = light.from(tick);
        sensor.step(tick, { constant: OFFICE + constant, modes });
      }
      path.bitAt(end);
      expect(sensor.flips.length).toBeGreaterThan(2);
      expect(path.flips).toEqual(sensor.flips);
      const { x, b } = path.sensorAt(end);
      expect(x).toBeCloseTo(sensor.x, 6);
      expect(b).toBeCloseTo(sensor.b, 5);
    },
  );
});

describe('LCD against single-tick stepping of every cell', () => {
  const FRAMES = 7;

  test.each<Screening & { rows: number; riseMs: number; fallMs: number }>([
    {
      id: '60hz',
      paint: blinking,
      aim: { x: 128.2, y: 100.4 },
      radius: 1,
      threshold: 25,
      white: 250,
      rows: 240,
      riseMs: 3,
      fallMs: 2,
    },
    {
      id: '60hz',
      paint: patchwork(7),
      aim: { x: 100.1, y: 151.9 },
      radius: 1,
      threshold: 60,
      white: 350,
      rows: 300,
      riseMs: 1,
      fallMs: 6,
    },
    {
      id: '50hz',
      paint: coloured,
      aim: { x: 7.1, y: 0.4 },
      radius: 1,
      threshold: 12,
      white: 300,
      rows: 480,
      riseMs: 5,
      fallMs: 5,
    },
    {
      id: '50hz',
      paint: patchwork(8),
      aim: { x: 77.7, y: 200 },
      radius: 0.8,
      threshold: 30,
      white: 500,
      rows: 720,
      riseMs: 0.0699,
      fallMs: 0.5,
    },
  ])(
    '$id, $rows rows, rise $riseMs ms, fall $fallMs ms',
    ({ id, paint, aim, radius, threshold, white, rows, riseMs, fallMs }) => {
      const timing = TIMINGS[id];
      const black = 0.3;
      const history = play({ paint, frames: FRAMES, timing });
      const path = makePath(
        {
          stages: [],
          panel: lcd({ rows, riseMs, fallMs, whiteCdM2: white, blackCdM2: black }),
          room: room(500),
          optics: spot(radius),
          sensor: wideBand({ thresholdCdM2: threshold }),
        },
        history,
        aim,
        timing,
      );
      const screen = { timing, history, frames: FRAMES, aim, radius, white };
      const light = denseLcd(screen, { rows, riseMs, fallMs, black });
      const sensor = new DenseWideBand(timing, 5000, threshold, OFFICE + light.steady);
      const end = FRAMES * ticksPerFrame(timing);
      for (let tick = 0; tick < end; tick++) {
        const { constant, modes } = light.from(tick);
        sensor.step(tick, { constant: OFFICE + constant, modes });
      }
      path.bitAt(end);
      expect(sensor.flips.length).toBeGreaterThan(1);
      expect(path.flips).toEqual(sensor.flips);
      const { x, b } = path.sensorAt(end);
      expect(x).toBeCloseTo(sensor.x, 5);
      expect(b).toBeCloseTo(sensor.b, 4);
    },
  );
});
