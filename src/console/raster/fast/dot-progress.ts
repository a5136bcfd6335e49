import type { LineRange } from '../../../picture/picture.ts';
import { PICTURE_HEIGHT, PICTURE_WIDTH } from '../../../units/timing.ts';
import { RENDERING_ON, settleChanges } from '../register-access.ts';
import { BackgroundLine } from './background-line.ts';
import { FlagForecast } from './flag-forecast.ts';
import { type FrameDots, frameDotsOf } from './frame-dots.ts';
import type { LineBrushes, LineParts } from './line-parts.ts';
import { LinePiece } from './line-piece.ts';
import { SpriteOverlay } from './sprite-overlay.ts';
import { WholeLines } from './whole-lines.ts';

/**
 * How far into a frame the dots have been carried out, and how the next ones are: whole lines where the state allows it,
 * exact pieces of lines elsewhere. Between two calls the state is that of the reference at the same dot.
 */
export class DotProgress {
  /** Dots of the frame that have been carried out; `clock` stands at the last of them. */
  next: number;
  /** Stands from `makeForecast` until somebody writes and forgets it. */
  readonly forecast: FlagForecast;
  readonly #parts: LineParts;
  readonly #drawn: LineRange;
  readonly #frame: FrameDots;
  readonly #piece: LinePiece;
  readonly #lines: WholeLines;
  #codes: Uint16Array = new Uint16Array(PICTURE_WIDTH * PICTURE_HEIGHT);
  /**
   * Picture lines from `next` to before this one have been drawn, but not carried out. A write finds the unit in the
   * last of them at most, which is then carried out, and drawn again, in pieces.
   */
  #aheadEnd = 0;

  /** At the end of a frame, before the first. */
  constructor(parts: LineParts, drawn: LineRange) {
    this.#parts = parts;
    this.#drawn = drawn;
    this.#frame = frameDotsOf(parts.timing);
    this.next = this.#frame.end;
    const background = new BackgroundLine();
    const brushes: LineBrushes = { background, overlay: new SpriteOverlay(background) };
    this.#piece = new LinePiece(parts, brushes);
    this.#lines = new WholeLines(parts, brushes);
    this.forecast = new FlagForecast(parts, brushes);
  }

  /** Go on from another state; without a picture, codes go where they went before. */
  resume(next: number, codes: Uint16Array | undefined): void {
    this.next = next;
    if (codes !== undefined) this.#codes = codes;
    this.#aheadEnd = 0;
    this.forecast.forget();
  }

  makeForecast(): FlagForecast {
    if (!this.forecast.isKnown) {
      this.#parts.map.update();
      this.forecast.make(this.next);
    }
    return this.forecast;
  }

