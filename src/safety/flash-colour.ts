import { power } from '../units/exact-math.ts';

const LINEAR = Float64Array.from({ length: 256 }, (_, byte) => {
  const level = byte / 255;
  return level <= 0.04045 ? level / 12.92 : power((level + 0.055) / 1.055, 2.4);
});

/** Linear light 0..1 of an 8-bit sRGB value. Source: WCAG 2.2, term "relative luminance"; IEC 61966-2-1. */
export const linearOf = (byte: number): number => LINEAR[byte]!;

/** The 8-bit sRGB value whose linear light is nearest from below. */
export function byteOf(light: number): number {
  let [low, high] = [0, 255];
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (LINEAR[middle]! <= light + 1e-9) low = middle;
    else high = middle - 1;
  }
  return low;
}

/** Relative luminance 0..1 of linear light. Source: WCAG 2.2, same term. */
export const relativeLuminance = (red: number, green: number, blue: number): number =>
  0.2126 * red + 0.7152 * green + 0.0722 * blue;

/** Luminance of an 8-bit video level, cd/m2, by the formula of older broadcast guidance. Source: from memory. */
export const broadcastLuminanceCdM2 = (level: number): number => 413.435 * power(0.002745 * level + 0.0189623, 2.2);

/** Contrast of two relative luminances, 1 to 21. Source: WCAG 2.2, term "contrast ratio". */
export const contrastRatio = (a: number, b: number): number => (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);

/** Share of red in linear light; 0 for black. Source: WCAG 2.2, term "general flash and red flash thresholds". */
export function redRatio(red: number, green: number, blue: number): number {
  const sum = red + green + blue;
  return sum > 0 ? red / sum : 0;
}

/** Red is saturated from this ratio on. Source: WCAG 2.2, same term (ISO 9241-391). */
export const SATURATED_RED = 0.8;

/** Level of the older red test, 0..320, 0 where red is not saturated. Source: WCAG 2.0 and 2.1. */
export const olderRedLevel = (red: number, green: number, blue: number): number =>
  redRatio(red, green, blue) >= SATURATED_RED ? Math.max(0, (red - green - blue) * 320) : 0;

/** Below this tristimulus sum a colour is black and gets the white point's chromaticity. Our choice: the sources give none. */
const BLACK_SUM = 1e-6;
const WHITE_POINT = [0.19784, 0.46834] as const;

/** CIE 1976 u', v' of linear sRGB light. Source of the matrix: W3C, Understanding SC 2.3.1. */
export function chromaticity(red: number, green: number, blue: number): readonly [u: number, v: number] {
  const x = 0.4124564 * red + 0.3575761 * green + 0.1804375 * blue;
  const y = 0.2126729 * red + 0.7151522 * green + 0.072175 * blue;
  const z = 0.0193339 * red + 0.119192 * green + 0.9503041 * blue;
  const sum = x + 15 * y + 3 * z;
  return sum < BLACK_SUM ? WHITE_POINT : [(4 * x) / sum, (9 * y) / sum];
}

/** Distance of two chromaticities. */
export function chromaticDistance(a: readonly [number, number], b: readonly [number, number]): number {
  const [u, v] = [a[0] - b[0], a[1] - b[1]];
  return Math.sqrt(u * u + v * v);
}

/** Relative luminance of every colour of a table. Shape of `bytes`: `[code * 3 + primary]`, sRGB. */
export const luminanceByCode = (bytes: Uint8Array): Float64Array =>
  Float64Array.from({ length: bytes.length / 3 }, (_, code) =>
    relativeLuminance(linearOf(bytes[3 * code]!), linearOf(bytes[3 * code + 1]!), linearOf(bytes[3 * code + 2]!)),
  );
