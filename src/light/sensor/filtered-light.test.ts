import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { TIMINGS, ticksToSeconds } from '../../units/timing.ts';
import { Decays, type LightModes, Turns } from '../light-modes.ts';
import { NO_PHASOR } from '../phasor.ts';
import { type FilteredInstant, FilteredLight } from './filtered-light.ts';
import { firstTrueTick, type GuardOverTicks } from './first-true.ts';

const timing = TIMINGS['60hz'];
const seconds = (ticks: number): number => ticksToSeconds(timing, ticks);

function filtered(
  modeTicks: readonly number[],
  tauTicks: number,
  light: LightModes,
  x: number,
  b: number,
  baselineS = 1,
): FilteredLight {
  const decays = new Decays(Float64Array.from(modeTicks, seconds), timing);
  const filter = new FilteredLight(decays, timing, seconds(tauTicks), baselineS);
  filter.rebase(light, x, b);
  return filter;
}

const modes = (constantCdM2: number, ...amplitudes: number[]): LightModes => ({
  constantCdM2,
  amplitudeCdM2: Float64Array.from(amplitudes),
  swingCdM2: NO_PHASOR,
});
const constant = (constantCdM2: number): LightModes => modes(constantCdM2);

/** The first tick at which x passes `level` upwards or downwards; x is monotone. */
function tickOf(filter: FilteredLight, level: number, isUp: boolean, span: number): number {
  const guard: GuardOverTicks<FilteredInstant> = {
    at: (ticks) => filter.at(ticks),
    isTrue: ({ x }) => (isUp ? x > level : x < level),
    mayBeTrue: (_, to) => (isUp ? to.x > level : to.x < level),
  };
  return firstTrueTick(guard, filter.at(0), filter.at(span));
}

describe('one-pole low-pass, check values of any text on RC circuits', () => {
  const TAU = 1_000_000_000; // ticks, so that one tick is 1e-9 of the time constant

  test('step at t = tau: 1 - 1/e = 0.6321205588', () => {
    expect(filtered([], 1000, constant(1), 0, 0).at(1000).x).toBeCloseTo(0.6321205588, 9);
  });

  test('10 to 90 %: 2.197224577 tau (ln 9)', () => {
    const filter = filtered([], TAU, constant(1), 0, 0, 1e9);
    const rise = tickOf(filter, 0.9, true, 4 * TAU) - tickOf(filter, 0.1, true, 4 * TAU);
    expect(rise / TAU).toBeCloseTo(2.197224577, 8);
  });

  test('decay to 10 % and 50 %: 2.302585093 tau and 0.693147181 tau (ln 10, ln 2)', () => {
    const filter = filtered([], TAU, constant(0), 1, 0, 1e9);
    expect(tickOf(filter, 0.1, false, 4 * TAU) / TAU).toBeCloseTo(2.302585093, 8);
    expect(tickOf(filter, 0.5, false, 4 * TAU) / TAU).toBeCloseTo(0.693147181, 8);
  });

  test('1,000 steps of tau / 1,000 are one step of tau (semigroup)', () => {
    let x = 0;
    for (let i = 0; i < 1000; i++) x = filtered([], 100_000, constant(1), x, 0).at(100).x;
    expect(x).toBeCloseTo(filtered([], 100_000, constant(1), 0, 0).at(100_000).x, 12);
  });

  test('driven by an exponential: y0 e + u0 tau_u / (tau_u - tau) (e_u - e)', () => {
    const filter = filtered([700], 300, modes(0, 5), 2, 0);
    for (const ticks of [1, 100, 700, 3000]) {
      const [e, eu] = [Math.exp(-ticks / 300), Math.exp(-ticks / 700)];
      expect(filter.at(ticks).x).toBeCloseTo(2 * e + ((5 * 700) / (700 - 300)) * (eu - e), 12);
    }
  });

  test('driven by an exponential of its own time constant: y0 e + u0 (t / tau) e, poles kept 1e-6 apart', () => {
    const filter = filtered([500], 500, modes(0, 5), 2, 0);
    for (const ticks of [1, 100, 500, 3000]) {
      const e = Math.exp(-ticks / 500);
      expect(filter.at(ticks).x).toBeCloseTo(2 * e + ((5 * ticks) / 500) * e, 4);
    }
  });
});

