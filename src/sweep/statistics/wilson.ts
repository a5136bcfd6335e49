import { type Interval, Z_95 } from './interval.ts';

/**
 * Wilson's score interval of `count` events among `n` trials; [0, 1] when there was no trial.
 *
 * Source: E. B. Wilson, J. Am. Stat. Assoc. 22:209, 1927 (from memory): the proportions p with |count/n - p| <= z sqrt(p (1 - p) / n).
 * Checked against: Newcombe, Stat. Med. 17:857, 1998, table I; a registry's statistics library.
 */
export function wilsonInterval(count: number, n: number, z = Z_95): Interval {
  if (n === 0) return { low: 0, high: 1 };
  const share = count / n;
  const spread = (z * z) / n;
  const middle = share + spread / 2;
  const half = z * Math.sqrt((share * (1 - share)) / n + spread / (4 * n));
  return {
    low: count === 0 ? 0 : (middle - half) / (1 + spread),
    high: count === n ? 1 : (middle + half) / (1 + spread),
  };
}

/**
 * How many standard errors the share of events lies below the proportion `limit`; Wilson's upper bound for z is at most
 * `limit` exactly when this is at least z. 0 < limit < 1; 0 when there was no trial.
 */
export function scoreBelow(count: number, n: number, limit: number): number {
  return n === 0 ? 0 : (limit - count / n) / Math.sqrt((limit * (1 - limit)) / n);
}

/**
 * Least number of trials that can show a proportion to be at most `limit`: with no event at all Wilson's upper bound is at
 * most `limit`. By symmetry also for "at least 1 - limit" with no failure. 0 < limit < 1.
 */
export function leastTrials(limit: number, z = Z_95): number {
  let n = Math.ceil((z * z * (1 - limit)) / limit);
  while (wilsonInterval(0, n, z).high > limit) n++;
  return n;
}
