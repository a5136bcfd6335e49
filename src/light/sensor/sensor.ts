import type { ParameterValues } from '../../references/sourced.ts';
import type { Timing } from '../../units/timing.ts';
import type { Decays, LightModes, Turns } from '../light-modes.ts';
import type {
  ImpulsePass,
  ImpulseRow,
  ImpulseSum,
  PoleKicks,
  RowPoles,
  RowRoom,
  RowTimes,
  SpectralWeights,
} from '../panel/panel.ts';
import type { LightModel } from '../parameters.ts';
import type { SavedState } from '../saved-state.ts';

export interface SensorContext {
  readonly timing: Timing;
  /** Decay of the light's modes, in the order of `LightModes.amplitudeCdM2`. */
  readonly decays: Decays;
  /** How the light's oscillation turns; undefined if it has none. */
  readonly swing?: Turns | undefined;
}

/** What the sensor's lanes on a time ruler draw, cd/m2 of the glass. The threshold is compared with x - b. */
export interface SensorReading {
  /** Filtered light, or the envelope of its carrier. */
  readonly x: number;
  /** Baseline. */
  readonly b: number;
  /** What the filter passes on to the rectifier, of a sensor that has one. */
  readonly carrier?: number;
}

/** Of each mode of the light, over some time: its integral, s, and what is left of it. */
export type Fading = Pick<ImpulseRow, 'emittedS' | 'lasting'>;

/**
 * From light to the bit. Between cuts the light is a sum of exponentials and an oscillation, so the sensor's linear
 * sections have a closed form; where one of its guards (threshold, baseline, rectifier) becomes true it asks for a cut.
 *
 * A sensor counts ticks from the last cut. The owner of the light calls, in this order: `powerOn`, then for each cut
 * `nextGuard` as often as it likes, `advance`, and, after the light has got its new base, `settle` if the cut was a
 * guard, and `rebase`.
 */
export interface Sensor {
  /** 1 = light seen. */
  readonly isLit: boolean;
  /** The state that a steady light has led to. */
  powerOn(light: LightModes): void;
  /** The first whole tick in 0..span after the cut at which a guard is true, Infinity if there is none. */
  nextGuard(span: number): number;
  /** Move the state `ticks` on from the cut, along the light as it was at the cut. */
  advance(ticks: number): void;
  /**
   * Light, cd/m2 s, that may be added within the next `ticks` after the cut, whatever its course, without any guard
   * becoming true; negative if one may become true even without it. The modes of the light must not be negative, and
   * `ticks` not more than the time that `fading` is for.
   */
  allowance(ticks: number, fading: Fading): number;
  /** Move the state `ticks` on as `advance` does, with impulses on the way that come to this at the end. */
  advanceThrough(ticks: number, sum: Pick<ImpulseSum, 'jumpCdM2' | 'kicks'>): void;
  /** How impulses act on the sensor's poles. */
  readonly poles: PoleKicks;
  /** Of a sensor that can tell now what whole rows of impulses will do. */
  readonly rows?: SensorRows | undefined;
  /** Of a sensor that can tell now what whole passes of impulses will do. */
  readonly passes?: SensorPasses | undefined;
  /** Act on the guard that `nextGuard` has found. */
  settle(): void;
  /** Take the light as it is at the new cut. */
  rebase(light: LightModes): void;
  /** The reading `ticks` after the cut. Changes nothing. */
  readingAfter(ticks: number): SensorReading;
  save(): SavedState;
  /** Takes the state back; `rebase` must follow. */
  load(state: SavedState): void;
}

export interface SensorRows {
  readonly poles: RowPoles;
  /**
   * What the impulses of rows to come, scanned at these ticks after the cut, may make of the filtered light without any
   * guard becoming true until the last row has been scanned; undefined if one may become true whatever they are. The
   * modes of the light must not be negative.
   */
  room(times: RowTimes): RowRoom | undefined;
}

export interface SensorPasses {
  readonly poles: RowPoles;
  /**
   * The most that the impulses until `ticks` after the cut may add to the filtered light without the bit becoming 1. The
   * modes of the light must not be negative.
   */
  room(ticks: number): number;
  /** Whether a pass whose top is at `top` ticks after the cut leaves the sensor as it is now, but for the filtered light. */
  isLikeBefore(top: number, pass: ImpulsePass): boolean;
  /** Move the state on to the end of such a pass. */
  advance(top: number, pass: ImpulsePass): void;
}

export interface SensorModel extends LightModel<SensorContext, Sensor> {
  /** Weights of the primaries with these values, which add up to 1. Error: PARAM_RANGE. */
  spectralWeights(values: ParameterValues): SpectralWeights;
}
