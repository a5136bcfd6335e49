import type { LightModel } from '../parameters.ts';

/** Ambient light that the sensor sees beside the panel's own. */
export interface Room {
  /** Luminance that the glass adds at the spot, cd/m2. */
  readonly luminanceCdM2: number;
}

export type RoomModel = LightModel<Record<string, never>, Room>;
