import { relativeLuminance } from './flash-colour.ts';

/** A cell whose relative luminance changes by this much has flashed. Source: WCAG 2.2, general flash. */
const CHANGE = 0.1;

/** Relative luminance of cells; shape of `light`: `[cell * 3 + primary]`. */
export function luminanceOf(light: Float64Array): Float64Array {
  const luminance = new Float64Array(light.length / 3);
  for (let i = 0; i < luminance.length; i++)
    luminance[i] = relativeLuminance(light[3 * i]!, light[3 * i + 1]!, light[3 * i + 2]!);
  return luminance;
}

/** Share of the cells that differ by a flash or more. */
export function changedShare(a: Float64Array, b: Float64Array): number {
  let changed = 0;
  for (let i = 0; i < a.length; i++) if (Math.abs(a[i]! - b[i]!) >= CHANGE) changed++;
  return changed / a.length;
}

/** The same of dots: `levels` is their relative luminance by code. */
export function changedShareOfDots(a: Uint16Array, b: Uint16Array, levels: Float64Array): number {
  let changed = 0;
  for (let dot = 0; dot < a.length; dot++)
    if (a[dot] !== b[dot] && Math.abs(levels[a[dot]!]! - levels[b[dot]!]!) >= CHANGE) changed++;
  return changed / a.length;
}
