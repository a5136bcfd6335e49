import { LatelightError } from '../../errors/latelight-error.ts';
import { checkDrawn, type LineRange, type PictureHistory } from '../../picture/picture.ts';
import type { ParameterValues } from '../../references/sourced.ts';
import type { Timing } from '../../units/timing.ts';
import type { LightModes } from '../light-modes.ts';
import type { Aim, Optics } from '../optics/optics.ts';
import type { LightModel } from '../parameters.ts';
import type { SavedState } from '../saved-state.ts';
import type { SignalChain } from '../signal/signal-chain.ts';
import type { Presentation } from '../signal/signal-stage.ts';

/** Sensitivity of the sensor to red, green, blue; they add up to 1, so that white is seen with its full luminance. */
export type SpectralWeights = readonly [red: number, green: number, blue: number];

export interface PanelContext {
  readonly timing: Timing;
  readonly history: PictureHistory;
  readonly chain: SignalChain;
  readonly optics: Optics;
  readonly aim: Aim;
  readonly spectralWeights: SpectralWeights;
  /** Count of the first presentation that it shows; it is black at `startTick`, before that. */
  readonly firstPresentation: number;
  readonly startTick: number;
}

/**
 * What emits light, seen through a fixed spot: light at the spot is `constantCdM2` and a sum of decaying modes that
 * changes only at the panel's own change ticks. Its rows and its scan are its own.
 *
 * A panel looks at a dot of a picture only when the dot has left the plug and come through the chain. To show a row
 * that is not there is an INTERNAL error, never black.
 */
export interface Panel {
  /** Time constants of the modes, s. */
  readonly tauS: Float64Array;
  /** Its light is that of its presentations alone: it moves with them. False if something of its own runs free. */
  readonly isPureShift: boolean;
  /** The part of the light that does not decay, cd/m2. At power-on: what a black screen gives. */
  readonly constantCdM2: number;
  /** The scanlines that it reads under this aim; `firstLine > lastLine` when the spot is off the screen. */
  readonly sees: { readonly firstLine: number; readonly lastLine: number };
  /** Tick of the next change at or before `limit`, Infinity if there is none. The console must have run to `limit`. */
  nextChange(limit: number): number;
  /** Make the change that `nextChange` has answered. `light` is the light at that tick; the amplitudes jump. */
  applyChange(light: LightModes): void;
  /** Tick at which it begins to show this line of the presentation, from this dot on. */
  rowTick(presentation: Presentation, line: number, dot: number): number;
  /** Tick at which its scan passes the aim's row; the first or last row when the aim is off the screen. */
  aimTick(presentation: Presentation): number;
  /** Of a panel whose light is impulses: how those of one row become one change. */
  readonly impulses?: ImpulseRow;
  save(): SavedState;
  load(state: SavedState): void;
}

/**
 * The impulses of the row that the panel is scanning. One after the other they add to the modes what fades from then on;
 * those that no guard of the sensor can answer to are summed up and come as one change, at the last of them.
 *
 * Which ones that are depends on the pictures and on the state at the cut alone, and shows as soon as their dots have
 * come: a sum is due when the row is over, or at the first impulse that would be too much.
 */
export interface ImpulseRow {
  /** Of each mode, over the time that the spot's part of a row takes: integral, s, and what is left of it. */
  readonly emittedS: Float64Array;
  readonly lasting: Float64Array;
  /** Ticks from a cut within the spot's part of the row to its last dot; 0 if the cut is not within it. */
  ticksLeft(cutTick: number): number;
  /** Sum up what comes until `limit` as long as its exposure, cd/m2 s, is allowed. */
  gather(allowed: number, limit: number, poles: PoleKicks): Gathered;
  /** What has been gathered is applied. */
  take(): void;
}

/** How a jump of the modes acts on a sensor's own poles, which differ from sensor to sensor. */
export interface PoleKicks {
  /** Number of values. */
  readonly kickCount: number;
  /** Carry the kicks on and add those of a jump. */
  kick(kicks: Float64Array, ticks: number, jumpCdM2: Float64Array): void;
}

/** Impulses of one row, carried to the last of them. */
export interface ImpulseSum {
  /** Tick of the last one. */
  tick: number;
  readonly jumpCdM2: Float64Array;
  readonly kicks: Float64Array;
}

/** `open`: more may come; `none`: the next impulse must be a change of its own, or the row is over. */
export type Gathered = ImpulseSum | 'open' | 'none';

export interface PanelModel extends LightModel<PanelContext, Panel> {
  /** Largest time constant of the light under these parameters, s. */
  slowestS(values: ParameterValues): number;
}

/**
 * The codes of a presentation, for a row that is due among these lines. Error: INTERNAL if the picture has not begun, is
 * no longer kept, or is not drawn there.
 */
export function presentedCodes(history: PictureHistory, presentation: Presentation, lines: LineRange): Uint16Array {
  const { picture } = presentation.content;
  const found = history.get(picture);
  if (picture === history.newest) history.drawer?.drawDue();
  if (found !== undefined) {
    checkDrawn(found, lines);
    return found.codes;
  }
  throw new LatelightError('INTERNAL', {
    what: `the panel needs picture ${picture}, but the history holds ${history.capacity} pictures up to ${history.newest}`,
  });
}
