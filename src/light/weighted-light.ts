import { weightedLight } from '../references/palette.ts';
import { SharedTables } from './shared-tables.ts';

const made = new SharedTables<Float64Array>();

/** `weightedLight`, made once for the same weights. Do not write into it. */
export const sharedLight = (swapsRedGreen: boolean, weights: readonly [number, number, number]): Float64Array =>
  made.of([Number(swapsRedGreen), ...weights], () => weightedLight(swapsRedGreen, weights));
