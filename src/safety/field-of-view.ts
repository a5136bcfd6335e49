import { cos } from '../units/exact-math.ts';

/** The part of the field of view that is looked at, rad: 10 degrees. Source: WCAG 2.2, "general flash and red flash thresholds". */
const FIELD_RAD = (10 * Math.PI) / 180;
/** Width and height of the looked-at block over the viewing distance. Source: WCAG 2.2 technique G176, formula 2. */
const WIDTH_OVER_DISTANCE = 0.1745;
const HEIGHT_OVER_DISTANCE = 0.1309;

/** Solid angle of the looked-at cone, sr. Derived: 2 pi (1 - cos(a / 2)). */
export const FIELD_SR = 2 * Math.PI * (1 - cos(FIELD_RAD / 2));

/** The block of a display that is known, in its pixels. `distance` in the unit that `pixelsPerUnit` counts. */
export const blockAtDistance = (distance: number, pixelsPerUnit: number): { width: number; height: number } => ({
  width: WIDTH_OVER_DISTANCE * distance * pixelsPerUnit,
  height: HEIGHT_OVER_DISTANCE * distance * pixelsPerUnit,
});
