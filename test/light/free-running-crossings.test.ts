import { describe, expect, test } from 'vitest';
import { TIMINGS, type TimingId, ticksPerFrame } from '../../src/units/timing.ts';
import {
  BLACK,
  lamp,
  lcd,
  makePath,
  type Painter,
  patchwork,
  play,
  room,
  spot,
  tube,
  whole,
  wideBand,
} from './light-bench.ts';
import {
  type DenseLamp,
  type DenseLight,
  DenseWideBand,
  denseLcd,
  denseTube,
  lampLight,
  type Screen,
} from './single-tick.ts';

// What runs from power-on and not with the pictures, before the wide-band sensor, against single-tick stepping.

interface Screening {
  readonly id: TimingId;
  readonly paint: Painter;
  readonly aim: { x: number; y: number };
  readonly radius: number;
  readonly threshold: number;
  readonly flips: number;
}

const FRAMES = 5;
const CORNER_HZ = 5000;
const blinking = whole((n) => n % 3 === 1);
const black: Painter = (codes) => codes.fill(BLACK);

/** Step to the end; x after power-on is that of a lamp that has shone for ever, low-passed. */
function stepped(sensor: DenseWideBand, light: DenseLight, roomLight: (tick: number) => number, end: number): void {
  for (let tick = 0; tick < end; tick++) {
    const { constant, modes } = light.from(tick);
    sensor.step(tick, { constant: constant + roomLight(tick), modes });
  }
}

/** A lamp's light behind one pole, for ever: smaller by 1 / sqrt(1 + (w tau)^2) and late by atan(w tau), at power-on. */
function steadyLamp({ meanCdM2, percentFlicker, mainsHz, phase01 }: DenseLamp): number {
  const wTau = (2 * mainsHz) / CORNER_HZ;
  const lag = Math.atan(wTau);
  return meanCdM2 * (1 + ((percentFlicker / 100) * Math.cos(2 * Math.PI * phase01 - lag)) / Math.sqrt(1 + wTau ** 2));
}

describe('under a lamp on the mains', () => {
  const source = { percentFlicker: 60, mainsHz: 60, phase01: 0.15 };

  test.each<Screening & { on: 'tube' | 'lcd'; lux: number; lampValues?: Partial<typeof source> }>([
    {
      on: 'tube',
      lux: 500,
      id: '60hz',
      paint: blinking,
      aim: { x: 128.2, y: 100.4 },
      radius: 3,
      threshold: 25,
      flips: 4,
    },
    { on: 'tube', lux: 2000, id: '60hz', paint: black, aim: { x: 128, y: 100 }, radius: 1, threshold: 25, flips: 18 },
    {
      on: 'tube',
      lux: 2000,
      id: '50hz',
      paint: black,
      aim: { x: 128, y: 100 },
      radius: 1,
      threshold: 60,
      flips: 10,
      lampValues: { mainsHz: 50.03, percentFlicker: 100, phase01: 0.9 },
    },
    { on: 'lcd', lux: 900, id: '60hz', paint: blinking, aim: { x: 99, y: 7.2 }, radius: 0.8, threshold: 25, flips: 10 },
    {
      on: 'lcd',
      lux: 300,
      id: '50hz',
      paint: patchwork(9),
      aim: { x: 9, y: 133 },
      radius: 0.8,
      threshold: 8,
      flips: 3,
    },
  ])('$on, $id, $lux lx, threshold $threshold', ({ on, lux, id, paint, aim, radius, threshold, flips, lampValues }) => {
    const timing = TIMINGS[id];
    const history = play({ paint, frames: FRAMES, timing });
    const values = { ...source, ...lampValues };
    const shining = { meanCdM2: (0.1 * lux) / Math.PI, ...values };
    const cells = { rows: 300, riseMs: 1, fallMs: 3, black: 0.2 };
    const path = makePath(
      {
        stages: [],
        panel: on === 'tube' ? tube() : lcd({ rows: 300, riseMs: 1, fallMs: 3, whiteCdM2: 100, blackCdM2: 0.2 }),
        room: lamp({ illuminanceLux: lux, ...values }),
        optics: spot(radius),
        sensor: wideBand({ thresholdCdM2: threshold, cornerHz: CORNER_HZ }),
      },
      history,
      aim,
      timing,
    );
    const screen: Screen = { timing, history, frames: FRAMES, aim, radius, white: 100 };
    const light = on === 'tube' ? { ...denseTube(screen, 1), steady: 0 } : denseLcd(screen, cells);
    const sensor = new DenseWideBand(timing, CORNER_HZ, threshold, steadyLamp(shining) + light.steady);
    const end = FRAMES * ticksPerFrame(timing);
    stepped(sensor, light, (tick) => lampLight(shining, timing, tick), end);
    path.bitAt(end);
    expect(sensor.flips.length).toBeGreaterThanOrEqual(flips);
    expect(path.flips).toEqual(sensor.flips);
    const { x, b } = path.sensorAt(end);
    expect(x).toBeCloseTo(sensor.x, 5);
    expect(b).toBeCloseTo(sensor.b, 4);
  });
});

