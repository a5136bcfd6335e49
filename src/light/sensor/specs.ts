import type { ModelSpec } from '../../references/sourced.ts';
import { LINE_RATE_SPEC } from './line-rate-spec.ts';
import { WIDE_BAND_SPEC } from './wide-band-spec.ts';

/** Of every sensor, in the order of `SENSORS`: what a form needs, without the sensors themselves. */
export const SENSOR_SPECS: readonly ModelSpec[] = [WIDE_BAND_SPEC, LINE_RATE_SPEC];
