import type { Timing } from '../../units/timing.ts';
import type { LightModel } from '../parameters.ts';

/** What a presentation shows. So far always one whole picture of the console. */
export interface PictureContent {
  readonly kind: 'picture';
  /** Index in the picture history. */
  readonly picture: number;
}

/** One passage of a picture over the wire, from top to bottom. Dot x of row y comes at
 * `tTop + round(y * tPerRow) + round(x * tPerRow / dotsPerLine)`. */
export interface Presentation {
  /** Counts the presentations that leave this stage. */
  readonly index: number;
  readonly content: PictureContent;
  /** Tick at which the first dot of row 0 comes. */
  readonly tTop: number;
  /** Ticks from row to row; need not be whole behind a stage with its own clock. */
  readonly tPerRow: number;
  readonly yFirst: number;
  readonly yLast: number;
  /** Every row is available at `tTop` (a frame buffer lies behind); otherwise rows come one by one. */
  readonly isStored: boolean;
}

/**
 * Anything between the console's plug and the panel: a pure function from a stream of presentations to a stream of
 * presentations. It may keep what it has seen; what it keeps is plain numbers.
 */
export interface SignalStage {
  /** Bounds of output tTop - input tTop, ticks. */
  readonly latencyTicks: { readonly least: number; readonly largest: number };
  /** One presentation out for each one in, in order. */
  readonly conservesFrames: boolean;
  /** The output is the input moved by a constant number of ticks. */
  readonly isPureShift: boolean;
  /** Whether what leaves is stored (see `Presentation.isStored`), given whether what enters is. */
  storesPicture(isInputStored: boolean): boolean;
  /** Take the next presentation; answer the presentations that follow from it. */
  present(input: Presentation): readonly Presentation[];
  save(): readonly number[];
  load(state: readonly number[]): void;
}

export interface SignalStageContext {
  readonly timing: Timing;
}

export type SignalStageModel = LightModel<SignalStageContext, SignalStage>;