test('baseline follows x with its own time constant: cascade of two poles, (1 - e^-t/tb ...) closed form', () => {
  const filter = filtered([], 1000, constant(1), 0, 0, seconds(5000));
  for (const ticks of [10, 1000, 8000, 40_000]) {
    const [e, eb] = [Math.exp(-ticks / 1000), Math.exp(-ticks / 5000)];
    const b = 1 - (5000 * eb - 1000 * e) / 4000;
    const { x, above } = filter.at(ticks);
    expect(x - above).toBeCloseTo(b, 12);
  }
});

const FOUR_MODES = [2, 40, 683.5, 20_000];
const anyAmplitude = fc.double({ min: -300, max: 300, noNaN: true });
const anyLevel = fc.double({ min: 0, max: 400, noNaN: true });
/** Amplitudes of four modes, x and b. */
const anyStart = [fc.tuple(anyAmplitude, anyAmplitude, anyAmplitude, anyAmplitude), anyLevel, anyLevel] as const;

test('the bounds hold at every tick of a span, for random lights with rising and falling modes', () => {
  const property = fc.property(
    ...anyStart,
    fc.integer({ min: 0, max: 3000 }),
    fc.integer({ min: 1, max: 20_000 }),
    (amplitudes, x, b, start, span) => {
      const light = modes(50, ...amplitudes);
      const filter = filtered(FOUR_MODES, 683, light, x, b, 0.01);
      const [from, to] = [filter.at(start), filter.at(start + span)];
      const { driveMax, aboveMin, aboveMax } = filter.bounds(from, to);
      for (let i = 0; i <= 200; i++) {
        const { drive, above } = filter.at(start + Math.floor((span * i) / 200));
        expect(drive).toBeLessThanOrEqual(driveMax);
        expect(above).toBeLessThanOrEqual(aboveMax);
        expect(above).toBeGreaterThanOrEqual(aboveMin);
      }
    },
  );
  fc.assert(property, { seed: 8, numRuns: 300 });
});

test('the bounds for ever hold at every tick to come, and close in on what the light comes to', () => {
  const property = fc.property(...anyStart, fc.integer({ min: 0, max: 3000 }), (amplitudes, x, b, start) => {
    const filter = filtered(FOUR_MODES, 683, modes(50, ...amplitudes), x, b, 0.01);
    const { driveMax, aboveMin, aboveMax } = { ...filter.boundsForEver(filter.at(start)) };
    for (let ticks = 1; ticks < 1e8; ticks = Math.ceil(ticks * 1.1)) {
      const { drive, above } = filter.at(start + ticks);
      expect(drive).toBeLessThanOrEqual(driveMax);
      expect(above).toBeLessThanOrEqual(aboveMax);
      expect(above).toBeGreaterThanOrEqual(aboveMin);
    }
    const late = filter.boundsForEver(filter.at(2e7));
    expect(Math.abs(late.driveMax)).toBeLessThan(1e-9);
    expect(late.aboveMax - late.aboveMin).toBeLessThan(1e-9);
  });
  fc.assert(property, { seed: 9, numRuns: 200 });
});

test('x after some ticks is that of the instant there', () => {
  const filter = filtered(FOUR_MODES, 683, modes(50, 3, 0.2, 70, 9), 12, 5);
  for (const ticks of [0, 1, 30, 700, 4000, 90_000, 3_000_000]) expect(filter.xAfter(ticks)).toBe(filter.at(ticks).x);
});

