import fc from 'fast-check';
import { jStat } from 'jstat';
import { describe, expect, test } from 'vitest';
import { betaProbability, betaQuantile } from '../../src/sweep/statistics/beta.ts';
import { clopperPearson } from '../../src/sweep/statistics/clopper-pearson.ts';
import { holm } from '../../src/sweep/statistics/holm.ts';
import { Z_95 } from '../../src/sweep/statistics/interval.ts';
import { normalQuantile, normalTail } from '../../src/sweep/statistics/normal.ts';
import { comparePaired, mcNemar } from '../../src/sweep/statistics/paired.ts';
import { leastTrials, scoreBelow, wilsonInterval } from '../../src/sweep/statistics/wilson.ts';

const options = { numRuns: 300, seed: 91 } as const;
const trials = fc.integer({ min: 1, max: 5000 }).chain((n) => fc.tuple(fc.integer({ min: 0, max: n }), fc.constant(n)));

describe('published rows', () => {
  // [events, trials, Wilson low, high, Clopper-Pearson low, high, source]
  const rows = [
    [12, 150, 0.04635, 0.13462, 0.04202, 0.13557, 'a help page on single proportions: 0.046-0.135, 0.042-0.136'],
    [81, 263, 0.25529, 0.36621, 0.25274, 0.36762, 'Newcombe, Stat. Med. 17:857, 1998, table I'],
    [15, 148, 0.06239, 0.16049, 0.05784, 0.16165, 'Newcombe, Stat. Med. 17:857, 1998, table I'],
    [0, 20, 0, 0.16113, 0, 0.16843, 'Newcombe, Stat. Med. 17:857, 1998, table I'],
    [1, 29, 0.00611, 0.17176, 0.00087, 0.17764, 'Newcombe, Stat. Med. 17:857, 1998, table I'],
    [20, 20, 0.83887, 1, 0.83157, 1, 'derived'],
    [0, 300, 0, 0.01264, 0, 0.01222, 'derived'],
    [95, 100, 0.88825, 0.97846, 0.88717, 0.98357, 'derived'],
    [59, 60, 0.91145, 0.99705, 0.9106, 0.99958, 'derived'],
  ] as const;
  test.each(rows)('%i of %i (%#)', (count, n, wilsonLow, wilsonHigh, exactLow, exactHigh) => {
    const wilson = wilsonInterval(count, n);
    const exact = clopperPearson(count, n);
    for (const [found, published] of [
      [wilson.low, wilsonLow],
      [wilson.high, wilsonHigh],
      [exact.low, exactLow],
      [exact.high, exactHigh],
    ] as const)
      expect(Math.abs(found - published)).toBeLessThan(6e-6); // five digits
  });

  test('no event: Clopper-Pearson is 1 - (alpha / 2)^(1/n), derived', () => {
    expect(clopperPearson(0, 20).high).toBeCloseTo(1 - 0.025 ** (1 / 20), 12);
  });

  test('3,838 shots without an event show at most 0.001, 381 without a miss at least 0.99, derived', () => {
    expect(leastTrials(0.001)).toBe(3838);
    expect(leastTrials(0.01)).toBe(381);
    expect(wilsonInterval(0, 3837).high).toBeGreaterThan(0.001);
    expect(wilsonInterval(381, 381).low).toBeGreaterThanOrEqual(0.99);
    expect(wilsonInterval(380, 380).low).toBeLessThan(0.99);
  });
});

