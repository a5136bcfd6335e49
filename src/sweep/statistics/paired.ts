import { betaProbability } from './beta.ts';
import { type Interval, Z_95 } from './interval.ts';

/** Two strategies on the same draws: how often only one of them had the event. */
export interface PairedCounts {
  /** Draws that count for both. */
  readonly n: number;
  readonly onlyFirst: number;
  readonly onlySecond: number;
}

export interface PairedComparison extends PairedCounts {
  /** Rate of the first less rate of the second. */
  readonly difference: number;
  readonly interval: Interval;
  /** Probability of a split at least as uneven if both were equally good; two-sided. */
  readonly p: number;
}

/**
 * Compare two strategies on the same draws.
 *
 * p: exact test of Q. McNemar, Psychometrika 12:153, 1947 (from memory): the discordant draws as tosses of a fair coin.
 * Interval: D. G. Bonett and R. M. Price, J. Educ. Behav. Stat. 37:479, 2012 (from memory): one draw more in each discordant cell,
 * then the normal approximation; [-1, 1] when there is no draw.
 */
export function comparePaired({ n, onlyFirst, onlySecond }: PairedCounts, z = Z_95): PairedComparison {
  const difference = n === 0 ? 0 : (onlyFirst - onlySecond) / n;
  return {
    n,
    onlyFirst,
    onlySecond,
    difference,
    interval: pairedInterval(n, onlyFirst, onlySecond, z),
    p: mcNemar(onlyFirst, onlySecond),
  };
}

function pairedInterval(n: number, onlyFirst: number, onlySecond: number, z: number): Interval {
  if (n === 0) return { low: -1, high: 1 };
  const [first, second] = [(onlyFirst + 1) / (n + 2), (onlySecond + 1) / (n + 2)];
  const middle = first - second;
  const half = z * Math.sqrt((first + second - middle * middle) / (n + 2));
  return { low: Math.max(-1, middle - half), high: Math.min(1, middle + half) };
}

/** Exact two-sided p of McNemar's test. */
export function mcNemar(onlyFirst: number, onlySecond: number): number {
  const [less, more] = [Math.min(onlyFirst, onlySecond), Math.max(onlyFirst, onlySecond)];
  if (less === more) return 1;
  // At most `less` heads among less + more tosses: I_1/2(more, less + 1).
  return Math.min(1, 2 * betaProbability(0.5, more, less + 1));
}