describe('an oscillation of the light', () => {
  const AMPLITUDE = { re: 30, im: -40 };
  const swung = (frequencyHz: number, cornerHz: number, baselineS: number) => {
    const turns = new Turns(frequencyHz, Number.POSITIVE_INFINITY, timing);
    const decays = new Decays(Float64Array.of(seconds(700)), timing);
    return new FilteredLight(decays, timing, 1 / (2 * Math.PI * cornerHz), baselineS, turns);
  };
  const light = { ...modes(100, 5), swingCdM2: AMPLITUDE };

  test('one pole at its corner: -3.010300 dB and 45 degrees late (10 log10 2)', () => {
    const filter = swung(5000, 5000, 1e9);
    const steady = { ...modes(0, 0), swingCdM2: { re: 1, im: 0 } };
    expect(filter.steady(steady)).toBeCloseTo(0.5, 12); // cos 45 / sqrt 2
    expect(filter.steady({ ...steady, swingCdM2: { re: Math.SQRT1_2, im: Math.SQRT1_2 } })).toBeCloseTo(
      Math.SQRT1_2,
      12,
    );
    filter.rebase(steady, 0.5, 0);
    let peak = 0;
    for (let ticks = 0; ticks < 5000; ticks++) peak = Math.max(peak, filter.at(ticks).x);
    expect(20 * Math.log10(peak)).toBeCloseTo(-3.0103, 5);
  });

  test('equals a Runge-Kutta integration of low-pass and baseline', () => {
    const [frequencyHz, cornerHz, baselineS] = [110, 900, 0.01];
    const filter = swung(frequencyHz, cornerHz, baselineS);
    filter.rebase(light, 20, 5);
    const turn = 2 * Math.PI * frequencyHz;
    const shining = (t: number): number =>
      100 + 5 * Math.exp(-t / seconds(700)) + AMPLITUDE.re * Math.cos(turn * t) - AMPLITUDE.im * Math.sin(turn * t);
    const slope = (t: number, x: number, b: number) => [(shining(t) - x) * 2 * Math.PI * cornerHz, (x - b) / baselineS];
    let [x, b] = [20, 5];
    const h = seconds(10);
    for (let step = 0; step < 30_000; step++) {
      const t = step * h;
      const [p1, q1] = slope(t, x, b) as [number, number];
      const [p2, q2] = slope(t + h / 2, x + (h / 2) * p1, b + (h / 2) * q1) as [number, number];
      const [p3, q3] = slope(t + h / 2, x + (h / 2) * p2, b + (h / 2) * q2) as [number, number];
      const [p4, q4] = slope(t + h, x + h * p3, b + h * q3) as [number, number];
      x += (h / 6) * (p1 + 2 * p2 + 2 * p3 + p4);
      b += (h / 6) * (q1 + 2 * q2 + 2 * q3 + q4);
    }
    const found = filter.at(300_000);
    expect(found.x).toBeCloseTo(x, 8);
    expect(found.x - found.above).toBeCloseTo(b, 8);
    expect(found.drive).toBeCloseTo(shining(seconds(300_000)) - x, 8);
  });

  test('the bounds hold at every tick of a span', () => {
    const amplitude = fc.double({ min: -300, max: 300, noNaN: true });
    const property = fc.property(
      fc.tuple(amplitude, amplitude, amplitude),
      fc.double({ min: 80, max: 140, noNaN: true }),
      fc.double({ min: 0, max: 400, noNaN: true }),
      fc.double({ min: 0, max: 400, noNaN: true }),
      fc.integer({ min: 0, max: 3000 }),
      fc.integer({ min: 1, max: 300_000 }),
      ([mode, re, im], frequencyHz, x, b, start, span) => {
        const filter = swung(frequencyHz, 5000, 0.01);
        filter.rebase({ ...modes(500, mode), swingCdM2: { re, im } }, x, b);
        const [from, to] = [filter.at(start), filter.at(start + span)];
        const { driveMax, aboveMin, aboveMax } = filter.bounds(from, to);
        for (let i = 0; i <= 200; i++) {
          const { drive, above } = filter.at(start + Math.floor((span * i) / 200));
          expect(drive).toBeLessThanOrEqual(driveMax);
          expect(above).toBeLessThanOrEqual(aboveMax);
          expect(above).toBeGreaterThanOrEqual(aboveMin);
        }
      },
    );
    fc.assert(property, { seed: 9, numRuns: 300 });
  });
});

