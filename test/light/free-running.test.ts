import { describe, expect, test } from 'vitest';
import type { LightPath, LightPathSettings } from '../../src/light/light-path.ts';
import { TIMINGS, type TimingId, ticksPerFrame } from '../../src/units/timing.ts';
import { lamp, lcd, lineRate, makePath, play, room, spot, TIMING_60, tube, whole, wideBand } from './light-bench.ts';

const FRAME = ticksPerFrame(TIMING_60);
const CLOCK = TIMING_60.masterNumerator / TIMING_60.masterDenominator;
const dark = whole(() => false);

function ran(settings: Partial<LightPathSettings>, frames: number, paint = dark, id: TimingId = '60hz'): LightPath {
  const timing = TIMINGS[id];
  const history = play({ paint, frames, timing });
  const path = makePath({ stages: [], optics: spot(1), ...settings }, history, undefined, timing);
  return path;
}

/** The light at `count` ticks from `first` on, in ascending order. */
function lights(path: LightPath, first: number, count: number, step = 1): number[] {
  return Array.from({ length: count }, (_, i) => path.lightAt(first + i * step));
}

const mean = (values: readonly number[]): number => values.reduce((sum, one) => sum + one, 0) / values.length;

describe('lamp on the mains', () => {
  const shining = (values: Record<string, number>): Partial<LightPathSettings> => ({
    panel: tube(),
    room: lamp({ illuminanceLux: 1000, diffuseReflectance01: 0.3, phase01: 0, ...values }),
  });

  // 1 / CLOCK x 200,000 ticks = one flicker period
  const mainsHz = CLOCK / 200_000 / 2;

  test('sine of 100 % flicker: flicker index 0.3183099, area above the mean / area, 1 / pi', () => {
    const path = ran(shining({ percentFlicker: 100, mainsHz }), 2);
    const light = lights(path, 1000, 2000, 100);
    const middle = mean(light);
    const above = light.reduce((sum, one) => sum + Math.max(0, one - middle), 0);
    expect(middle).toBeCloseTo(300 / Math.PI, 10);
    expect(above / light.reduce((sum, one) => sum + one, 0)).toBeCloseTo(0.3183099, 6);
  });

  test('percent flicker of what the sensor sees: 100 (max - min) / (max + min)', () => {
    const light = lights(ran(shining({ percentFlicker: 28.4, mainsHz }), 2), 0, 2001, 100);
    const [max, min] = [Math.max(...light), Math.min(...light)];
    expect((100 * (max - min)) / (max + min)).toBeCloseTo(28.4, 10);
    expect(light[0]).toBe(max);
  });

  test('a mean over one 60 Hz console frame leaves 0.166 of a 100 Hz lamp and 1.9 permille of a 120 Hz one (sinc)', () => {
    const amplitude = 300 / Math.PI;
    const left = (mains: number): number => {
      // of all phases the worst: a sine and a cosine
      const parts = [0, 0.25].map((phase01) => {
        const path = ran(shining({ percentFlicker: 100, mainsHz: mains, phase01 }), 3);
        return (mean(lights(path, 4, FRAME / 8, 8)) - amplitude) / amplitude;
      });
      return Math.hypot(parts[0]!, parts[1]!);
    };
    const sinc = (turns: number): number => Math.abs(Math.sin(Math.PI * turns) / (Math.PI * turns));
    for (const [mains, expected] of [
      [50, 0.166],
      [60, sinc((120 * FRAME) / CLOCK)],
    ] as const) {
      expect(left(mains)).toBeCloseTo(expected, 3);
    }
  });

  test('120 Hz under a 60 Hz console, 100 Hz under a 50 Hz one: phase slips by -0.198 and -0.014 Hz (derived)', () => {
    for (const [id, mains, beatHz] of [
      ['60hz', 60, -0.198],
      ['50hz', 50, -0.014],
    ] as const) {
      const timing = TIMINGS[id];
      const frames = 60;
      const clock = timing.masterNumerator / timing.masterDenominator;
      const path = ran(shining({ percentFlicker: 100, mainsHz: mains, phase01: 0.75 }), frames, dark, id);
      // mean frame, odd ones being a dot short; at phase 0.75 the light rises through its mean
      const frame = ticksPerFrame(timing) - (timing.skipsOddDot ? timing.dotDivider / 2 : 0);
      const slip = path.lightAt(frame * frames) / (300 / Math.PI) - 1;
      const turns = (beatHz * frame * frames) / clock;
      expect(Math.abs(slip - Math.sin(2 * Math.PI * turns))).toBeLessThan(0.01);
    }
  });

  test('phase is counted from power-on, the same after hours', () => {
    const hours = 3 * 3600;
    const firstTick = Math.ceil(hours * CLOCK);
    const history = play({ paint: dark, frames: 3, firstTick });
    const settings = {
      stages: [],
      optics: spot(1),
      ...shining({ percentFlicker: 100, mainsHz: 50.037, phase01: 0.1 }),
      sensor: lineRate({ dropCdM2: 5 }), // has no guard in all that time
    };
    const path = makePath(settings, history);
    for (const ticks of [0, 12_345, 200_000]) {
      const seconds = (firstTick + ticks) / CLOCK;
      const expected = (300 / Math.PI) * (1 + Math.cos(2 * Math.PI * ((2 * 50.037 * seconds + 0.1) % 1)));
      expect(path.lightAt(firstTick + ticks)).toBeCloseTo(expected, 6);
    }
  });

  test('the wide-band sensor sees a strong lamp, once a flicker period; a weak one it does not', () => {
    const frames = 60;
    const settings = (percentFlicker: number) => ({ ...shining({ percentFlicker, mainsHz: 60 }), sensor: wideBand() });
    const strong = ran(settings(30), frames); // swings by 57 cd/m2, threshold 25
    strong.bitAt(frames * FRAME);
    const periods = (frames * FRAME * 120) / CLOCK;
    expect(Math.abs(strong.flips.length / 2 - periods)).toBeLessThanOrEqual(1);
    const weak = ran(settings(12), frames);
    weak.bitAt(frames * FRAME);
    expect(weak.flips).toEqual([]);
  });

  test('without flicker it is the steady light, to the byte', () => {
    const paint = whole((n) => n % 2 === 0);
    for (const sensor of [wideBand(), lineRate()]) {
      const still = ran({ panel: tube(), room: room(500, 0.1), sensor }, 5, paint);
      const lamped = ran(
        { panel: tube(), room: lamp({ illuminanceLux: 500, diffuseReflectance01: 0.1, percentFlicker: 0 }), sensor },
        5,
        paint,
      );
      still.bitAt(5 * FRAME);
      lamped.bitAt(5 * FRAME);
      expect(lamped.save()).toEqual(still.save());
      expect(lamped.isPureShift).toBe(true);
    }
  });
});

