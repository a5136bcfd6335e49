import { LINE_RATE } from './line-rate.ts';
import type { SensorModel } from './sensor.ts';
import { WIDE_BAND } from './wide-band.ts';

/** Every sensor: one line each. */
export const SENSORS: readonly SensorModel[] = [WIDE_BAND, LINE_RATE];