test('noise bandwidth of one pole: pi/2 = 1.570796 times its corner (derived)', () => {
  const cornerHz = 5000;
  const tauTicks = timing.masterNumerator / timing.masterDenominator / (2 * Math.PI * cornerHz);
  const filter = filtered([], tauTicks, constant(0), 2 * Math.PI * cornerHz, 0, 1e9);
  let sum = 0; // energy of the impulse response, Simpson
  for (let ticks = 0; ticks <= 20_000; ticks++) {
    const weight = ticks === 0 || ticks === 20_000 ? 1 : ticks % 2 === 1 ? 4 : 2;
    sum += (weight / 3) * filter.at(ticks).x ** 2;
  }
  expect((sum * seconds(1)) / 2 / cornerHz).toBeCloseTo(1.570796, 6);
});

describe('what impulses and falling light do to x', () => {
  const amplitude = fc.double({ min: 0, max: 500, noNaN: true });
  const lights = fc.record({
    modeTicks: fc.uniqueArray(fc.integer({ min: 3, max: 40_000 }), { minLength: 4, maxLength: 4 }),
    amplitudes: fc.array(amplitude, { minLength: 4, maxLength: 4 }),
    tauTicks: fc.integer({ min: 50, max: 5000 }),
    x: fc.double({ min: 0, max: 100, noNaN: true }),
    constant: fc.double({ min: 0, max: 10, noNaN: true }),
    first: fc.integer({ min: 1, max: 400 }),
    row: fc.integer({ min: 1, max: 100 }),
    rest: fc.integer({ min: 0, max: 2000 }),
  });

  test('bounds of x alone hold at every tick', () => {
    const property = fc.property(
      lights,
      ({ modeTicks, amplitudes, tauTicks, x, constant: level, first, row, rest }) => {
        const filter = filtered(modeTicks, tauTicks, modes(level, ...amplitudes), x, 0);
        const times = { first, firstEnd: first + row, end: first + row + rest };
        const { most, mostLater, least, leastLater, magnitude } = filter.boundsAlone(times, x);
        const slack = 1e-12 * magnitude;
        for (let ticks = 0; ticks <= times.end; ticks += 1 + (ticks >> 4)) {
          const now = filter.at(ticks).x;
          expect(now).toBeLessThanOrEqual(most + slack);
          if (ticks <= times.firstEnd) expect(now).toBeGreaterThanOrEqual(least - slack);
          if (ticks < first) continue;
          expect(now).toBeLessThanOrEqual(mostLater + slack);
          expect(now).toBeGreaterThanOrEqual(leastLater - slack);
        }
      },
    );
    fc.assert(property, { seed: 6, numRuns: 300 });
  });

  test('behind some impulses x is what `filteredAfter` says, never below both ends and never above `mostAfter`', () => {
    const property = fc.property(lights, ({ modeTicks, amplitudes, tauTicks, first, row, rest }) => {
      const filter = filtered(modeTicks, tauTicks, constant(0), 0, 0);
      const decays = new Decays(Float64Array.from(modeTicks, seconds), timing);
      const [jump, kicks] = [Float64Array.from(amplitudes), new Float64Array(3)];
      filter.kick(kicks, 1, 0, jump);
      const second = Float64Array.from(jump, (one, m) => one * decays.after(row)[m]! + amplitudes[(m + 1) % 4]!);
      filter.kick(
        kicks,
        1,
        row,
        Float64Array.from(amplitudes, (_, m) => amplitudes[(m + 1) % 4]!),
      );
      const now = filter.filteredOf(second, kicks);
      expect(filter.filteredAfter(0, second, kicks)).toBeCloseTo(now, 6);
      const slack = 1e-9 * (1 + second.reduce((sum, one) => sum + one, 0));
      const [end, most] = [filter.filteredAfter(rest, second, kicks), filter.mostAfter(first, now, second)];
      for (let ticks = 0; ticks <= rest; ticks += 1 + (ticks >> 4)) {
        const then = filter.filteredAfter(ticks, second, kicks);
        expect(then).toBeGreaterThanOrEqual(Math.min(now, end) - slack);
        if (ticks >= first) expect(then).toBeLessThanOrEqual(most + slack);
      }
    });
    fc.assert(property, { seed: 7, numRuns: 300 });
  });
});
