import { describe, expect, test } from 'vitest';
import type { LightPathSettings } from '../../src/light/light-path.ts';
import { type ModelSetting, settingValues } from '../../src/light/parameters.ts';
import { LINE_RATE } from '../../src/light/sensor/line-rate.ts';
import { TIMINGS, type TimingId, ticksPerFrame } from '../../src/units/timing.ts';
import {
  BLACK,
  lamp,
  lcd,
  lineRate,
  makePath,
  type Painter,
  patchwork,
  play,
  room,
  spot,
  tube,
  WHITE,
  whole,
} from './light-bench.ts';
import {
  type DenseLight,
  DenseLineRate,
  type DenseLineRateSettings,
  denseLcd,
  denseTube,
  lampLight,
  type Screen,
} from './single-tick.ts';

interface Screening {
  readonly name: string;
  readonly id: TimingId;
  readonly paint: Painter;
  readonly aim: { x: number; y: number };
  readonly radius: number;
  readonly sensor: Partial<DenseLineRateSettings>;
  /** Flips there must be at least. */
  readonly flips: number;
}

/** Both ways of computing one screening: the light path as it is used, and everything tick by tick. */
function compare(
  { id, paint, aim, radius, sensor, flips }: Screening,
  white: number,
  panel: ModelSetting,
  dense: (screen: Screen) => DenseLight & { readonly steady?: number },
  roomLight: { readonly setting: ModelSetting; readonly at: (tick: number) => number },
): void {
  const frames = 4;
  const timing = TIMINGS[id];
  const history = play({ paint, frames, timing });
  const settings: LightPathSettings = {
    stages: [],
    panel,
    room: roomLight.setting,
    optics: spot(radius),
    sensor: lineRate(sensor as Record<string, number>),
  };
  const path = makePath(settings, history, aim, timing);
  const values = settingValues(settings.sensor);
  const weights = LINE_RATE.spectralWeights(values);
  const light = dense({ timing, history, frames, aim, radius, white, weights });
  const stepped = new DenseLineRate(
    timing,
    values as unknown as DenseLineRateSettings,
    roomLight.at(-0.5) + (light.steady ?? 0),
  );
  const end = frames * ticksPerFrame(timing);
  for (let tick = 0; tick < end; tick++) {
    const { constant, modes } = light.from(tick);
    stepped.step(tick, { constant: constant + roomLight.at(tick), modes });
  }
  path.bitAt(end);
  expect(stepped.flips.length).toBeGreaterThanOrEqual(flips);
  expect(path.flips).toEqual(stepped.flips);
  const { x, carrier } = path.sensorAt(end);
  expect(x).toBeCloseTo(stepped.envelope, 4);
  expect(carrier).toBeCloseTo(stepped.carrier, 4);
}

const OFFICE = { setting: room(500), at: () => (0.1 * 500) / Math.PI };
const blinking = whole((n) => n % 2 === 1);
const coloured: Painter = (codes, n) => codes.fill([0x16, BLACK, 0x2a, 0x12, WHITE][n % 5]!);

describe('line-rate sensor before a tube, against single-tick stepping', () => {
  test.each<Screening & { phosphor: number }>([
    {
      name: 'standard values',
      id: '60hz',
      paint: blinking,
      aim: { x: 128.2, y: 100.4 },
      radius: 3,
      sensor: {},
      flips: 4,
      phosphor: 1,
    },
    {
      name: 'no hold: the envelope ripples through the threshold',
      id: '60hz',
      paint: whole(() => true),
      aim: { x: 60, y: 20 },
      radius: 6,
      sensor: { q: 2, holdMs: 0, hysteresis01: 0.01, thresholdCdM2: 120, releaseMs: 0.05 },
      flips: 40,
      phosphor: 1,
    },
    {
      name: 'a hold that begins anew before it ends',
      id: '60hz',
      paint: patchwork(5),
      aim: { x: 100.1, y: 150.5 },
      radius: 5,
      sensor: { thresholdCdM2: 30, hysteresis01: 0.1, holdMs: 0.1, releaseMs: 0.05, attackUs: 20 },
      flips: 6,
      phosphor: 1,
    },
    {
      name: 'rectifier with a drop, slow store',
      id: '50hz',
      paint: coloured,
      aim: { x: 30.7, y: 232.9 },
      radius: 4,
      sensor: { dropCdM2: 40, q: 8, releaseMs: 1.2, attackUs: 100, holdMs: 1 },
      flips: 4,
      phosphor: 1,
    },
    {
      name: 'hold longer than a frame',
      id: '50hz-clone',
      paint: whole((n) => n < 2),
      aim: { x: 128, y: 120 },
      radius: 1.5,
      sensor: { holdMs: 25, f0Hz: 14_000 },
      flips: 2,
      phosphor: 2,
    },
  ])('$id, $name', ({ phosphor, ...screening }) => {
    compare(screening, 100, tube({ phosphor }), (screen) => denseTube(screen, phosphor), OFFICE);
  });

  test('under a lamp on the mains', () => {
    const source = { meanCdM2: (0.1 * 5000) / Math.PI, percentFlicker: 100, mainsHz: 60, phase01: 0.3 };
    compare(
      {
        name: '',
        id: '60hz',
        paint: blinking,
        aim: { x: 128.2, y: 100.4 },
        radius: 3,
        sensor: { thresholdCdM2: 0.06, hysteresis01: 0.2, holdMs: 0, releaseMs: 0.3 },
        flips: 8,
      },
      100,
      tube(),
      (screen) => denseTube(screen, 1),
      {
        setting: lamp({ illuminanceLux: 5000, percentFlicker: 100, mainsHz: 60, phase01: 0.3 }),
        at: (tick) => lampLight(source, TIMINGS['60hz'], tick),
      },
    );
  });
});

describe('line-rate sensor before an LCD, against single-tick stepping of every cell', () => {
  test.each<Screening & { rows: number; riseMs: number; pwm?: Record<string, number> }>([
    {
      name: '240 fast rows, which fake a carrier',
      id: '60hz',
      paint: blinking,
      aim: { x: 128.2, y: 100.4 },
      radius: 2,
      sensor: { thresholdCdM2: 1 },
      flips: 4,
      rows: 240,
      riseMs: 0.02,
    },
    {
      name: 'backlight switched at 16 kHz',
      id: '60hz',
      paint: blinking,
      aim: { x: 100.1, y: 151.9 },
      radius: 0.8,
      sensor: { thresholdCdM2: 40, holdMs: 0.1 },
      flips: 2,
      rows: 500,
      riseMs: 1,
      pwm: { pwmHz: 16_000, pwmDuty01: 0.3, pwmPhase01: 0.4 },
    },
    {
      name: 'backlight switched at 1 kHz',
      id: '50hz',
      paint: blinking,
      aim: { x: 77.7, y: 200 },
      radius: 0.8,
      sensor: { thresholdCdM2: 6, holdMs: 0, q: 3 },
      flips: 50,
      rows: 480,
      riseMs: 2,
      pwm: { pwmHz: 1000, pwmDuty01: 0.6, pwmPhase01: 0 },
    },
  ])('$id, $name', ({ rows, riseMs, pwm = {}, ...screening }) => {
    const settings = { rows, riseMs, fallMs: 2, blackCdM2: 0.3, ...pwm };
    compare(
      screening,
      300,
      lcd({ ...settings, whiteCdM2: 300 }),
      (screen) => denseLcd(screen, { ...settings, black: 0.3 }),
      OFFICE,
    );
  });
});
