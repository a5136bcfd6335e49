import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { TIMINGS, type Timing, ticksToSeconds } from '../../units/timing.ts';
import { Decays, type LightModes, Turns } from '../light-modes.ts';
import { difference, modulus, NO_PHASOR, type Phasor } from '../phasor.ts';
import { BandPass } from './band-pass.ts';

const F0 = 15_734.266;
const withTicksPerS = (masterNumerator: number): Timing => ({
  ...TIMINGS['60hz'],
  masterNumerator,
  masterDenominator: 1,
});
const MICROSECONDS = withTicksPerS(1e6);
const THOUSANDTHS_OF_A_LINE = withTicksPerS(15_734_266);

function bandPass(q: number, frequencyHz?: number, tauS: readonly number[] = [], timing = MICROSECONDS): BandPass {
  const swing = frequencyHz === undefined ? undefined : new Turns(frequencyHz, Number.POSITIVE_INFINITY, timing);
  return new BandPass(new Decays(Float64Array.from(tauS), timing), timing, F0, q, swing);
}

const light = (constantCdM2: number, amplitudes: readonly number[] = [], swingCdM2 = NO_PHASOR): LightModes => ({
  constantCdM2,
  amplitudeCdM2: Float64Array.from(amplitudes),
  swingCdM2,
});

/** Between z and the state-space form x' = [[-w0/Q, -w0], [w0, 0]] x + [w0/Q, 0] u, whose output is x1. */
function stateSpace({ pole }: BandPass) {
  const w0 = 2 * Math.PI * F0;
  return {
    toZ: ([x1, x2]: readonly [number, number]): Phasor => ({ re: x1, im: (-pole.re * x1 + w0 * x2) / pole.im }),
    fromZ: ({ re, im }: Phasor): [number, number] => [re, (pole.im * im + pole.re * re) / w0],
  };
}

function stepped(filter: BandPass, x: readonly [number, number], constant: number, ticks: number): [number, number] {
  const { toZ, fromZ } = stateSpace(filter);
  filter.rebase(light(constant), toZ(x));
  return fromZ(filter.at(ticks));
}

describe('second-order band-pass, f0 = 15 734.266 Hz, Q = 5: closed form of the state-space matrices (derived)', () => {
  test.each([
    [1, [0.97560302, 0.097730986], [-0.097730986, 0.995149217], [0.019546197, 0.000970157]],
    [10, [0.42603791, 0.757961149], [-0.757961149, 0.577630139], [0.15159223, 0.084473972]],
  ] as const)('matrices of a step of %i us', (us, first, second, driven) => {
    for (const [x, constant, expected] of [
      [[1, 0], 0, first],
      [[0, 1], 0, second],
      [[0, 0], 1, driven],
    ] as const) {
      const found = stepped(bandPass(5), x, constant, us);
      expect(found[0]).toBeCloseTo(expected[0], 8);
      expect(found[1]).toBeCloseTo(expected[1], 8);
    }
  });

  test('ten steps of 1 us are one of 10 us (semigroup)', () => {
    let x: [number, number] = [0.7, -0.4];
    for (let i = 0; i < 10; i++) x = stepped(bandPass(5), x, 2, 1);
    const once = stepped(bandPass(5), [0.7, -0.4], 2, 10);
    for (const k of [0, 1]) expect(x[k]).toBeCloseTo(once[k]!, 12);
  });

  test.each([
    [100, 0.001271161],
    [120, 0.00152542],
    [1000, 0.012761624],
    [7000, 0.110258267],
    [31_468, 0.132167379],
  ])('gain at %i Hz is %f: 1 / (1 + j Q (f/f0 - f0/f))', (frequencyHz, gain) => {
    const filter = bandPass(5, frequencyHz);
    expect(modulus(filter.swingGain)).toBeCloseTo(gain, 8);
    // and an oscillation that has been there for ever stays what it is
    const swinging = light(3, [], { re: 0.6, im: -0.8 });
    filter.rebase(swinging, filter.steady(swinging));
    let largest = 0;
    for (let us = 0; us < 1e6 / frequencyHz; us++) largest = Math.max(largest, Math.abs(filter.at(us).re));
    const share = largest / modulus(filter.swingGain);
    expect(share).toBeLessThanOrEqual(1 + 1e-12);
    expect(share).toBeGreaterThan(0.995); // at the worst 3 us from the maximum of the fastest
  });

  test('edges at -3 dB: 14 239.315 and 17 386.168 Hz, f0 (sqrt(1 + 1/4Q^2) -+ 1/2Q)', () => {
    const gain = (hz: number): number => modulus(bandPass(5, hz).swingGain);
    for (const [low, high, edge] of [
      [10_000, F0, 14_239.315],
      [F0, 25_000, 17_386.168],
    ] as const) {
      const isRising = edge < F0;
      let [from, to]: [number, number] = [low, high];
      while (to - from > 1e-6) {
        const middle = (from + to) / 2;
        if (gain(middle) < Math.SQRT1_2 === isRising) from = middle;
        else to = middle;
      }
      expect(Math.abs(from - edge)).toBeLessThan(1e-3);
    }
  });

  test.each([
    [1, 0.4665],
    [2, 0.7154],
    [3, 0.8482],
    [5, 0.9568],
    [10, 0.9981],
  ])('carrier at f0: after %i lines the envelope has built up to %f, 1 - e^(-pi N / Q)', (lines, share) => {
    const filter = bandPass(5, F0, [], THOUSANDTHS_OF_A_LINE);
    const carrier = light(0, [], { re: 0.6, im: 0.8 });
    const missing = (ticks: number): number => {
      filter.rebase(carrier, filter.steady(carrier));
      const steady = filter.at(ticks);
      filter.rebase(carrier, NO_PHASOR);
      return modulus(difference(steady, filter.at(ticks)));
    };
    expect(1 - missing(1000 * lines) / missing(0)).toBeCloseTo(share, 4);
  });

  test('noise bandwidth: pi/2 f0/Q (derived)', () => {
    for (const q of [3, 5]) {
      const filter = bandPass(q, undefined, [], THOUSANDTHS_OF_A_LINE);
      // an impulse of light of area 1 at t = 0 moves x1 by w0 / Q
      filter.rebase(light(0), stateSpace(filter).toZ([(2 * Math.PI * F0) / q, 0]));
      let sum = 0;
      for (let ticks = 0; ticks <= 60_000; ticks++) {
        const weight = ticks === 0 || ticks === 60_000 ? 1 : ticks % 2 === 1 ? 4 : 2;
        sum += (weight / 3) * filter.at(ticks).re ** 2;
      }
      const energy = sum / (1000 * F0);
      expect(energy / 2 / ((Math.PI / 2) * (F0 / q))).toBeCloseTo(1, 8);
    }
  });

  test.each([
    [0.2, 52.6621],
    [0.5, 16.3034],
    [Math.SQRT1_2, 4.3217],
  ])(
    'its second state is a low-pass: step overshoot at damping %f is %f percent, e^(-pi z / sqrt(1 - z^2))',
    (damping, percent) => {
      const q = 1 / (2 * damping);
      const filter = bandPass(q, undefined, [], THOUSANDTHS_OF_A_LINE);
      const { fromZ } = stateSpace(filter);
      filter.rebase(light(1), NO_PHASOR);
      let largest = 0;
      for (let ticks = 0; ticks < 3000; ticks++) largest = Math.max(largest, q * fromZ(filter.at(ticks))[1]);
      expect(Math.abs(100 * (largest - 1) - percent)).toBeLessThan(1e-3);
    },
  );
});

