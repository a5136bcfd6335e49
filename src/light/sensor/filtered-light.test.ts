import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { TIMINGS, ticksToSeconds } from '../../units/timing.ts';
import { Decays, type LightModes } from '../light-modes.ts';
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
  const modes = new Decays(Float64Array.from(modeTicks, seconds), timing);
  const filter = new FilteredLight(modes, timing, seconds(tauTicks), baselineS);
  filter.rebase(light, x, b);
  return filter;
}

const constant = (constantCdM2: number): LightModes => ({ constantCdM2, amplitudeCdM2: new Float64Array() });

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
    const filter = filtered([700], 300, { constantCdM2: 0, amplitudeCdM2: Float64Array.of(5) }, 2, 0);
    for (const ticks of [1, 100, 700, 3000]) {
      const [e, eu] = [Math.exp(-ticks / 300), Math.exp(-ticks / 700)];
      expect(filter.at(ticks).x).toBeCloseTo(2 * e + ((5 * 700) / (700 - 300)) * (eu - e), 12);
    }
  });

  test('driven by an exponential of its own time constant: y0 e + u0 (t / tau) e, poles kept 1e-6 apart', () => {
    const filter = filtered([500], 500, { constantCdM2: 0, amplitudeCdM2: Float64Array.of(5) }, 2, 0);
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

test('the bounds hold at every tick of a span, for random lights with rising and falling modes', () => {
  const modes = [2, 40, 683.5, 20_000];
  const amplitude = fc.double({ min: -300, max: 300, noNaN: true });
  const property = fc.property(
    fc.tuple(amplitude, amplitude, amplitude, amplitude),
    fc.double({ min: 0, max: 400, noNaN: true }),
    fc.double({ min: 0, max: 400, noNaN: true }),
    fc.integer({ min: 0, max: 3000 }),
    fc.integer({ min: 1, max: 20_000 }),
    (amplitudes, x, b, start, span) => {
      const light = { constantCdM2: 50, amplitudeCdM2: Float64Array.from(amplitudes) };
      const filter = filtered(modes, 683, light, x, b, 0.01);
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
