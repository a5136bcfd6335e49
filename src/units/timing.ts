/**
 * The three timings of the console, one row of the clock table each.
 *
 * Source: hardware documentation wiki, pages "Cycle reference chart", "PPU registers" (flag lines), "NTSC video" and
 * "PAL video" (what leaves the video pin); die-analysis wiki, "PAL PPU" and "Clone PPU" (clone flag line 291).
 */
export type TimingId = '60hz' | '50hz' | '50hz-clone';

export interface Timing {
  readonly id: TimingId;
  /** Plain name for screens and reports. */
  readonly name: string;
  /** Master clock as an exact ratio in Hz: `masterNumerator / masterDenominator` ticks a second. */
  readonly masterNumerator: number;
  readonly masterDenominator: number;
  /** Master ticks in one processor cycle, and in one dot. */
  readonly cpuDivider: number;
  readonly dotDivider: number;
  readonly dotsPerLine: number;
  readonly linesPerFrame: number;
  /** The vblank flag is set at dot 1 of this line. */
  readonly vblankLine: number;
  /** Flags are cleared at dot 1 of this line, the last of the frame. */
  readonly preRenderLine: number;
  /** An odd frame with rendering on is one dot short. */
  readonly skipsOddDot: boolean;
  /** The emphasis bits 5 and 6 of PPUMASK mean green and red instead of red and green. */
  readonly swapsRedGreenEmphasis: boolean;
  /** The value of bits 1..0 of byte 12 of the image header. */
  readonly headerCode: number;
}

export const TIMINGS: Readonly<Record<TimingId, Timing>> = {
  '60hz': {
    id: '60hz',
    name: '60 Hz',
    masterNumerator: 236_250_000,
    masterDenominator: 11,
    cpuDivider: 12,
    dotDivider: 4,
    dotsPerLine: 341,
    linesPerFrame: 262,
    vblankLine: 241,
    preRenderLine: 261,
    skipsOddDot: true,
    swapsRedGreenEmphasis: false,
    headerCode: 0,
  },
  '50hz': {
    id: '50hz',
    name: '50 Hz',
    masterNumerator: 53_203_425,
    masterDenominator: 2,
    cpuDivider: 16,
    dotDivider: 5,
    dotsPerLine: 341,
    linesPerFrame: 312,
    vblankLine: 241,
    preRenderLine: 311,
    skipsOddDot: false,
    swapsRedGreenEmphasis: true,
    headerCode: 1,
  },
  '50hz-clone': {
    id: '50hz-clone',
    name: '50 Hz clone',
    masterNumerator: 53_203_425,
    masterDenominator: 2,
    cpuDivider: 15,
    dotDivider: 5,
    dotsPerLine: 341,
    linesPerFrame: 312,
    vblankLine: 291,
    preRenderLine: 311,
    skipsOddDot: false,
    swapsRedGreenEmphasis: true,
    headerCode: 3,
  },
};

/** Picture size in dots and scanlines, equal on all timings. */
export const PICTURE_WIDTH = 256;
export const PICTURE_HEIGHT = 240;

/** Master ticks in one scanline. */
export const ticksPerLine = (timing: Timing): number => timing.dotsPerLine * timing.dotDivider;

/** Master ticks in a frame that is not short. */
export const ticksPerFrame = (timing: Timing): number => timing.linesPerFrame * ticksPerLine(timing);

/** Seconds to the nearest whole tick. Units: s in, ticks out. */
const secondsToTicks = (timing: Timing, seconds: number): number =>
  Math.round((seconds * timing.masterNumerator) / timing.masterDenominator);

/** Units: ticks in, s out. Use it on differences only: light formulas never see absolute time. */
export const ticksToSeconds = (timing: Timing, ticks: number): number =>
  (ticks * timing.masterDenominator) / timing.masterNumerator;

/** Milliseconds to the nearest whole tick, for values that come in at the user's edge. */
export const msToTicks = (timing: Timing, ms: number): number => secondsToTicks(timing, ms / 1000);

/** Units: ticks in, ms out, for screens and reports. */
export const ticksToMs = (timing: Timing, ticks: number): number => ticksToSeconds(timing, ticks) * 1000;
