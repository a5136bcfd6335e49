import fc from 'fast-check';
import { expect, test } from 'vitest';
import { curvePoints } from './curve.ts';
import { MinMaxPyramid } from './min-max-pyramid.ts';

const pairsOf = (samples: readonly number[]): Float32Array => Float32Array.from(samples.flatMap((one) => [one, one]));

test('extremes of any run are those of its samples', () => {
  const list = fc.array(fc.integer({ min: -100, max: 100 }), { minLength: 1, maxLength: 300 });
  fc.assert(
    fc.property(list, fc.nat(), fc.nat(), (samples, a, b) => {
      const from = a % samples.length;
      const to = from + 1 + (b % (samples.length - from));
      const run = samples.slice(from, to);
      const pyramid = new MinMaxPyramid(pairsOf(samples));
      expect(pyramid.extremes(from, to)).toEqual([Math.min(...run), Math.max(...run)]);
    }),
    { seed: 1, numRuns: 500 },
  );
});

test('a spike of one sample is a point of the drawn curve at every zoom', () => {
  const count = 20_000;
  fc.assert(
    fc.property(
      fc.nat(count - 1),
      fc.double({ min: 0, max: 1, noNaN: true }),
      fc.double({ min: 0, max: 1, noNaN: true }),
      fc.integer({ min: 50, max: 2000 }),
      (spike, before, zoom, width) => {
        const pairs = new Float32Array(2 * count);
        pairs[2 * spike] = 1;
        pairs[2 * spike + 1] = 1;
        // From the whole down to 20 samples, the spike anywhere in it.
        const length = count * (20 / count) ** zoom;
        const fromMs = Math.max(0, Math.min(count - length, spike + 0.5 - before * length));
        const curve = { fromMs: 0, toMs: count, pyramid: new MinMaxPyramid(pairs) };
        const points = curvePoints(curve, { fromMs, toMs: fromMs + length }, width);
        expect(Math.max(...points.largest)).toBe(1);
      },
    ),
    { seed: 2, numRuns: 200 },
  );
});
