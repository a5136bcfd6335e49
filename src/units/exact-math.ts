/**
 * Elementary functions with the same bytes in every engine.
 *
 * `Math.exp`, `sin`, `cos`, `log` and `pow` may differ by one unit in the last place (ulp) between engines; IEEE 754
 * pins down + - x / and the square root only, so these functions use nothing else. `exp`, `sin` and `cos` are at most
 * 1 ulp off the correctly rounded value.
 * Checked against: test/check-values/exact-math (made with mpmath, 400 bits) and one hash over 200,000 arguments each.
 */

/** 2^(j/32) for j = 0..31 as a sum of two doubles. Made by test/check-values/exact-math/generate.py. */
// biome-ignore format: one row a step
const ROOTS: readonly (readonly [number, number])[] = [
  [1.0, 0.0],
  [1.0218971486541166, 5.109225028973444e-17],
  [1.0442737824274138, 8.551889705537965e-17],
  [1.0671404006768237, -7.899853966841582e-17],
  [1.0905077326652577, -3.046782079812471e-17],
  [1.1143867425958924, 1.0410278456845571e-16],
  [1.1387886347566916, 8.912812676025408e-17],
  [1.1637248587775775, 3.8292048369240935e-17],
  [1.189207115002721, 3.982015231465646e-17],
  [1.215247359980469, -7.712630692681488e-17],
  [1.241857812073484, 4.658027591836937e-17],
  [1.2690509571917332, 2.667932131342186e-18],
  [1.2968395546510096, 2.5382502794888315e-17],
  [1.3252366431597413, -2.8587312100388614e-17],
  [1.3542555469368927, 7.70094837980299e-17],
  [1.383909881963832, -6.770511658794786e-17],
  [1.4142135623730951, -9.667293313452913e-17],
  [1.4451808069770467, -3.0237581349939873e-17],
  [1.4768261459394993, -3.483994556892796e-17],
  [1.5091644275934228, -1.016455327754295e-16],
  [1.5422108254079407, 7.949834809697621e-17],
  [1.5759808451078865, -1.0136916471278304e-17],
  [1.6104903319492543, 2.4707192569797888e-17],
  [1.645755478153965, -1.0125679913674773e-16],
  [1.681792830507429, 8.199010020581497e-17],
  [1.718619298122478, -1.851380418263111e-17],
  [1.7562521603732995, 2.960140695448873e-17],
  [1.7947090750031072, 1.8227458427912087e-17],
  [1.8340080864093424, 3.283107224245627e-17],
  [1.8741676341103, -6.122763413004143e-17],
  [1.9152065613971474, -1.0619946056195963e-16],
  [1.9571441241754002, 8.960767791036668e-17],
];
const ROOT_HIGH = Float64Array.from(ROOTS, ([high]) => high);
const ROOT_LOW = Float64Array.from(ROOTS, ([, low]) => low);

/** ln 2 / 32 in two parts; the first has 36 significant bits, so that its product with a 16-bit integer is exact. */
const STEP_HIGH = 0.021660849392446835;
const STEP_LOW = 5.145609244655338e-14;
const STEPS_PER_UNIT = 46.16624130844683; // 32 / ln 2, only used to choose the nearest step

/** Powers of two from 2^-1022 to 2^1023, index = exponent + 1022. */
const POWER_OF_TWO = makePowersOfTwo();

function makePowersOfTwo(): Float64Array {
  const table = new Float64Array(2046);
  table[1022] = 1;
  for (let i = 1023; i < 2046; i++) table[i] = table[i - 1]! * 2;
  for (let i = 1021; i >= 0; i--) table[i] = table[i + 1]! / 2;
  return table;
}

/**
 * e to the power x.
 *
 * Range: x in [-745, 709]; below it the result is 0, above it Infinity, NaN stays NaN.
 * Accuracy: at most 1 ulp, subnormal results included.
 */
export function exp(x: number): number {
  if (!(x >= -745 && x <= 709)) return x < -745 ? 0 : x > 709 ? Infinity : NaN;
  const k = Math.round(x * STEPS_PER_UNIT);
  const high = x - k * STEP_HIGH;
  const low = -k * STEP_LOW;
  const r = high + low;
  // e^r - 1 for |r| <= ln 2 / 64: the series to r^7 / 7!, the next term is below 2^-60
  const tail = r * r * (1 / 2 + r * (1 / 6 + r * (1 / 24 + r * (1 / 120 + r * (1 / 720 + r * (1 / 5040))))));
  const j = k & 31;
  const root = ROOT_HIGH[j]!;
  const mantissa = root + (ROOT_LOW[j]! + root * (high + (low + tail)));
  const exponent = (k - j) / 32;
  if (exponent >= -1022) return mantissa * POWER_OF_TWO[exponent + 1022]!;
  return mantissa * POWER_OF_TWO[exponent + 200 + 1022]! * POWER_OF_TWO[1022 - 200]!; // one rounding, in the last product
}

