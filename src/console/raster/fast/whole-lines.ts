import { PICTURE_WIDTH } from '../../../units/timing.ts';
import { fetchAttribute, fetchName, fetchPattern, reloadBackground, shiftBackground } from '../background.ts';
import { backdropCell, colourCode } from '../pixel.ts';
import { BACKGROUND_LEFT, BACKGROUND_ON, RENDERING_ON, SPRITES_LEFT, SPRITES_ON } from '../register-access.ts';
import { restoreColumn } from '../scroll.ts';
import { beginEvaluation, judgeEvaluationByte, readEvaluationByte } from '../sprite-evaluation.ts';
import { loadSpriteUnit, spriteHeight } from '../sprite-units.ts';
import { type BackgroundLine, FIRST_OWN_TILE, TILES } from './background-line.ts';
import { firstColumnOf, type LineBrushes, type LineParts } from './line-parts.ts';
import { SPRITES_PER_LINE } from './sprite-lines.ts';
import type { SpriteOverlay } from './sprite-overlay.ts';
import { placeOfSpriteRow, turned } from './sprite-rows.ts';
import { columnsOn, rowsOn } from './video-map.ts';

/** Bytes that the search reads on a line. */
const SEARCH_READS = 96;
/** Dot of the first sprite fetch, dots of one unit, and those in which its two planes are read. */
const LOAD_DOT = 257;
const UNIT_DOTS = 8;
const LOW_STEP = 5;
const HIGH_STEP = 7;

/**
 * Whole lines in which no register and no memory is written: the state goes from the start of a line to the start of
 * another, lines are drawn at once. Flags are not touched: they come from the forecast.
 *
 * Lines may be carried out together when no change is under way, the sprite address is 0 or rendering is off, and, with
 * rendering on, pattern memory is whole. What a line leaves to the next (queue, units, search) is worked out once, after
 * the last line: all lines between follow from the memories alone.
 */
export class WholeLines {
  readonly #parts: LineParts;
  readonly #background: BackgroundLine;
  readonly #overlay: SpriteOverlay;

  constructor(parts: LineParts, { background, overlay }: LineBrushes) {
    this.#parts = parts;
    this.#background = background;
    this.#overlay = overlay;
  }

  /** Picture lines `first` to before `end`; those from `from` to before `to` go into `codes`. */
  run(first: number, end: number, from: number, to: number, codes: Uint16Array): void {
    const { evaluation, registers } = this.#parts.state;
    if (from < to) this.drawAhead(first, from, to, codes);
    if ((registers.activeMask & RENDERING_ON) === 0) beginEvaluation(evaluation, registers.oamAddress);
    else this.#carryOut(first, end);
  }

  /** Draw lines `from` to before `to` with the state at the start of line `first`, and leave the state as it is. */
  drawAhead(first: number, from: number, to: number, codes: Uint16Array): void {
    const { state, memory, sprites } = this.#parts;
    if ((state.registers.activeMask & RENDERING_ON) === 0) {
      const code = colourCode(state, memory, backdropCell(state.scroll.v));
      codes.fill(code, from * PICTURE_WIDTH, to * PICTURE_WIDTH);
      return;
    }
    sprites.update(state.oam, spriteHeight(state.registers.control));
    this.#background.setColours(state, memory);
    const row = this.#nextRow();
    for (let line = from; line < to; line++) this.#draw(line, rowsOn(row, line - first), line === first, codes);
  }