  /** Bits 6 (sprite 0 hit) and 5 (overflow) of PPUSTATUS when `due` dots of the frame have come. Draws nothing whole. */
  flagsAt(due: number): number {
    const { registers } = this.#parts.state;
    if (this.next < due && this.next < this.#frame.pictureEnd) this.#finishLine(due);
    let flags = (registers.isSpriteZeroHit ? 0x40 : 0) | (registers.isOverflow ? 0x20 : 0);
    if (flags === 0x60 || this.next >= due || this.next >= this.#frame.pictureEnd) return flags;
    const { hitDot, overflowDot } = this.makeForecast();
    if (hitDot < due) flags |= 0x40;
    if (overflowDot < due) flags |= 0x20;
    return flags;
  }

  /** Without a forecast, the rest of a line that has begun is better carried out than looked ahead. */
  #finishLine(due: number): void {
    const { dotsPerLine } = this.#parts.timing;
    while (!this.forecast.isKnown && this.next < due && this.next < this.#frame.pictureEnd) {
      const isStart = this.next % dotsPerLine === 0;
      if (isStart && !this.#parts.state.registers.isChangeDue) return;
      this.advance(Math.min(due, (Math.floor(this.next / dotsPerLine) + 1) * dotsPerLine));
    }
  }

  /**
   * Draw all dots before `due`, the line of the last of them to its end as it will be if nothing is written. Whole lines
   * are only drawn, not carried out: until a write they need not be.
   */
  draw(due: number): void {
    const { dotsPerLine } = this.#parts.timing;
    let line = Math.floor(this.next / dotsPerLine);
    while (this.next < due && line < PICTURE_HEIGHT && !this.#isWholeLinePossible(line)) {
      line++;
      this.advance(Math.min(due, line * dotsPerLine));
    }
    const end = Math.min(PICTURE_HEIGHT, Math.ceil(due / dotsPerLine));
    if (this.next >= due || end <= this.#aheadEnd) return;
    const [from, to] = this.#stillToDraw(line, end);
    if (from < to) this.#lines.drawAhead(line, from, to, this.#codes);
    this.#aheadEnd = end;
  }

  /** Lines `from` to before `to`: those of `first` to before `end` that are looked at and have not been drawn ahead. */
  #stillToDraw(first: number, end: number): [from: number, to: number] {
    return [Math.max(first, this.#drawn.firstLine, this.#aheadEnd), Math.min(end, this.#drawn.lastLine + 1)];
  }

  /** Carry out the dots of this frame before `end`; no event lies among them but at the last. */
  advance(end: number): void {
    if (this.next >= end) return;
    const { dotsPerLine, preRenderLine } = this.#parts.timing;
    while (this.next < end) {
      const line = Math.floor(this.next / dotsPerLine);
      if (line < PICTURE_HEIGHT) this.#advanceInPicture(line, end);
      else if (line === preRenderLine) this.#advanceInPreRender(line, end);
      else this.#advanceBetween(Math.min(end, preRenderLine * dotsPerLine));
    }
    const { clock } = this.#parts.state;
    clock.line = Math.floor((this.next - 1) / dotsPerLine);
    clock.dot = this.next - 1 - clock.line * dotsPerLine;
  }

  #advanceInPicture(line: number, end: number): void {
    const { dotsPerLine } = this.#parts.timing;
    const endLine = Math.min(PICTURE_HEIGHT, Math.floor(end / dotsPerLine));
    if (endLine > line && this.#isWholeLinePossible(line)) this.#carryOutLines(line, endLine);
    else this.#carryOutPiece(line, end);
  }

  #isWholeLinePossible(line: number): boolean {
    const { registers } = this.#parts.state;
    if (registers.isChangeDue || this.next !== line * this.#parts.timing.dotsPerLine) return false;
    if ((registers.activeMask & RENDERING_ON) === 0) return true;
    this.#parts.map.update();
    return registers.oamAddress === 0 && this.#parts.map.isWhole;
  }

  #carryOutLines(first: number, end: number): void {
    const { registers } = this.#parts.state;
    const last = end * this.#parts.timing.dotsPerLine;
    this.makeForecast();
    const [from, to] = this.#stillToDraw(first, end);
    this.#lines.run(first, end, from, to, this.#codes);
    this.next = last;
    if (this.forecast.hitDot < last) registers.isSpriteZeroHit = true;
    if (this.forecast.overflowDot < last) registers.isOverflow = true;
  }

  #carryOutPiece(line: number, end: number): void {
    const start = line * this.#parts.timing.dotsPerLine;
    const stop = Math.min(end - start, this.#parts.timing.dotsPerLine);
    this.#parts.map.update();
    const isDrawn = line >= this.#drawn.firstLine && line <= this.#drawn.lastLine;
    this.#piece.run(line, this.next - start, stop, isDrawn ? this.#codes : undefined);
    this.next = start + stop;
  }

  /** From dot 2 on nothing but the rendering bits matters: what the line fetches depends on t and memory alone. */
  #advanceInPreRender(line: number, end: number): void {
    const { registers, clock } = this.#parts.state;
    const isOn = (registers.activeMask & RENDERING_ON) !== 0;
    const isWhole = this.next === this.#frame.clear + 1 && end >= this.#frame.end - 1;
    if (isWhole && isOn && !registers.isChangeDue) {
      this.#lines.runPreRender();
      clock.isShort = this.#parts.timing.skipsOddDot && clock.frame % 2 === 1;
      this.next = end;
    } else this.#carryOutPiece(line, end);
  }

  /** No picture, no fetch: only changes under way go on. */
  #advanceBetween(end: number): void {
    const { registers } = this.#parts.state;
    for (let dot = this.next; dot < end && registers.isChangeDue; dot++) settleChanges(this.#parts.state);
    this.next = end;
  }
}
