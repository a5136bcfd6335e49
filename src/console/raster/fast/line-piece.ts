import { ODD_SKIP_SAMPLE_DOT } from '../../../references/console-constants.ts';
import { PICTURE_HEIGHT, PICTURE_WIDTH, type Timing } from '../../../units/timing.ts';
import { backdropCell, colourCode } from '../pixel.ts';
import type { RasterState } from '../raster-state.ts';
import { RENDERING_ON, settleChanges } from '../register-access.ts';
import { restoreRow } from '../scroll.ts';
import { beginEvaluation, clearSecondaryByte, judgeEvaluationByte, readEvaluationByte } from '../sprite-evaluation.ts';
import { loadSpriteUnit, spriteHeight } from '../sprite-units.ts';
import type { VideoMemory } from '../video-memory.ts';
import type { LineBrushes, LineParts } from './line-parts.ts';
import { runBackground, VisiblePiece } from './visible-piece.ts';

const BEGIN_EVALUATION_DOT = 65;

/** Is this one of the dots from `from` to before `end`? */
const isIn = (dot: number, from: number, end: number): boolean => dot >= from && dot < end;

/**
 * Any piece of a line that renders, dot by dot: the way of the reference where a register is written in mid-line.
 *
 * A piece ends where a change under way falls due. Within it nothing that is written can change, so that what the unit
 * does at the same time is done one after the other: background with pixels, search, sprite fetches.
 * A hit is taken to rise one dot after its pixel: SPRITE_ZERO_HIT_LATENCY_DOTS of 0 or 1.
 */
export class LinePiece {
  readonly #state: RasterState;
  readonly #memory: VideoMemory;
  readonly #timing: Timing;
  readonly #visible: VisiblePiece;

  constructor(parts: LineParts, brushes: LineBrushes) {
    this.#state = parts.state;
    this.#memory = parts.memory;
    this.#timing = parts.timing;
    this.#visible = new VisiblePiece(parts, brushes);
  }

  /** Dots `from` to before `end` of a picture line or the pre-render line; `codes` undefined = not drawn. */
  run(line: number, from: number, end: number, codes: Uint16Array | undefined): void {
    const { registers } = this.#state;
    let dot = from;
    while (dot < end) {
      let stop = end;
      if (registers.isChangeDue) {
        settleChanges(this.#state);
        if (registers.isChangeDue) stop = dot + 1;
      }
      const isOn = (registers.activeMask & RENDERING_ON) !== 0;
      if (line < PICTURE_HEIGHT) this.#runPicture(line, dot, stop, isOn, codes);
      else this.#runPreRender(dot, stop, isOn);
      dot = stop;
    }
  }

  #runPicture(line: number, from: number, end: number, isOn: boolean, codes: Uint16Array | undefined): void {
    const { evaluation, registers } = this.#state;
    if (!isOn && codes !== undefined) this.#fillWithBackdrop(line, from, end, codes);
    if (isIn(BEGIN_EVALUATION_DOT, from, end)) beginEvaluation(evaluation, registers.oamAddress);
    if (!isOn) return;
    if (from <= 257) this.#visible.run(line, Math.max(from, 1), Math.min(end, 258), codes);
    if (from <= 256) this.#evaluate(line, Math.max(from, 1), Math.min(end, 257));
    if (end > 257) this.#loadSprites(line, Math.max(from, 257), Math.min(end, 321));
    if (end > 321) runBackground(this.#state, this.#memory, Math.max(from, 321), Math.min(end, 338));
  }

  #runPreRender(from: number, end: number, isOn: boolean): void {
    if (isOn) {
      runBackground(this.#state, this.#memory, Math.max(from, 1), Math.min(end, 258));
      this.#loadSprites(-1, Math.max(from, 257), Math.min(end, 321));
      const { scroll } = this.#state;
      if (from <= 304 && end > 280) scroll.v = restoreRow(scroll.v, scroll.t);
      runBackground(this.#state, this.#memory, Math.max(from, 321), Math.min(end, 338));
    }
    this.#endFrame(from, end, isOn);
  }

  #endFrame(from: number, end: number, isOn: boolean): void {
    const { clock, registers } = this.#state;
    if (isIn(1, from, end)) {
      registers.isVblank = false;
      registers.isSpriteZeroHit = false;
      registers.isOverflow = false;
      registers.isWarm = true;
    }
    if (isIn(ODD_SKIP_SAMPLE_DOT, from, end)) {
      clock.isShort = isOn && this.#timing.skipsOddDot && clock.frame % 2 === 1;
    }
  }

  #fillWithBackdrop(line: number, from: number, end: number, codes: Uint16Array): void {
    const code = colourCode(this.#state, this.#memory, backdropCell(this.#state.scroll.v));
    const at = line * PICTURE_WIDTH - 1;
    if (from <= PICTURE_WIDTH) codes.fill(code, at + Math.max(from, 1), at + Math.max(1, Math.min(end, 257)));
  }

  #evaluate(line: number, from: number, end: number): void {
    const { evaluation, registers, oam } = this.#state;
    const height = spriteHeight(registers.control);
    for (let dot = from + (from & 1); dot < Math.min(end, BEGIN_EVALUATION_DOT); dot += 2) {
      clearSecondaryByte(evaluation, dot);
    }
    for (let dot = Math.max(from, BEGIN_EVALUATION_DOT); dot < end; dot++) {
      if ((dot & 1) === 1) readEvaluationByte(evaluation, oam);
      else if (judgeEvaluationByte(evaluation, line, height)) registers.isOverflow = true;
    }
  }

  #loadSprites(line: number, from: number, end: number): void {
    const { evaluation, registers, units } = this.#state;
    for (let dot = from; dot < end; dot++) {
      registers.oamAddress = 0;
      loadSpriteUnit(units, evaluation, this.#memory, dot, line, registers.control);
    }
  }
}
