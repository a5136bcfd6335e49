import { describe, expect, test } from 'vitest';
import {
  P22_BLUE_FAST,
  P22_BLUE_TAIL,
  P22_BLUE_TAIL_LAW,
  P22_GREEN_FAST,
  P22_GREEN_TAIL,
  P22_GREEN_TAIL_LAW,
  P22_RED,
  P22_TAIL_TAU_S,
  PHOSPHORS,
} from './phosphor.ts';

type Decay = (t: number) => number;

const sumOf =
  (terms: readonly (readonly [number, number])[]): Decay =>
  (t) =>
    terms.reduce((sum, [amplitude, hz]) => sum + amplitude * Math.exp(-2 * Math.PI * hz * t), 0);
const powerLaw =
  ({ scale, offsetS, exponent }: { scale: number; offsetS: number; exponent: number }): Decay =>
  (t) =>
    scale * (t + offsetS) ** -exponent;

const red = sumOf(P22_RED);
const greenTail = powerLaw(P22_GREEN_TAIL_LAW);
const blueTail = powerLaw(P22_BLUE_TAIL_LAW);
const green: Decay = (t) => greenTail(t) + sumOf(P22_GREEN_FAST)(t);
const blue: Decay = (t) => blueTail(t) + sumOf(P22_BLUE_FAST)(t);

/** The model's own response, energy 1. */
const modelled = (primary: number): Decay => {
  const terms = PHOSPHORS[0]!.primaries[primary]!;
  return (t) => terms.reduce((sum, { amplitudePerS, tauS }) => sum + amplitudePerS * Math.exp(-t / tauS), 0);
};

function timeTo(share: number, decay: Decay): number {
  let [low, high] = [0, 1e-2];
  for (let i = 0; i < 100; i++) {
    const middle = (low + high) / 2;
    if (decay(middle) > share * decay(0)) low = middle;
    else high = middle;
  }
  return low;
}

/** Integral of f over 0..end by Simpson's rule in ln(t + 10 ns). */
function integral(f: Decay, end: number): number {
  const steps = 4000;
  const [from, to] = [Math.log(1e-8), Math.log(end + 1e-8)];
  let sum = 0;
  for (let i = 0; i <= steps; i++) {
    const u = from + ((to - from) * i) / steps;
    const weight = i === 0 || i === steps ? 1 : i % 2 === 1 ? 4 : 2;
    sum += weight * f(Math.exp(u) - 1e-8) * Math.exp(u);
  }
  return (sum * (to - from)) / steps / 3;
}

describe('P22 as measured, Kuhn, UCAM-CL-TR-577 section 6', () => {
  test('drop in the first 100 ns: blue -1517.6 (printed -1500), red -34.029 (printed -34)', () => {
    expect(blue(100e-9) - blue(0)).toBeCloseTo(-1517.6, 0);
    expect(red(100e-9) - red(0)).toBeCloseTo(-34.029, 3);
  });

  test('value at 0+: 54.0, 355.2, 2320.5', () => {
    expect(red(0)).toBeCloseTo(54, 6);
    expect(green(0)).toBeCloseTo(355.2, 0);
    expect(blue(0)).toBeCloseTo(2320.5, 0);
  });

  test('energy in 16.6 ms: 2.0006e-3, 3.951e-3, 4.211e-3', () => {
    expect(integral(red, 16.6e-3) / 2.0006e-3).toBeCloseTo(1, 3);
    expect(integral(green, 16.6e-3) / 3.951e-3).toBeCloseTo(1, 3);
    expect(integral(blue, 16.6e-3) / 4.211e-3).toBeCloseTo(1, 3);
  });

  test('these energies times silicon 0.50, 0.40, 0.33 A/W: weights 0.252, 0.398, 0.350', () => {
    const seen = [integral(red, 16.6e-3) * 0.5, integral(green, 16.6e-3) * 0.4, integral(blue, 16.6e-3) * 0.33];
    const sum = seen[0]! + seen[1]! + seen[2]!;
    for (const [i, weight] of [0.252, 0.398, 0.35].entries()) expect(seen[i]! / sum).toBeCloseTo(weight, 3);
  });

  test('tails as 9 exponentials: within 1.05 % over 0.1 us .. 16.6 ms', () => {
    for (const [weights, tail] of [[P22_GREEN_TAIL, greenTail] as const, [P22_BLUE_TAIL, blueTail] as const]) {
      for (let i = 0; i <= 2000; i++) {
        const t = 1e-7 * (16.6e-3 / 1e-7) ** (i / 2000);
        const fit = weights.reduce((sum, weight, k) => sum + weight * Math.exp(-t / P22_TAIL_TAU_S[k]!), 0);
        expect(Math.abs(fit / tail(t) - 1)).toBeLessThan(0.0105);
      }
    }
  });
});

