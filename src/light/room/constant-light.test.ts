import { expect, test } from 'vitest';
import { CONSTANT_LIGHT } from './constant-light.ts';

const luminance = (illuminanceLux: number, diffuseReflectance01: number): number =>
  CONSTANT_LIGHT.create({ illuminanceLux, diffuseReflectance01 }, {}).luminanceCdM2;

test('500 lx on tube glass of 0.1 give 15.9 cd/m2, 50 klx 1592 (Lambert: luminance = reflectance x illuminance / pi)', () => {
  expect(luminance(500, 0.1)).toBeCloseTo(15.9155, 4);
  expect(luminance(50_000, 0.1)).toBeCloseTo(1591.55, 2);
});

test('a perfect matt white reflects E = pi L (CIE e-ILV, Lambert)', () => {
  expect(Math.PI * luminance(888.9, 1)).toBeCloseTo(888.9, 9);
  expect(luminance(888.9, 1)).toBeCloseTo(282.9, 1);
});

test('no light or a black surface give 0', () => {
  expect(luminance(0, 0.5)).toBe(0);
  expect(luminance(500, 0)).toBe(0);
});
