import { ODD_SKIP_SAMPLE_DOT } from '../../../references/console-constants.ts';
import { PICTURE_HEIGHT, type Timing } from '../../../units/timing.ts';
import type { RasterState } from '../raster-state.ts';
import { RENDERING_ON } from '../register-access.ts';

/** Dot of their lines at which the vblank flag is set and the flags are cleared. */
const EVENT_DOT = 1;

/** Places in a frame as dots, counted from its (0,0). */
export interface FrameDots {
  /** The first that belongs to no picture line. */
  readonly pictureEnd: number;
  /** The vblank flag is set; the pre-render line begins; the flags are cleared. */
  readonly vblank: number;
  readonly preRender: number;
  readonly clear: number;
  /** (0,0) of the next frame, when this one is not short. */
  readonly end: number;
}

export const frameDotsOf = ({ dotsPerLine, linesPerFrame, vblankLine, preRenderLine }: Timing): FrameDots => ({
  pictureEnd: PICTURE_HEIGHT * dotsPerLine,
  vblank: vblankLine * dotsPerLine + EVENT_DOT,
  preRender: preRenderLine * dotsPerLine,
  clear: preRenderLine * dotsPerLine + EVENT_DOT,
  end: linesPerFrame * dotsPerLine,
});

const mayBeShort = ({ clock }: RasterState, timing: Timing): boolean => timing.skipsOddDot && clock.frame % 2 === 1;

/**
 * Dot of the next event, when `next` dots of the frame have been carried out: vblank flag, clearing, end of the frame. In
 * an odd frame that may be short, one that only decides this comes before its end.
 */
export function nextEventDot(state: RasterState, timing: Timing, frame: FrameDots, next: number): number {
  if (next <= frame.vblank) return frame.vblank;
  if (next <= frame.clear) return frame.clear;
  const isOpen = mayBeShort(state, timing) && next < frame.end - 1;
  return frame.end - (isOpen || state.clock.isShort ? 1 : 0);
}

/** Whether the frame ends a dot early if nothing is written after its first `next` dots. */
export function willBeShort(state: RasterState, timing: Timing, frame: FrameDots, next: number): boolean {
  const sample = frame.preRender + ODD_SKIP_SAMPLE_DOT;
  if (next > sample) return state.clock.isShort;
  const { renderingDots, mask, activeMask } = state.registers;
  const isSettled = renderingDots === 0 || next + renderingDots - 1 > sample;
  return mayBeShort(state, timing) && ((isSettled ? activeMask : mask) & RENDERING_ON) !== 0;
}
