import { betaQuantile } from './beta.ts';
import type { Interval } from './interval.ts';

/**
 * Exact interval of `count` events among `n` trials; `alpha` is shared between both sides. It never covers less than it says,
 * and for rare events is often wider than Wilson's. [0, 1] when there was no trial.
 *
 * Source: C. J. Clopper and E. S. Pearson, Biometrika 26:404, 1934 (from memory): quantiles of Beta(x, n - x + 1) and Beta(x + 1, n - x).
 * Checked against: Newcombe, Stat. Med. 17:857, 1998, table I; a registry's statistics library.
 */
export function clopperPearson(count: number, n: number, alpha = 0.05): Interval {
  return {
    low: count === 0 ? 0 : betaQuantile(alpha / 2, count, n - count + 1),
    high: count === n ? 1 : betaQuantile(1 - alpha / 2, count + 1, n - count),
  };
}
