import { LatelightError } from '../../errors/latelight-error.ts';
import type { PictureHistory } from '../../picture/picture.ts';
import { ODD_SKIP_SAMPLE_DOT } from '../../references/console-constants.ts';
import type { TraceSink } from '../../trace/trace.ts';
import { PICTURE_HEIGHT, PICTURE_WIDTH, type Timing, ticksPerFrame } from '../../units/timing.ts';
import type { Slot } from '../cartridge/slot.ts';
import { fetchAttribute, fetchName, fetchPattern, reloadBackground, shiftBackground } from './background.ts';
import * as action from './dot-actions.ts';
import { backdropCell, colourCode, composePixel } from './pixel.ts';
import type { Raster, RasterHooks } from './raster.ts';
import { checkRasterState, copyRasterState, newRasterState, type RasterState } from './raster-state.ts';
import { NMI_ENABLE, RENDERING_ON, readRegister, settleChanges, writeRegister } from './register-access.ts';
import { nextColumn, nextRow, restoreColumn, restoreRow } from './scroll.ts';
import { beginEvaluation, clearSecondaryByte, judgeEvaluationByte, readEvaluationByte } from './sprite-evaluation.ts';
import { loadSpriteUnit, spriteHeight } from './sprite-units.ts';
import { VideoMemory } from './video-memory.ts';

export type { RasterState } from './raster-state.ts';

export interface RasterParts {
  readonly timing: Timing;
  readonly slot: Slot;
  readonly history: PictureHistory;
  readonly trace: TraceSink;
  readonly hooks: RasterHooks;
  /** Tick of (line 0, dot 0) of frame 0; 0 by default. */
  readonly startTick?: number;
}

const PICTURE_LINE = action.actionsOfLine(false, ODD_SKIP_SAMPLE_DOT);
const PRE_RENDER_LINE = action.actionsOfLine(true, ODD_SKIP_SAMPLE_DOT);

/**
 * The raster unit dot by dot: slow and obvious, the judge of any faster one.
 *
 * Each dot does what `dot-actions.ts` lists for it, in this order: changes that fall due, shift and reload, pixel,
 * fetches and address steps, sprites. Pixel x of a line is composed and written to the picture in dot x + 1. Codes are
 * the unit's own on every timing: what the 50 Hz units cut off at the edges is left to the video pin.
 * Source: hardware documentation wiki, "PPU rendering", "PPU frame timing", "PPU registers".
 */
export class ReferenceRaster implements Raster {
  readonly #timing: Timing;
  readonly #history: PictureHistory;
  readonly #trace: TraceSink;
  readonly #hooks: RasterHooks;
  readonly #memory: VideoMemory;
  readonly #state: RasterState;
  /** Codes of the picture in progress; before the first, an array that nobody sees. */
  #codes: Uint16Array = new Uint16Array(PICTURE_WIDTH * PICTURE_HEIGHT);

  constructor({ timing, slot, history, trace, hooks, startTick = 0 }: RasterParts) {
    this.#timing = timing;
    this.#history = history;
    this.#trace = trace;
    this.#hooks = hooks;
    this.#state = newRasterState(timing, startTick);
    this.#memory = new VideoMemory(slot, this.#state.nameTables, this.#state.palette);
  }

  runTo(tick: number): void {
    const { clock } = this.#state;
    const { dotDivider } = this.#timing;
    while (clock.nextTick <= tick) {
      clock.nextTick += dotDivider;
      this.#carryOutDot();
    }
  }

  get isNmiLineAsserted(): boolean {
    const { isVblank, control } = this.#state.registers;
    return isVblank && (control & NMI_ENABLE) !== 0;
  }

