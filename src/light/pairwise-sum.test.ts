import fc from 'fast-check';
import { expect, test } from 'vitest';
import { PairwiseSum } from './pairwise-sum.ts';

test('it is the sum, and the same to the last bit in whatever order the numbers were set', () => {
  const number = fc.double({ min: -1e6, max: 1e6, noNaN: true });
  const property = fc.property(fc.array(number, { minLength: 1, maxLength: 40 }), fc.nat(), (numbers, turn) => {
    const [forward, turned] = [new PairwiseSum(numbers.length), new PairwiseSum(numbers.length)];
    for (const [place, value] of numbers.entries()) forward.set(place, value);
    for (let i = 0; i < 2 * numbers.length; i++) {
      const place = (i * (turn % numbers.length)) % numbers.length;
      turned.set(place, i);
    }
    for (let i = numbers.length - 1; i >= 0; i--) turned.set(i, numbers[i]!);
    expect(turned.sum).toBe(forward.sum);
    const size = numbers.reduce((sum, value) => sum + Math.abs(value), 0);
    const inOrder = numbers.reduce((sum, value) => sum + value, 0);
    expect(Math.abs(forward.sum - inOrder)).toBeLessThanOrEqual(1e-14 * size);
  });
  fc.assert(property, { seed: 4, numRuns: 300 });
});

test('nothing adds up to nothing', () => {
  expect(new PairwiseSum(0).sum).toBe(0);
});
