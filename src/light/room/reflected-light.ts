import type { ParameterSpec, ParameterValues, Sourced } from '../../references/sourced.ts';

export const lux = (value: number, source: string, kind: Sourced['kind'] = 'published'): Sourced => ({
  value,
  unit: 'lx',
  source,
  kind,
});
const reflectance = (value: number, source: string): Sourced => ({ value, unit: '', source, kind: 'common practice' });

export const EVENING = lux(50, 'from memory: living room in the evening, 10 to 300 lx', 'common practice');
export const DESK = lux(500, 'EN 12464-1:2011, office desk (as summarised)');
export const TUBE_GLASS = reflectance(0.1, 'from memory: tube glass 0.05 to 0.15');
export const MATT_LCD = reflectance(0.02, 'from memory: matt flat panel 0.01 to 0.03');

/** Light that falls on the glass, and what the glass throws back of it. */
export const REFLECTED_LIGHT_PARAMETERS: readonly ParameterSpec[] = [
  { name: 'illuminanceLux', title: 'light on the glass', unit: 'lx', min: 0, max: 100_000, standard: EVENING },
  { name: 'diffuseReflectance01', title: 'diffuse reflectance', unit: '', min: 0, max: 1, standard: TUBE_GLASS },
];

/**
 * Luminance = reflectance x illuminance / pi (a matt surface; Lambert's law, CIE e-ILV).
 * 500 lx on tube glass of 0.1 give 15.9 cd/m2.
 */
export const reflectedCdM2 = (values: ParameterValues): number =>
  (values['diffuseReflectance01']! * values['illuminanceLux']!) / Math.PI;