  /** The tick plays no part: the unit stands in the dot that holds it. */
  readRegister(register: number, _tick: number): number {
    return readRegister(this.#state, this.#memory, this.#timing, register);
  }

  writeRegister(register: number, value: number, tick: number): void {
    this.#trace.put({ kind: 'register-write', tick, address: 0x2000 + register, value });
    const wasAsserted = this.isNmiLineAsserted;
    writeRegister(this.#state, this.#memory, this.#timing, register, value);
    if (!wasAsserted && this.isNmiLineAsserted) this.#trace.put({ kind: 'nmi-raised', tick });
  }

  writeOam(value: number): void {
    writeRegister(this.#state, this.#memory, this.#timing, 4, value);
  }

  save(): RasterState {
    const copy = newRasterState(this.#timing, 0);
    copyRasterState(this.#state, copy);
    return copy;
  }

  load(state: RasterState): void {
    checkRasterState(state, this.#timing);
    if (state.clock.frame !== this.#history.newest) {
      const expected = `${this.#history.newest}, the picture in progress`;
      throw new LatelightError('STATE_FIELD', { field: 'raster.clock.frame', found: state.clock.frame, expected });
    }
    copyRasterState(state, this.#state);
    this.#codes = this.#history.get(state.clock.frame)?.codes ?? this.#codes;
  }

  #carryOutDot(): void {
    const { clock, registers } = this.#state;
    if (clock.dot === (clock.isShort ? 339 : 340)) this.#beginLine();
    else clock.dot++;
    if (registers.isChangeDue) settleChanges(this.#state);
    if (clock.line < PICTURE_HEIGHT) this.#renderDot(PICTURE_LINE[clock.dot]!);
    else if (clock.line === this.#timing.preRenderLine) this.#renderDot(PRE_RENDER_LINE[clock.dot]!);
    else if (clock.line === this.#timing.vblankLine && clock.dot === 1) this.#beginVblank();
  }

  #beginLine(): void {
    const { clock } = this.#state;
    clock.dot = 0;
    if (clock.line < this.#timing.preRenderLine) clock.line++;
    else this.#beginFrame();
  }

  #beginFrame(): void {
    const { clock, targets } = this.#state;
    clock.line = 0;
    clock.frameTick += ticksPerFrame(this.#timing) - (clock.isShort ? this.#timing.dotDivider : 0);
    clock.isShort = false;
    clock.frame++;
    const picture = this.#history.begin(clock.frameTick, targets);
    this.#codes = picture.codes;
    this.#trace.put({ kind: 'frame-start', tick: clock.frameTick, index: picture.index });
  }

  #beginVblank(): void {
    const { clock, registers } = this.#state;
    const { dotsPerLine, dotDivider } = this.#timing;
    const tick = clock.frameTick + (clock.line * dotsPerLine + clock.dot) * dotDivider;
    registers.isVblank = !registers.isVblankSuppressed;
    registers.isVblankSuppressed = false;
    this.#trace.put({ kind: 'vblank', tick });
    this.#state.targets = this.#hooks.targetsForNextPicture();
    if (this.isNmiLineAsserted) this.#trace.put({ kind: 'nmi-raised', tick });
  }

  /** A dot of a picture line or the pre-render line. */
  #renderDot(actions: number): void {
    const state = this.#state;
    const isOn = (state.registers.activeMask & RENDERING_ON) !== 0;
    if (isOn) this.#shift(actions);
    if ((actions & action.PIXEL) !== 0) this.#putPixel(isOn);
    if ((actions & action.BEGIN_EVALUATION) !== 0) beginEvaluation(state.evaluation, state.registers.oamAddress);
    if (isOn) {
      if ((actions & action.ANY_FETCH) !== 0) this.#fetch(actions);
      if ((actions & action.ANY_MOVE) !== 0) this.#moveAddress(actions);
      if ((actions & action.ANY_SPRITE_WORK) !== 0) this.#workOnSprites(actions);
    }
    if ((actions & (action.CLEAR_FLAGS | action.SAMPLE_ODD_SKIP)) !== 0) this.#endFrame(actions, isOn);
  }

  #shift(actions: number): void {
    const { background } = this.#state;
    if ((actions & action.SHIFT) !== 0) shiftBackground(background);
    if ((actions & action.RELOAD) !== 0) reloadBackground(background);
  }

  #putPixel(isOn: boolean): void {
    const state = this.#state;
    const x = state.clock.dot - 1;
    const cell = isOn ? composePixel(state, x) : backdropCell(state.scroll.v);
    this.#codes[state.clock.line * PICTURE_WIDTH + x] = colourCode(state, this.#memory, cell);
  }

  #fetch(actions: number): void {
    const { background, scroll, registers } = this.#state;
    const table = (registers.control & 0x10) << 8;
    if ((actions & action.FETCH_NAME) !== 0) fetchName(background, this.#memory, scroll.v);
    if ((actions & action.FETCH_ATTRIBUTE) !== 0) fetchAttribute(background, this.#memory, scroll.v);
    if ((actions & action.FETCH_LOW) !== 0) fetchPattern(background, this.#memory, scroll.v, table, 0);
    if ((actions & action.FETCH_HIGH) !== 0) fetchPattern(background, this.#memory, scroll.v, table, 8);
  }

  #moveAddress(actions: number): void {
    const { scroll } = this.#state;
    if ((actions & action.NEXT_COLUMN) !== 0) scroll.v = nextColumn(scroll.v);
    if ((actions & action.NEXT_ROW) !== 0) scroll.v = nextRow(scroll.v);
    if ((actions & action.RESTORE_COLUMN) !== 0) scroll.v = restoreColumn(scroll.v, scroll.t);
    if ((actions & action.RESTORE_ROW) !== 0) scroll.v = restoreRow(scroll.v, scroll.t);
  }

  #workOnSprites(actions: number): void {
    const { clock, evaluation, registers, oam } = this.#state;
    if ((actions & action.CLEAR_SECONDARY) !== 0) clearSecondaryByte(evaluation, clock.dot);
    if ((actions & action.READ_EVALUATION) !== 0) readEvaluationByte(evaluation, oam);
    if ((actions & action.JUDGE_EVALUATION) !== 0) {
      const isNinth = judgeEvaluationByte(evaluation, clock.line, spriteHeight(registers.control));
      if (isNinth) registers.isOverflow = true;
    }
    if ((actions & action.LOAD_SPRITES) !== 0) this.#loadSprites();
  }

  #loadSprites(): void {
    const { clock, evaluation, registers, units } = this.#state;
    const line = clock.line < PICTURE_HEIGHT ? clock.line : -1;
    registers.oamAddress = 0;
    loadSpriteUnit(units, evaluation, this.#memory, clock.dot, line, registers.control);
  }

  #endFrame(actions: number, isOn: boolean): void {
    const { clock, registers } = this.#state;
    if ((actions & action.CLEAR_FLAGS) !== 0) {
      registers.isVblank = false;
      registers.isSpriteZeroHit = false;
      registers.isOverflow = false;
      registers.isWarm = true;
    }
    if ((actions & action.SAMPLE_ODD_SKIP) !== 0) {
      clock.isShort = isOn && this.#timing.skipsOddDot && clock.frame % 2 === 1;
    }
  }
}
