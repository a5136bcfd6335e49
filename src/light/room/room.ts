import type { LightModel } from '../parameters.ts';

/** Ambient light that the sensor sees beside the panel's own. */
export interface Room {
  /** Luminance that the glass adds at the spot, mean over time, cd/m2. */
  readonly luminanceCdM2: number;
  /** How it moves around that mean; undefined = not at all. */
  readonly flicker?: Flicker | undefined;
}

/** `amplitudeCdM2 x cos(2 pi (frequencyHz t + phase01))`, t = time since power-on. */
export interface Flicker {
  readonly frequencyHz: number;
  readonly amplitudeCdM2: number;
  readonly phase01: number;
}

export type RoomModel = LightModel<Record<string, never>, Room>;