  /** With as many rows added as lines will have gone by: v at the first tile of a line that is to come. */
  #nextRow(): number {
    const { scroll } = this.#parts.state;
    return restoreColumn(scroll.v, scroll.t);
  }

  #carryOut(first: number, end: number): void {
    const { scroll, registers, oam } = this.#parts.state;
    this.#parts.sprites.update(oam, spriteHeight(registers.control));
    const row = rowsOn(this.#nextRow(), end - first);
    scroll.v = columnsOn(row, 2);
    this.#fetchFirstTiles(row);
    this.#leaveSearch(end - 1);
    this.#leaveUnits(first, end - 1);
  }

  /** `row`: v at the line's first tile. The first line of a run shows what already stands in queue and units. */
  #draw(line: number, row: number, isFirst: boolean, codes: Uint16Array): void {
    const { state, map, sprites } = this.#parts;
    const { registers, scroll, oam } = state;
    const mask = registers.activeMask;
    const at = line * PICTURE_WIDTH;
    const fineX = scroll.x;
    const columns = firstColumnOf(mask, BACKGROUND_ON, BACKGROUND_LEFT);
    if (columns < PICTURE_WIDTH) this.#takeBackground(row, isFirst);
    if (columns > 0) this.#background.hide(fineX, columns);
    this.#background.put(fineX, codes, at);
    const firstColumn = firstColumnOf(mask, SPRITES_ON, SPRITES_LEFT);
    if (firstColumn === PICTURE_WIDTH) return;
    const target = { codes, at, fineX, firstColumn };
    if (isFirst) this.#overlay.drawUnits(state.units, PICTURE_WIDTH, target);
    else this.#overlay.drawFound(sprites, line - 1, oam, map, registers.control, target);
  }

  #takeBackground(row: number, isFirst: boolean): void {
    const { state, map } = this.#parts;
    const table = (state.registers.control & 0x10) << 8;
    if (isFirst) {
      this.#background.takeQueue(state.background);
      this.#background.takeTiles(map, state.scroll.v, table, FIRST_OWN_TILE, TILES);
    } else this.#background.takeTiles(map, row, table, 0, TILES);
  }

  /**
   * The pre-render line with rendering on, from dot 2 to its end: v = t, the units are emptied, and the first two tiles
   * of line 0 are fetched.
   */
  runPreRender(): void {
    const { state, memory } = this.#parts;
    const { scroll, registers, units, evaluation } = state;
    registers.oamAddress = 0;
    loadSpriteUnit(units, evaluation, memory, LOAD_DOT, -1, registers.control);
    this.#fetchFirstTiles(scroll.t);
    scroll.v = columnsOn(scroll.t, 2);
  }

  /** Dots 321..337: the two tiles at `row` and behind it. The ring has gone round as often as not before. */
  #fetchFirstTiles(row: number): void {
    const { state, memory } = this.#parts;
    const { background, registers } = state;
    const table = (registers.control & 0x10) << 8;
    for (let tile = 0; tile < 2; tile++) {
      const v = columnsOn(row, tile);
      fetchName(background, memory, v);
      fetchAttribute(background, memory, v);
      fetchPattern(background, memory, v, table, 0);
      fetchPattern(background, memory, v, table, 8);
      for (let dot = 0; dot < 8; dot++) shiftBackground(background);
      reloadBackground(background);
    }
  }

  /** What the search of this line leaves. */
  #leaveSearch(line: number): void {
    const { evaluation, oam, registers } = this.#parts.state;
    const height = spriteHeight(registers.control);
    evaluation.secondary.fill(0xff);
    beginEvaluation(evaluation, 0);
    for (let read = 0; read < SEARCH_READS; read++) {
      readEvaluationByte(evaluation, oam);
      judgeEvaluationByte(evaluation, line, height);
    }
  }

  /** The units after the search of `last`; `low` keeps the byte of the last unit that any of the lines has loaded. */
  #leaveUnits(first: number, last: number): void {
    const { state, memory, sprites } = this.#parts;
    const { units, evaluation, registers } = state;
    let line = last;
    while (line >= first && sprites.counts[line] === 0) line--;
    if (line >= first && line < last) units.low = this.#lastLowByte(line);
    loadSpriteUnit(units, evaluation, memory, LOAD_DOT, last, registers.control);
    for (let dot = LOAD_DOT; dot < LOAD_DOT + (evaluation.filled >> 2) * UNIT_DOTS; dot += UNIT_DOTS) {
      loadSpriteUnit(units, evaluation, memory, dot + LOW_STEP, last, registers.control);
      loadSpriteUnit(units, evaluation, memory, dot + HIGH_STEP, last, registers.control);
    }
  }

  #lastLowByte(line: number): number {
    const { state, map, sprites } = this.#parts;
    const k = Math.min(sprites.counts[line]!, SPRITES_PER_LINE) - 1;
    const at = sprites.entries[line * SPRITES_PER_LINE + k]! << 2;
    const place = placeOfSpriteRow(map, state.oam, at, line, state.registers.control);
    return turned(map.pattern[place]!, state.oam[at + 2]!);
  }
}