/** pi / 2 in four parts; the first three have 33 significant bits, so that products with a 17-bit integer are exact. */
const HALF_PI = [1.5707963267341256, 6.077100506303966e-11, 2.0222662487111665e-21, 8.4784276603689e-32] as const;
const TWO_OVER_PI = 0.6366197723675814;
/** Arguments of sine and cosine up to this size are reduced exactly enough for 1 ulp. */
const LARGEST_ANGLE = 1e5;

/** The reduced angle of the latest call as a sum of two doubles, and its quadrant 0..3. */
let angleHigh = 0;
let angleLow = 0;

/** Take whole quarter turns off x; leaves the rest (|rest| <= pi/4) in angleHigh + angleLow. Returns the quadrant. */
function reduce(x: number): number {
  const n = Math.round(x * TWO_OVER_PI);
  const a = x - n * HALF_PI[0]; // exact: the product has at most 50 bits and lies close to x
  const b = -n * HALF_PI[1]; // exact
  const s = a + b;
  const bOfS = s - a;
  const errorS = a - (s - bOfS) + (b - bOfS);
  const c = -n * HALF_PI[2]; // exact
  const t = s + c;
  const cOfT = t - s;
  const errorT = s - (t - cOfT) + (c - cOfT);
  const rest = errorS + (errorT - n * HALF_PI[3]);
  angleHigh = t + rest;
  angleLow = rest - (angleHigh - t);
  return ((n % 4) + 4) % 4;
}

/** Sine of angleHigh + angleLow by its Taylor series; at pi/4 the first term left out is below 2^-63. */
function sineOfRest(): number {
  const x = angleHigh;
  const z = x * x;
  const series =
    z *
    (-1 / 6 +
      z *
        (1 / 120 +
          z *
            (-1 / 5040 +
              z *
                (1 / 362880 +
                  z * (-1 / 39916800 + z * (1 / 6227020800 + z * (-1 / 1307674368000 + z / 355687428096000)))))));
  return x + (x * series + angleLow * (1 - z / 2));
}

/** Cosine of angleHigh + angleLow by its Taylor series. */
function cosineOfRest(): number {
  const x = angleHigh;
  const z = x * x;
  const half = z / 2;
  const series =
    z *
    z *
    (1 / 24 +
      z *
        (-1 / 720 +
          z * (1 / 40320 + z * (-1 / 3628800 + z * (1 / 479001600 + z * (-1 / 87178291200 + z / 20922789888000))))));
  const w = 1 - half;
  return w + (1 - w - half + (series - x * angleLow));
}

/**
 * Sine of x radians.
 *
 * Range: |x| <= 1e5; NaN outside it. Accuracy: at most 1 ulp. sin(-0) = -0.
 */
export function sin(x: number): number {
  if (x === 0) return x;
  if (!(Math.abs(x) <= LARGEST_ANGLE)) return NaN;
  switch (reduce(x)) {
    case 0:
      return sineOfRest();
    case 1:
      return cosineOfRest();
    case 2:
      return -sineOfRest();
    default:
      return -cosineOfRest();
  }
}

/** Cosine of x radians; range and accuracy as `sin`. */
export function cos(x: number): number {
  if (!(Math.abs(x) <= LARGEST_ANGLE)) return NaN;
  switch (reduce(x)) {
    case 0:
      return cosineOfRest();
    case 1:
      return -sineOfRest();
    case 2:
      return -cosineOfRest();
    default:
      return sineOfRest();
  }
}

const LN2_HIGH = 0.6931471803691238; // 32 bits: its product with an exponent is exact
const LN2_LOW = 1.9082149292705877e-10;
const BITS = new DataView(new ArrayBuffer(8));

/**
 * Natural logarithm.
 *
 * Range: positive normal doubles; 0 gives -Infinity, negative numbers and NaN give NaN, subnormals are refused as NaN.
 * Accuracy: at most 2 ulp away from x = 1, 2^-52 absolute close to it.
 */
export function ln(x: number): number {
  if (x === 0) return -Infinity;
  if (!(x >= 2.2250738585072014e-308)) return NaN;
  if (x === Infinity) return Infinity;
  BITS.setFloat64(0, x);
  let exponent = (BITS.getInt32(0) >>> 20) - 1023;
  let mantissa = x * (exponent === 1023 ? 1 / POWER_OF_TWO[2045]! : POWER_OF_TWO[1022 - exponent]!);
  if (mantissa > Math.SQRT2) {
    mantissa /= 2;
    exponent++;
  }
  const s = (mantissa - 1) / (mantissa + 1); // |s| <= 0.1716
  const z = s * s;
  let series = 0;
  for (let n = 23; n >= 3; n -= 2) series = z * (1 / n + series); // 2 s (1 + z/3 + z^2/5 + ...): atanh
  return exponent * LN2_HIGH + (2 * s + (2 * s * series + exponent * LN2_LOW));
}

/**
 * base to the power exponent, for base >= 0: 0 gives 0 (exponent > 0).
 * Accuracy: 2 + 2 |exponent ln base| ulp. For tables that are built once and pinned by a hash.
 */
export function power(base: number, exponent: number): number {
  return base === 0 && exponent > 0 ? 0 : exp(exponent * ln(base));
}