describe('LCD with a switched backlight, every cell stepped in the dark too', () => {
  test.each<Screening & { pwmHz: number; pwmDuty01: number; pwmPhase01: number }>([
    {
      ...{ pwmHz: 240, pwmDuty01: 0.4, pwmPhase01: 0.7 },
      ...{ id: '60hz', paint: blinking, aim: { x: 128.2, y: 100.4 }, radius: 0.8, threshold: 25, flips: 10 },
    },
    {
      ...{ pwmHz: 2000, pwmDuty01: 0.25, pwmPhase01: 0 },
      ...{ id: '50hz', paint: patchwork(10), aim: { x: 77.7, y: 200 }, radius: 0.8, threshold: 20, flips: 20 },
    },
    {
      ...{ pwmHz: 16_000, pwmDuty01: 0.5, pwmPhase01: 0.5 },
      ...{ id: '60hz', paint: blinking, aim: { x: 30, y: 120 }, radius: 0.8, threshold: 100, flips: 50 },
    },
    {
      ...{ pwmHz: 25_000, pwmDuty01: 0.9, pwmPhase01: 1 },
      ...{ id: '50hz-clone', paint: blinking, aim: { x: 30, y: 120 }, radius: 0.8, threshold: 60, flips: 2 },
    },
  ])('$id, $pwmHz Hz, duty $pwmDuty01', ({ id, paint, aim, radius, threshold, flips, ...pwm }) => {
    const timing = TIMINGS[id];
    const history = play({ paint, frames: FRAMES, timing });
    const settings = { rows: 400, riseMs: 2, fallMs: 4, ...pwm };
    const path = makePath(
      {
        stages: [],
        panel: lcd({ ...settings, whiteCdM2: 400, blackCdM2: 1 }),
        room: room(500),
        optics: spot(radius),
        sensor: wideBand({ thresholdCdM2: threshold, cornerHz: CORNER_HZ }),
      },
      history,
      aim,
      timing,
    );
    const office = (0.1 * 500) / Math.PI;
    const light = denseLcd({ timing, history, frames: FRAMES, aim, radius, white: 400 }, { ...settings, black: 1 });
    const isOn = pwm.pwmPhase01 % 1 < pwm.pwmDuty01;
    const sensor = new DenseWideBand(timing, CORNER_HZ, threshold, office + (isOn ? light.steady : 0));
    const end = FRAMES * ticksPerFrame(timing);
    stepped(sensor, light, () => office, end);
    path.bitAt(end);
    expect(sensor.flips.length).toBeGreaterThanOrEqual(flips);
    expect(path.flips).toEqual(sensor.flips);
    const { x, b } = path.sensorAt(end);
    expect(x).toBeCloseTo(sensor.x, 5);
    expect(b).toBeCloseTo(sensor.b, 4);
  });
});
