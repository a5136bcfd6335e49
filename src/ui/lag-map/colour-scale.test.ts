import { describe, expect, test } from 'vitest';
import { cellColours, contrastOf, hex, luminanceOf, oklabOf, type Rgb, rateRgb, rgbOf } from './colour-scale.ts';

const STEPS = Array.from({ length: 101 }, (_, i) => i / 100);

/**
 * What dichromats see, in linear sRGB. Source: Machado, Oliveira, Fernandes, IEEE Trans. Vis. Comput. Graph. 15:1291, 2009,
 * severity 1.0 (from memory).
 */
const DICHROMATS: Readonly<Record<string, readonly Rgb[]>> = {
  protanopia: [
    [0.152286, 1.052583, -0.204868],
    [0.114503, 0.786281, 0.099216],
    [-0.003882, -0.048116, 1.051998],
  ],
  deuteranopia: [
    [0.367322, 0.860646, -0.227968],
    [0.280085, 0.672501, 0.047413],
    [-0.01182, 0.04294, 0.968881],
  ],
  tritanopia: [
    [1.255528, -0.076749, -0.178779],
    [-0.078411, 0.930809, 0.147602],
    [0.004733, 0.691367, 0.3039],
  ],
};

const linear = (code: number): number =>
  code / 255 <= 0.04045 ? code / 255 / 12.92 : ((code / 255 + 0.055) / 1.055) ** 2.4;
const code = (light: number): number => {
  const cut = Math.min(1, Math.max(0, light));
  return 255 * (cut <= 0.0031308 ? 12.92 * cut : 1.055 * cut ** (1 / 2.4) - 0.055);
};
function seenBy(rows: readonly Rgb[], colour: Rgb): Rgb {
  const light = colour.map(linear);
  return rows.map((row) => code(row.reduce((sum, part, i) => sum + part * light[i]!, 0))) as unknown as Rgb;
}

describe('OKLab', () => {
  test.each([
    ['white', [255, 255, 255], [1, 0, 0]],
    ['red', [255, 0, 0], [0.62796, 0.22486, 0.12585]],
    ['blue', [0, 0, 255], [0.45201, -0.03246, -0.31153]],
  ] as const)('%s, as published for sRGB primaries (from memory)', (_, colour, lab) => {
    for (const [i, value] of oklabOf(colour).entries()) expect(value).toBeCloseTo(lab[i]!, 3);
  });

  test('there and back', () => {
    for (const rate of STEPS) {
      const colour = rateRgb(rate);
      for (const [i, value] of rgbOf(oklabOf(colour)).entries()) expect(value).toBeCloseTo(colour[i]!, 2);
    }
  });
});

test('the scale begins and ends with the published colours', () => {
  expect([hex(rateRgb(0)), hex(rateRgb(1))]).toEqual(['#00204d', '#ffea46']);
});

test('equal steps of the rate are equal steps of lightness', () => {
  const lightness = STEPS.map((rate) => oklabOf(rateRgb(rate))[0]);
  const steps = lightness.slice(1).map((value, i) => value - lightness[i]!);
  const mean = (lightness.at(-1)! - lightness[0]!) / steps.length;
  // Cutting off at the border of sRGB costs a little at the dark end.
  for (const step of steps) expect(Math.abs(step - mean)).toBeLessThan(0.15 * mean);
});

test.each(Object.entries(DICHROMATS))('with %s lightness still rises at every step, by over half of it', (_, rows) => {
  const lightness = STEPS.map((rate) => oklabOf(seenBy(rows, rateRgb(rate)))[0]);
  const mean = (lightness.at(-1)! - lightness[0]!) / (STEPS.length - 1);
  expect(lightness.at(-1)! - lightness[0]!).toBeGreaterThan(0.6);
  for (const [i, value] of lightness.slice(1).entries()) expect(value - lightness[i]!).toBeGreaterThan(0.5 * mean);
});

test('without any colour, as luminance alone, it rises too', () => {
  const luminance = STEPS.map((rate) => luminanceOf(rateRgb(rate)));
  for (const [i, value] of luminance.slice(1).entries()) expect(value).toBeGreaterThan(luminance[i]!);
});

test('text stands out by 4.5 : 1 on every cell and on its dots (WCAG 2.2, 1.4.3)', () => {
  const rgb = (text: string): Rgb => [1, 3, 5].map((i) => Number.parseInt(text.slice(i, i + 2), 16)) as unknown as Rgb;
  for (const rate of STEPS) {
    const { cell, text, dots } = cellColours(rate);
    expect(contrastOf(rgb(text), rgb(cell))).toBeGreaterThan(4.5);
    expect(contrastOf(rgb(text), rgb(dots))).toBeGreaterThan(4.5);
    expect(contrastOf(rgb(dots), rgb(cell))).toBeGreaterThan(1.2);
  }
});