describe('switched backlight', () => {
  const PERIOD = 100_000;
  const dimmed = (pwmDuty01: number) => ({
    panel: lcd({ pwmHz: CLOCK / PERIOD, pwmDuty01, pwmPhase01: 0, whiteCdM2: 300, blackCdM2: 0, riseMs: 0.01 }),
    room: room(0),
  });

  test.each([
    [0.1, 1.967263],
    [0.25, 1.800633],
    [0.5, 1.27324],
  ])('duty %f: first harmonic / mean = %f, 2 sin(pi n D) / (pi n D), and the next three', (duty, first) => {
    const path = ran(
      dimmed(duty),
      12,
      whole(() => true),
    );
    const start = 11 * PERIOD * 3;
    // A sum over single ticks; a pulse that is held for a tick has a transform of its own, sinc(n / PERIOD), taken out.
    const light = lights(path, start, PERIOD);
    const middle = mean(light);
    expect(middle).toBeCloseTo(300 * duty, 3);
    for (const n of [1, 2, 3, 4]) {
      let [re, im] = [0, 0];
      for (let i = 0; i < PERIOD; i++) {
        const angle = (2 * Math.PI * n * i) / PERIOD;
        re += light[i]! * Math.cos(angle);
        im += light[i]! * Math.sin(angle);
      }
      const found = (2 * Math.hypot(re, im)) / PERIOD / middle;
      const expected = Math.abs((2 * Math.sin(Math.PI * n * duty)) / (Math.PI * n * duty));
      expect(Math.abs(found - expected)).toBeLessThan(3e-5); // edges are whole ticks: 1e-5 of a period
      if (n === 1) expect(Math.abs(found - first)).toBeLessThan(3e-5);
    }
  });

  test('the cells go on in the dark: light while on is that of the same panel with a steady backlight', () => {
    const paint = whole((n) => n % 3 === 1);
    const [steady, switched] = [0, 700].map((pwmHz) =>
      ran({ panel: lcd({ pwmHz, pwmDuty01: 0.35, pwmPhase01: 0.2, riseMs: 3, fallMs: 6 }), room: room(0) }, 8, paint),
    );
    let [on, off] = [0, 0];
    for (let tick = 0; tick < 8 * FRAME; tick += 997) {
      const light = switched!.lightAt(tick);
      if (light === 0) off++;
      else {
        on++;
        expect(light).toBeCloseTo(steady!.lightAt(tick), 9);
      }
    }
    expect(on / (on + off)).toBeCloseTo(0.35, 2);
  });

  test('duty 1 is a steady backlight, to the byte', () => {
    const paint = whole((n) => n % 2 === 0);
    const [steady, full] = [lcd(), lcd({ pwmHz: 240, pwmDuty01: 1, pwmPhase01: 0.6 })].map((panel) => {
      const path = ran({ panel }, 5, paint);
      path.bitAt(5 * FRAME);
      return path;
    });
    expect(full!.flips).toEqual(steady!.flips);
    expect(full!.save().sensor).toEqual(steady!.save().sensor);
    expect(full!.isPureShift).toBe(true);
  });
});
