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
  /** The scanlines that it reads under its aim. */
  readonly sees: LineRange;
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
 * come: a sum is due when the row is over, or at the first impulse that would be too much. Behind a row that is over,
 * whole rows are summed up in the same way: that sum is due with the spot's last row, or when a row is too much.
 */
export interface ImpulseRow {
  /** Of each mode, over the time that the spot's part of a row takes: integral, s, and what is left of it. */
  readonly emittedS: Float64Array;
  readonly lasting: Float64Array;
  /** Ticks from a cut within the spot's part of the row to its last dot; 0 if the cut is not within it. */
  ticksLeft(cutTick: number): number;
  /** Sum up what comes until `limit` as long as its exposure, cd/m2 s, is allowed. */
  gather(allowed: number, limit: number, poles: PoleKicks): Gathered;
  /**
   * The times of the rows that follow the cut, the first of them scanned and lit at `limit`; undefined if there is no such
   * row, or if the row that holds the cut may have more impulses.
   */
  rowsAfter(cutTick: number, limit: number): RowTimes | undefined;
  /** Sum up the rows of which `rowsAfter` has told, as far as they have come until `limit` and as there is room. */
  gatherRows(room: RowRoom, limit: number, poles: RowPoles): Gathered;
  /** What has been gathered is applied. */
  take(): void;
  /**
   * The times of the pass that follows the cut, no dot of it before the cut, and over or with some of its impulses scanned
   * at `limit`; undefined if there is none, or if impulses before it have not been applied.
   */
  passAfter(cutTick: number, limit: number): PassTimes | undefined;
  /**
   * The pass of which `passAfter` has told, if x does not exceed `most` by its impulses; `open` if it is not over at
   * `limit`; `black` if it is, without any impulse: then it is behind.
   */
  gatherPass(most: number, limit: number, poles: RowPoles): ImpulsePass | 'open' | 'none' | 'black';
  /** Whether the presentation behind the pass, as far as it is known, comes to the spot after this tick. */
  isLastUntil(tick: number): boolean;
  /** The pass has been applied. */
  takePass(): void;
}

/** When the pass of a presentation is: its top, and the end, shortly before the next pass can begin. */
export interface PassTimes {
  readonly topTick: number;
  readonly endTick: number;
}

/**
 * The impulses of all the rows under the spot in one presentation, and what is left of them at the end, with the filtered
 * light x, cd/m2, that they make if nothing was there before. Times are ticks after the top. It never changes.
 */
export interface ImpulsePass {
  /** The first impulse; from `settled` on x falls until the end. */
  readonly first: number;
  readonly settled: number;
  readonly end: number;
  /** At the end. */
  readonly jumpCdM2: Float64Array;
  readonly filtered: number;
  /** Most of x; least of it between the last impulse of the first lit row and `settled`. */
  readonly most: number;
  readonly least: number;
  /** What comes as light from that impulse until the end, cd/m2 s. */
  readonly lateExposure: number;
}

/** Ticks after a cut: first and last dot of the first row that follows, last dot of the spot's last row. */
export interface RowTimes {
  readonly first: number;
  readonly firstEnd: number;
  readonly end: number;
}

/** What the impulses of the rows to come may make of the filtered light, cd/m2. */
export interface RowRoom {
  /** Most, from the first of them on. */
  readonly most: number;
  /** Least, behind the first lit row. */
  readonly least: number;
}

/** How a jump of the modes acts on a sensor's own poles, which differ from sensor to sensor. */
export interface PoleKicks {
  /** What the kicks of a jump follow from, beside modes and clock: those with the same numbers are the same. */
  readonly key: readonly number[];
  /** Number of values. */
  readonly kickCount: number;
  /** Carry the kicks on and add those of a jump. */
  kick(kicks: Float64Array, ticks: number, jumpCdM2: Float64Array): void;
}

/** Of a sensor with a low-pass: what impulses make of the filtered light. */
export interface RowPoles extends PoleKicks {
  /** Most that it rises by an exposure, 1/s. */
  readonly perExposure: number;
  /** The filtered light, cd/m2, at the last of the impulses. */
  filtered(jumpCdM2: Float64Array, kicks: Float64Array): number;
  /** The same some ticks later; between the two it is less than both nowhere. */
  filteredAfter(ticks: number, jumpCdM2: Float64Array, kicks: Float64Array): number;
  /** Upper bound of it from some ticks after the last impulse on, if it is `filtered` there. */
  mostAfter(ticks: number, filtered: number, jumpCdM2: Float64Array): number;
}

/** Impulses of one row or of several, carried to the last of them. */
export interface ImpulseSum {
  /** Tick of the last one. */
  tick: number;
  readonly jumpCdM2: Float64Array;
  readonly kicks: Float64Array;
}

/** `open`: more may come; `none`: the next impulse must be a change of its own, or what was to be gathered is over. */
export type Gathered = ImpulseSum | 'open' | 'none';

export interface PanelModel extends LightModel<PanelContext, Panel> {
  /** The scanlines that a panel with these parameters reads under an aim; `firstLine > lastLine` off the screen. */
  sees(values: ParameterValues, optics: Optics, aim: Aim): LineRange;
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
