/** sRGB, each 0 to 255, not rounded. */
export type Rgb = readonly [red: number, green: number, blue: number];
/** Lightness 0 to 1, and two opponent axes. */
export type Oklab = readonly [lightness: number, a: number, b: number];

/**
 * Colours of cividis at 0, 1/4, 1/2, 3/4, 1: a scale made so that people with red-green colour blindness see nearly the
 * same as everybody else.
 * Source: Nunez, Anderton, Renslow, PLoS ONE 13:e0199239, 2018 (values from memory).
 */
const ANCHORS: readonly Rgb[] = [
  [0x00, 0x20, 0x4d],
  [0x41, 0x4d, 0x6b],
  [0x7c, 0x7b, 0x78],
  [0xbc, 0xaf, 0x6f],
  [0xff, 0xea, 0x46],
];

/** The sRGB transfer function. Source: IEC 61966-2-1 (from memory). */
const toLinear = (code: number): number => {
  const share = code / 255;
  return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
};
const fromLinear = (light: number): number =>
  255 * (light <= 0.0031308 ? 12.92 * light : 1.055 * light ** (1 / 2.4) - 0.055);

type Matrix = readonly [Rgb, Rgb, Rgb];
const times = (matrix: Matrix, [x, y, z]: Rgb): Rgb =>
  matrix.map(([p, q, r]) => p * x + q * y + r * z) as unknown as Rgb;

/** Linear sRGB to cones, and cube roots of cones to OKLab, with their inverses. Source: B. Ottosson, "A perceptual color space for image processing", 2020 (from memory). */
const RGB_TO_CONES: Matrix = [
  [0.4122214708, 0.5363325363, 0.0514459929],
  [0.2119034982, 0.6806995451, 0.1073969566],
  [0.0883024619, 0.2817188376, 0.6299787005],
];
const CONES_TO_OKLAB: Matrix = [
  [0.2104542553, 0.793617785, -0.0040720468],
  [1.9779984951, -2.428592205, 0.4505937099],
  [0.0259040371, 0.7827717662, -0.808675766],
];
const OKLAB_TO_CONES: Matrix = [
  [1, 0.3963377774, 0.2158037573],
  [1, -0.1055613458, -0.0638541728],
  [1, -0.0894841775, -1.291485548],
];
const CONES_TO_RGB: Matrix = [
  [4.0767416621, -3.3077115913, 0.2309699292],
  [-1.2684380046, 2.6097574011, -0.3413193965],
  [-0.0041960863, -0.7034186147, 1.707614701],
];

const linear = (colour: Rgb): Rgb => colour.map(toLinear) as unknown as Rgb;

export const oklabOf = (colour: Rgb): Oklab =>
  times(CONES_TO_OKLAB, times(RGB_TO_CONES, linear(colour)).map(Math.cbrt) as unknown as Rgb);

/** What does not fit into sRGB is cut off. */
export function rgbOf(lab: Oklab): Rgb {
  const cones = times(OKLAB_TO_CONES, lab).map((root) => root ** 3) as unknown as Rgb;
  return times(CONES_TO_RGB, cones).map((light) =>
    Math.min(255, Math.max(0, fromLinear(Math.max(0, light)))),
  ) as unknown as Rgb;
}

const ANCHORS_OKLAB: readonly Oklab[] = ANCHORS.map(oklabOf);

/**
 * The colour of a rate, 0 to 1. Lightness rises in a straight line from the first anchor to the last, so that equal steps of
 * the rate look equal; hue and chroma go through all anchors in straight lines.
 */
export function rateRgb(rate: number): Rgb {
  const share = Math.min(1, Math.max(0, rate));
  const at = share * (ANCHORS_OKLAB.length - 1);
  const i = Math.min(ANCHORS_OKLAB.length - 2, Math.floor(at));
  const [from, to] = [ANCHORS_OKLAB[i]!, ANCHORS_OKLAB[i + 1]!];
  const mix = (one: number, other: number, part: number): number => one + (other - one) * part;
  return rgbOf([
    mix(ANCHORS_OKLAB[0]![0], ANCHORS_OKLAB.at(-1)![0], share),
    mix(from[1], to[1], at - i),
    mix(from[2], to[2], at - i),
  ]);
}

export const hex = (colour: Rgb): string =>
  `#${colour.map((code) => Math.round(code).toString(16).padStart(2, '0')).join('')}`;

/** Relative luminance, 0 to 1. Source: WCAG 2.2, definition "relative luminance". */
export function luminanceOf(colour: Rgb): number {
  const [red, green, blue] = linear(colour);
  return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
}

/** Source: WCAG 2.2, definition "contrast ratio". */
export function contrastOf(one: Rgb, other: Rgb): number {
  const [low, high] = [luminanceOf(one), luminanceOf(other)].sort((a, b) => a - b) as [number, number];
  return (high + 0.05) / (low + 0.05);
}

const BLACK: Rgb = [0, 0, 0];
const WHITE: Rgb = [255, 255, 255];

/** Lightness by which dots differ from their cell, away from its text: seen, and never against the text. Our choice. */
const DOT_STEP = 0.13;

/** What a cell of this rate is drawn in. */
export interface CellColours {
  readonly cell: string;
  readonly text: string;
  readonly dots: string;
}

export function cellColours(rate: number): CellColours {
  const cell = rateRgb(rate);
  const text = contrastOf(cell, WHITE) >= contrastOf(cell, BLACK) ? WHITE : BLACK;
  const [lightness, a, b] = oklabOf(cell);
  const away = text === WHITE ? -DOT_STEP : DOT_STEP;
  // Next to black or white there is no room on that side; the text is then far away.
  const moved = lightness + away;
  const dots = moved < 0.1 || moved > 0.98 ? lightness - away : moved;
  return { cell: hex(cell), text: hex(text), dots: hex(rgbOf([dots, a, b])) };
}
