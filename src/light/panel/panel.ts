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
  save(): SavedState;
  load(state: SavedState): void;
}

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