describe('the phosphors that a tube uses', () => {
  test.each(PHOSPHORS.map((phosphor) => [phosphor.id, phosphor] as const))('%s: energy 1 a primary', (_, phosphor) => {
    expect(phosphor.primaries).toHaveLength(3);
    for (const terms of phosphor.primaries) {
      expect(terms.reduce((sum, { amplitudePerS, tauS }) => sum + amplitudePerS * tauS, 0)).toBeCloseTo(1, 12);
      for (const { amplitudePerS } of terms) expect(amplitudePerS).toBeGreaterThan(0);
    }
  });

  test.each([
    ['red', 0, 32.102e-6, 0.001],
    ['green', 1, 12.163e-6, 0.01],
    ['blue', 2, 0.4536e-6, 0.01],
  ])(
    'p22 %s to 10 %% after an impulse (green and blue within the fit of the tail)',
    (_, primary, expected, tolerance) => {
      expect(Math.abs(timeTo(0.1, modelled(primary)) / expected - 1)).toBeLessThan(tolerance);
    },
  );

  test('the same from the formulas: 32.102, 12.163, 0.45360 us within 0.1 %', () => {
    for (const [decay, expected] of [
      [red, 32.102e-6] as const,
      [green, 12.163e-6] as const,
      [blue, 0.4536e-6] as const,
    ]) {
      expect(Math.abs(timeTo(0.1, decay) / expected - 1)).toBeLessThan(0.001);
    }
  });

  test('p22 line-rate response |H(15 745.8 Hz)| / H(0) of a 16.6 ms window: 0.04217, 0.18807, 0.23581', () => {
    for (const [primary, expected] of [0.04217, 0.18807, 0.23581].entries()) {
      const omega = 2 * Math.PI * 15745.8;
      const end = 16.6e-3;
      let [re, im, still] = [0, 0, 0];
      for (const { amplitudePerS, tauS } of PHOSPHORS[0]!.primaries[primary]!) {
        const left = Math.exp(-end / tauS);
        const [p, q] = [1 - left * Math.cos(omega * end), left * Math.sin(omega * end)]; // 1 - e^(-(1/tau + i omega) end)
        const rate = 1 / tauS;
        re += (amplitudePerS * (p * rate + q * omega)) / (rate * rate + omega * omega);
        im += (amplitudePerS * (q * rate - p * omega)) / (rate * rate + omega * omega);
        still += (amplitudePerS * (1 - left)) / rate;
      }
      expect(Math.abs(Math.hypot(re, im) / still / expected - 1)).toBeLessThan(0.01);
    }
  });

  test('the simple set falls to 10 % in 2.302585 tau (ln 10)', () => {
    const [term] = PHOSPHORS[1]!.primaries[1]!;
    expect(term!.tauS).toBe(30e-6);
    expect(timeTo(0.1, (t) => Math.exp(-t / term!.tauS)) / term!.tauS).toBeCloseTo(2.302585, 6);
  });
});