describe('against the statistics library jstat', () => {
  test('normal tail and quantile', () => {
    for (let z = -6; z <= 6; z += 0.25)
      expect(Math.abs(normalTail(z) - (1 - jStat.normal.cdf(z, 0, 1)))).toBeLessThan(1e-9);
    for (const tail of [0.4, 0.1, 0.025, 0.001])
      expect(Math.abs(normalQuantile(tail) - jStat.normal.inv(1 - tail, 0, 1))).toBeLessThan(1e-7);
    expect(normalQuantile(0.025)).toBeCloseTo(Z_95, 12);
    // Far tails from a published table (from memory): Q(4) = 3.167124e-5, Q(6) = 9.865876e-10.
    expect(normalTail(4) / 3.167124183311992e-5).toBeCloseTo(1, 10);
    expect(normalTail(6) / 9.865876450376946e-10).toBeCloseTo(1, 10);
  });

  test('Clopper-Pearson by its Beta quantiles', () => {
    fc.assert(
      fc.property(trials, fc.constantFrom(0.01, 0.05, 0.1), ([count, n], alpha) => {
        const { low, high } = clopperPearson(count, n, alpha);
        if (count > 0) expect(Math.abs(low - jStat.beta.inv(alpha / 2, count, n - count + 1))).toBeLessThan(1e-7);
        if (count < n) expect(Math.abs(high - jStat.beta.inv(1 - alpha / 2, count + 1, n - count))).toBeLessThan(1e-7);
      }),
      options,
    );
  });

  test('incomplete beta function', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 1, noNaN: true }),
        fc.integer({ min: 1, max: 900 }),
        fc.integer({ min: 1, max: 900 }),
        (x, a, b) => {
          expect(Math.abs(betaProbability(x, a, b) - jStat.beta.cdf(x, a, b))).toBeLessThan(1e-8);
        },
      ),
      options,
    );
  });

  test("McNemar's exact p by its binomial sums", () => {
    for (let less = 0; less < 40; less++) {
      for (let more = less + 1; more < 90; more += 7) {
        const p = Math.min(1, 2 * jStat.binomial.cdf(less, less + more, 0.5));
        expect(Math.abs(mcNemar(less, more) - p)).toBeLessThan(1e-9);
        expect(mcNemar(more, less)).toBe(mcNemar(less, more));
      }
    }
  });

  test("Wilson's bounds solve the score equation with the library's z", () => {
    fc.assert(
      fc.property(trials, fc.constantFrom(0.2, 0.05, 0.002), ([count, n], alpha) => {
        const z = jStat.normal.inv(1 - alpha / 2, 0, 1);
        const { low, high } = wilsonInterval(count, n, z);
        for (const p of [low, high])
          if (p > 0 && p < 1) expect(Math.abs(count / n - p) / Math.sqrt((p * (1 - p)) / n)).toBeCloseTo(z, 6);
      }),
      options,
    );
  });
});

describe('laws', () => {
  test('the beta quantile turns the probability back', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1e-6, max: 1 - 1e-6, noNaN: true }),
        fc.integer({ min: 1, max: 5000 }),
        fc.integer({ min: 1, max: 5000 }),
        (p, a, b) => {
          expect(Math.abs(betaProbability(betaQuantile(p, a, b), a, b) - p)).toBeLessThan(1e-10);
        },
      ),
      options,
    );
  });

  test('an interval holds the share and mirrors with it', () => {
    fc.assert(
      fc.property(trials, ([count, n]) => {
        for (const interval of [wilsonInterval, clopperPearson]) {
          const { low, high } = interval(count, n);
          const mirrored = interval(n - count, n);
          expect(low).toBeLessThanOrEqual(count / n);
          expect(high).toBeGreaterThanOrEqual(count / n);
          expect(mirrored.low).toBeCloseTo(1 - high, 10);
          expect(mirrored.high).toBeCloseTo(1 - low, 10);
        }
      }),
      options,
    );
  });

  test("the score says the same as Wilson's upper bound", () => {
    fc.assert(
      fc.property(trials, fc.double({ min: 0.001, max: 0.999, noNaN: true }), ([count, n], limit) => {
        const score = scoreBelow(count, n, limit);
        if (Math.abs(score - Z_95) > 1e-9) expect(wilsonInterval(count, n).high <= limit).toBe(score >= Z_95);
      }),
      options,
    );
  });

  test('the paired interval turns round with the strategies and holds the difference unless a rate is at its end', () => {
    const { difference, interval } = comparePaired({ n: 200, onlyFirst: 30, onlySecond: 12 });
    const turned = comparePaired({ n: 200, onlyFirst: 12, onlySecond: 30 });
    expect(difference).toBe(0.09);
    expect([turned.interval.low, turned.interval.high]).toEqual([-interval.high, -interval.low]);
    expect(interval.low).toBeLessThan(0.09);
    expect(interval.high).toBeGreaterThan(0.09);
  });
});

describe('Holm', () => {
  test('the worked example of the article: 0.01, 0.04, 0.03, 0.005 at 0.05 shows the first and the last', () => {
    // Widely reprinted (from memory): 0.005 <= 0.0125, 0.01 <= 0.0167, 0.03 > 0.025.
    expect(holm([0.01, 0.04, 0.03, 0.005], 0.05)).toEqual([true, false, false, true]);
  });

  test('one claim is compared with the whole level, none of many can be shown above it', () => {
    expect(holm([0.025], 0.025)).toEqual([true]);
    expect(holm([0.03, 0.04], 0.025)).toEqual([false, false]);
  });
});
