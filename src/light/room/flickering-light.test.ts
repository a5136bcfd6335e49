import { describe, expect, test } from 'vitest';
import { presetValues } from '../parameters.ts';
import { CONSTANT_LIGHT } from './constant-light.ts';
import { FLICKERING_LIGHT } from './flickering-light.ts';

const lamp = (values: Record<string, number> = {}) =>
  FLICKERING_LIGHT.create(
    { illuminanceLux: 500, diffuseReflectance01: 0.1, percentFlicker: 30, mainsHz: 50, phase01: 0.25, ...values },
    {},
  );

describe('lamp on the mains', () => {
  test('the mean is that of a steady light; it swings at twice the mains frequency', () => {
    const { luminanceCdM2, flicker } = lamp();
    expect(luminanceCdM2).toBe(
      CONSTANT_LIGHT.create({ illuminanceLux: 500, diffuseReflectance01: 0.1 }, {}).luminanceCdM2,
    );
    expect(flicker).toEqual({ frequencyHz: 100, amplitudeCdM2: 0.3 * luminanceCdM2, phase01: 0.25 });
  });

  test('percent flicker = 100 (max - min) / (max + min), for every preset', () => {
    for (const { id } of FLICKERING_LIGHT.spec.presets) {
      const values = presetValues(FLICKERING_LIGHT.spec, id);
      const { luminanceCdM2, flicker } = lamp(values);
      const [max, min] = [luminanceCdM2 + flicker!.amplitudeCdM2, luminanceCdM2 - flicker!.amplitudeCdM2];
      expect((100 * (max - min)) / (max + min)).toBeCloseTo(values['percentFlicker']!, 10);
      expect(min).toBeGreaterThanOrEqual(0);
    }
  });

  test('without flicker or without light it is steady', () => {
    expect(lamp({ percentFlicker: 0 }).flicker).toBeUndefined();
    expect(lamp({ illuminanceLux: 0 }).flicker).toBeUndefined();
  });
});
