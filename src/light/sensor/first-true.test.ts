import fc from 'fast-check';
import { expect, test } from 'vitest';
import { firstTrueTick, type GuardOverTicks } from './first-true.ts';

interface Sample {
  readonly ticks: number;
  readonly value: number;
}

/** Guard `wave(t) > 1` for a sum of two sines whose slope is at most `steepest`. */
function waveGuard(a: number, b: number, p: number, q: number): GuardOverTicks<Sample> & { readonly asked: number } {
  const wave = (t: number) => a * Math.sin(p * t) + b * Math.sin(q * t);
  const steepest = Math.abs(a * p) + Math.abs(b * q);
  let asked = 0;
  return {
    at: (ticks) => {
      asked++;
      return { ticks, value: wave(ticks) };
    },
    isTrue: ({ value }) => value > 1,
    mayBeTrue: (from, to) => (from.value + to.value + steepest * (to.ticks - from.ticks)) / 2 > 1,
    get asked() {
      return asked;
    },
  };
}

test('finds the very first true tick of a wave, as a search of every tick does', () => {
  const property = fc.property(
    fc.double({ min: 0.1, max: 1.2, noNaN: true }),
    fc.double({ min: 0.01, max: 0.6, noNaN: true }),
    fc.double({ min: 0.001, max: 0.1, noNaN: true }),
    fc.double({ min: 0.1, max: 2, noNaN: true }),
    fc.integer({ min: 1, max: 3000 }),
    (a, b, p, q, span) => {
      const guard = waveGuard(a, b, p, q);
      let expected = Number.POSITIVE_INFINITY;
      for (let t = span; t >= 1; t--) if (guard.isTrue(guard.at(t))) expected = t;
      expect(firstTrueTick(guard, guard.at(0), guard.at(span))).toBe(expected);
    },
  );
  fc.assert(property, { seed: 2, numRuns: 300 });
});

test('the answer does not depend on how the span is cut', () => {
  const guard = waveGuard(0.8, 0.35, 0.004, 0.7);
  const whole = firstTrueTick(guard, guard.at(0), guard.at(5000));
  let cut = Number.POSITIVE_INFINITY;
  for (let t = 0; t < 5000 && cut === Number.POSITIVE_INFINITY; t += 7)
    cut = firstTrueTick(guard, guard.at(t), guard.at(t + 7));
  expect(cut).toBe(whole);
  expect(whole).toBeLessThan(5000);
});

test('hints of where to cut, good, bad or no numbers, change nothing but the number of questions', () => {
  const hints = [Number.NaN, Number.POSITIVE_INFINITY, -5, 0, 0.4, 1, 2.5, 17, 400, 1e9];
  for (let i = 0; i < 200; i++) {
    const guard = waveGuard(0.8 + (i % 7) / 20, 0.3 + (i % 5) / 50, 0.004 + (i % 11) / 1000, 0.7);
    const plain = firstTrueTick(guard, guard.at(0), guard.at(5000));
    let count = 0;
    const hinted = { ...guard, ticksToGo: () => hints[(i + 3 * count++) % hints.length]! };
    expect(firstTrueTick(hinted, guard.at(0), guard.at(5000))).toBe(plain);
    expect(count).toBeGreaterThan(0);
  }
});

test('hints that all lead one tick on cost no more than two cuts a halving', () => {
  const guard = waveGuard(0, 1.2, 0, 1e-5);
  const [from, to] = [guard.at(0), guard.at(150_000)];
  const before = guard.asked;
  const found = firstTrueTick(guard, from, to);
  const halvings = guard.asked - before;
  expect(firstTrueTick(Object.assign(guard, { ticksToGo: () => 1 }), from, to)).toBe(found);
  expect(guard.asked - before - halvings).toBeLessThanOrEqual(3 * halvings);
});

test('an empty span holds nothing', () => {
  const guard = waveGuard(5, 0.01, 1, 1);
  expect(firstTrueTick(guard, guard.at(10), guard.at(10))).toBe(Number.POSITIVE_INFINITY);
});

test('a span far from the limit costs one question', () => {
  const guard = waveGuard(0.001, 0.001, 1e-6, 1e-6);
  const [from, to] = [guard.at(0), guard.at(1_000_000)];
  firstTrueTick(guard, from, to);
  expect(guard.asked).toBe(2);
});