test('a steady light gives no output, from power-on and for ever', () => {
  const filter = bandPass(5);
  filter.rebase(light(500), filter.steady(light(500)));
  for (const us of [0, 1, 1000, 1_000_000, 600_000_000]) expect(Math.abs(filter.at(us).re)).toBeLessThan(1e-10);
});

test('equals a Runge-Kutta integration of the state-space form, for random lights', () => {
  const timing = TIMINGS['60hz'];
  const amplitude = fc.double({ min: -100, max: 100, noNaN: true });
  const property = fc.property(
    fc.tuple(amplitude, amplitude, amplitude, amplitude, amplitude),
    fc.double({ min: 0.6, max: 20, noNaN: true }),
    fc.double({ min: 40, max: 30_000, noNaN: true }),
    ([fast, slow, re, im, z], q, frequencyHz) => {
      const tauS = [3e-6, 1e-3];
      const filter = bandPass(q, frequencyHz, tauS, timing);
      const { fromZ } = stateSpace(filter);
      filter.rebase(light(50, [fast, slow], { re, im }), { re: z, im: -z });
      const w0 = 2 * Math.PI * F0;
      const turn = 2 * Math.PI * frequencyHz;
      const drive = (t: number): number =>
        50 +
        fast * Math.exp(-t / 3e-6) +
        slow * Math.exp(-t / 1e-3) +
        re * Math.cos(turn * t) -
        im * Math.sin(turn * t);
      const slope = (t: number, [a, b]: readonly [number, number]): [number, number] => [
        (w0 / q) * (drive(t) - a) - w0 * b,
        w0 * a,
      ];
      const moved = (x: readonly [number, number], k: readonly [number, number], h: number): [number, number] => [
        x[0] + k[0] * h,
        x[1] + k[1] * h,
      ];
      let x = fromZ({ re: z, im: -z });
      const h = ticksToSeconds(timing, 1);
      for (let ticks = 0; ticks < 3000; ticks++) {
        const t = ticks * h;
        const k1 = slope(t, x);
        const k2 = slope(t + h / 2, moved(x, k1, h / 2));
        const k3 = slope(t + h / 2, moved(x, k2, h / 2));
        const k4 = slope(t + h, moved(x, k3, h));
        x = [0, 1].map((i) => x[i]! + (h / 6) * (k1[i]! + 2 * k2[i]! + 2 * k3[i]! + k4[i]!)) as [number, number];
      }
      const found = fromZ(filter.at(3000));
      expect(found[0]).toBeCloseTo(x[0], 7);
      expect(found[1]).toBeCloseTo(x[1], 7);
    },
  );
  fc.assert(property, { seed: 12, numRuns: 30 });
});
