import { expect, test } from 'vitest';
import {
  chromaticDistance,
  chromaticity,
  linearOf,
  olderRedLevel,
  redRatio,
  relativeLuminance,
} from './flash-colour.ts';

const grey = (byte: number): number => relativeLuminance(linearOf(byte), linearOf(byte), linearOf(byte));
const light = (bytes: readonly number[]) => bytes.map(linearOf) as [number, number, number];

// Derived from the formula of WCAG 2.2, term "relative luminance".
test.each([
  [128, 0.215861],
  [89, 0.099899],
  [90, 0.102242],
  [231, 0.799103],
  [232, 0.806952],
])('relative luminance of grey %i: %f', (byte, expected) => expect(Math.abs(grey(byte) - expected)).toBeLessThan(1e-5));

test('of the primaries (WCAG 2.2)', () => {
  expect(relativeLuminance(0, 0, 1)).toBe(0.0722);
  expect(relativeLuminance(1, 0, 0)).toBe(0.2126);
  expect(relativeLuminance(0, 1, 0)).toBe(0.7152);
});

test("u'v' of white and red, their distance (matrix: W3C, Understanding SC 2.3.1)", () => {
  const [white, red] = [chromaticity(1, 1, 1), chromaticity(1, 0, 0)];
  for (const [found, expected] of [
    [white[0], 0.19784],
    [white[1], 0.46834],
    [red[0], 0.4507],
    [red[1], 0.52289],
    [chromaticDistance(white, red), 0.25868],
  ] as const)
    expect(Math.abs(found - expected)).toBeLessThan(1e-4);
});

// Swatches of equal luminance, Trace RERC photosensitivity test media (2025).
test('ratio and distances of swatches at the limit', () => {
  const swatch = light([205, 78, 78]);
  expect(redRatio(...swatch)).toBeCloseTo(0.8003, 4);
  const distance = (other: readonly number[]) =>
    chromaticDistance(chromaticity(...swatch), chromaticity(...light(other)));
  expect(distance([60, 132, 132])).toBeCloseTo(0.19473, 4);
  expect(distance([31, 134, 134])).toBeCloseTo(0.20455, 4);
});

test('brick against black: older level 133.41, distance 0.19730 (derived)', () => {
  const brick = light([181, 49, 32]);
  expect(Math.abs(olderRedLevel(...brick) - 133.41)).toBeLessThan(0.01);
  expect(Math.abs(chromaticDistance(chromaticity(...brick), chromaticity(0, 0, 0)) - 0.1973)).toBeLessThan(1e-4);
});
