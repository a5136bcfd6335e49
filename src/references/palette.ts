import { cos, power, sin } from '../units/exact-math.ts';

/**
 * From the 512 codes of the picture (64 colours x 8 emphasis settings) to the light of the three primaries.
 *
 * The video pin puts out a 12-step square wave per dot; a display decodes it to R, G, B and its primaries answer with a
 * power. Levels are measured, everything else is arithmetic on them.
 */

/** Volts at a terminated input, mV, by row of the colour code (0..3). Within +-10 mV, one 60 Hz console. */
interface VideoLevels {
  readonly low: readonly number[];
  readonly high: readonly number[];
  readonly emphasisedLow: readonly number[];
  readonly emphasisedHigh: readonly number[];
}

/** Source: hardware documentation wiki, "NTSC video" (measured). The low levels of a row are those of column $D. */
const VIDEO_LEVELS_MV: VideoLevels = {
  low: [228, 312, 552, 880],
  high: [616, 840, 1100, 1100],
  emphasisedLow: [192, 256, 448, 712],
  emphasisedHigh: [500, 676, 896, 896],
};

/** Black ($1D, columns $E and $F) and white ($20) in mV, same source. */
export const BLACK_MV = 312;
export const WHITE_MV = 1100;

/** Burst low and high in mV, same source; a display normalises the chroma on a burst of 40 IRE = 40/140 V. */
const BURST_MV = [148, 524] as const;
/** Factor on the decoded chroma: the burst that is meant over the burst that is there. 0.759878, derived. */
export const CHROMA_GAIN = ((40 / 140) * 1000) / (BURST_MV[1] - BURST_MV[0]);

/** Exponent of the reference display. Source: Rec. ITU-R BT.1886, Annex 1 (2011). */
const DISPLAY_GAMMA = 2.4;

/** Share of the primaries in luminance. Source: Rec. ITU-R BT.709. */
export const LUMINANCE_WEIGHTS: readonly [red: number, green: number, blue: number] = [0.2126, 0.7152, 0.0722];

const CODE_COUNT = 512;
const STEPS = 12;
/** Phase of the hue that each emphasis bit 5, 6, 7 of PPUMASK attenuates (60 Hz). Source: wiki, "NTSC video". */
const EMPHASIS_PHASES = [12, 4, 8] as const;

const isHigh = (phase: number): boolean => phase % STEPS < STEPS / 2;

/** Volts of one of the 12 steps of a code, mV. Columns $E and $F are black and know no emphasis. */
export function stepMillivolts(code: number, step: number, swapsRedGreen: boolean): number {
  const hue = code & 15;
  const row = (code >> 4) & 3;
  if (hue >= 14) return BLACK_MV;
  const isUp = hue === 0 || (hue !== 13 && isHigh(hue + step));
  const isDim = EMPHASIS_PHASES.some(
    (_, bit) => hasEmphasis(code, bit) && isHigh(emphasisPhase(bit, swapsRedGreen) + step),
  );
  const { low, high, emphasisedLow, emphasisedHigh } = VIDEO_LEVELS_MV;
  return (isUp ? (isDim ? emphasisedHigh : high) : isDim ? emphasisedLow : low)[row]!;
}

const hasEmphasis = (code: number, bit: number): boolean => ((code >> (6 + bit)) & 1) === 1;

/** On the 50 Hz timings bits 5 and 6 change places. */
const emphasisPhase = (bit: number, swapsRedGreen: boolean): number =>
  EMPHASIS_PHASES[swapsRedGreen && bit < 2 ? 1 - bit : bit]!;

/** Where the steps of a period stand on the axes of colour. */
const ANGLES = Array.from({ length: STEPS }, (_, step) => (Math.PI / 6) * (step + 5.5));
const U_AXIS = ANGLES.map((angle) => -cos(angle));
const V_AXIS = ANGLES.map((angle) => sin(angle));

/**
 * Decode a code to the signals of the primaries, before clipping and before the power; black 0, white 1.
 * Source of the decoding: YUV to RGB of Rec. ITU-R BT.470 (1.139883, 0.394642, 0.580622, 2.032062); hue angle
 * (column - 2) x 30 degrees.
 */
export function decodeSignal(code: number, swapsRedGreen: boolean): [red: number, green: number, blue: number] {
  let luma = 0;
  let u = 0;
  let v = 0;
  for (let step = 0; step < STEPS; step++) {
    const volts = stepMillivolts(code, step, swapsRedGreen);
    luma += volts / STEPS;
    u += (2 * volts * U_AXIS[step]!) / STEPS;
    v += (2 * volts * V_AXIS[step]!) / STEPS;
  }
  u *= CHROMA_GAIN;
  v *= CHROMA_GAIN;
  const signal = (millivolts: number) => (millivolts - BLACK_MV) / (WHITE_MV - BLACK_MV);
  return [signal(luma + 1.139883 * v), signal(luma - 0.394642 * u - 0.580622 * v), signal(luma + 2.032062 * u)];
}

const tables = new Map<boolean, Float64Array>();

/**
 * Light of the primaries for every code, 0..1 each.
 * Shape: `[code * 3 + primary]`, 512 x 3; emphasis bits 8..6 of the code are bits 7..5 of PPUMASK. Do not write into it.
 */
export function linearPrimaries(swapsRedGreen: boolean): Float64Array {
  const known = tables.get(swapsRedGreen);
  if (known !== undefined) return known;
  const table = new Float64Array(CODE_COUNT * 3);
  for (let code = 0; code < CODE_COUNT; code++) {
    const signal = decodeSignal(code, swapsRedGreen);
    for (let p = 0; p < 3; p++) table[code * 3 + p] = power(Math.min(1, Math.max(0, signal[p]!)), DISPLAY_GAMMA);
  }
  tables.set(swapsRedGreen, table);
  return table;
}

/** Light of each code as seen with a weight per primary; white is the sum of the weights. Shape: 512. */
export function weightedLight(swapsRedGreen: boolean, weights: readonly [number, number, number]): Float64Array {
  const primaries = linearPrimaries(swapsRedGreen);
  return Float64Array.from({ length: CODE_COUNT }, (_, code) => {
    const [red, green, blue] = [primaries[code * 3]!, primaries[code * 3 + 1]!, primaries[code * 3 + 2]!];
    return weights[0] * red + weights[1] * green + weights[2] * blue;
  });
}

const shown = new Map<boolean, Uint8Array>();

/**
 * The colours as a page shows them: 8-bit sRGB by code. Shape: `[code * 3 + primary]`. Do not write into it.
 * Source of the encoding: IEC 61966-2-1, as WCAG 2.2 gives its inverse.
 */
export function displayBytes(swapsRedGreen: boolean): Uint8Array {
  const known = shown.get(swapsRedGreen);
  if (known !== undefined) return known;
  const bytes = Uint8Array.from(linearPrimaries(swapsRedGreen), (light) =>
    Math.round(255 * (light <= 0.0031308 ? 12.92 * light : 1.055 * power(light, 1 / 2.4) - 0.055)),
  );
  shown.set(swapsRedGreen, bytes);
  return bytes;
}
