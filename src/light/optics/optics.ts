import type { LightModel } from '../parameters.ts';

/** Where the sensor points on the glass: x in dots, y in scanlines; dot x covers [x, x + 1). */
export interface Aim {
  readonly x: number;
  readonly y: number;
}

/**
 * Weights of a panel's picture elements in what the sensor sees; they add up to 1 together with those that would lie
 * off the screen. Shape: `weight[row * dotCount + dot]`, rows of the panel from `firstRow`, dots from `firstDot`.
 */
export interface SpotWeights {
  readonly firstRow: number;
  readonly rowCount: number;
  readonly firstDot: number;
  readonly dotCount: number;
  readonly weight: Float64Array;
}

export interface Optics {
  /** Where the weight is half of that at the aim, dots in x and scanlines in y. */
  readonly radiusDots: number;
  /** Weights on a panel with `rows` rows over the height of the picture. */
  spot(aim: Aim, rows: number): SpotWeights;
}

export type OpticsModel = LightModel<Record<string, never>, Optics>;
