import { PICTURE_HEIGHT, PICTURE_WIDTH } from '../../../units/timing.ts';
import { newRasterState, type RasterState } from '../raster-state.ts';
import { BACKGROUND_LEFT, BACKGROUND_ON, RENDERING_ON, SPRITES_LEFT, SPRITES_ON } from '../register-access.ts';
import { restoreColumn } from '../scroll.ts';
import { beginEvaluation, judgeEvaluationByte, newEvaluationState, readEvaluationByte } from '../sprite-evaluation.ts';
import { SPRITE_OF_UNIT_ZERO, spriteHeight } from '../sprite-units.ts';
import { firstColumnOf, type LineBrushes, type LineParts } from './line-parts.ts';
import { LinePiece } from './line-piece.ts';
import { SPRITES_PER_LINE } from './sprite-lines.ts';
import { placeOfSpriteRow, turned } from './sprite-rows.ts';
import { columnsOn, rowsOn } from './video-map.ts';

/** Dot of a flag that does not rise in this frame. */
const NEVER = Infinity;

/** Pixel x is composed in dot x + 1; the flag rises in dot x + 2. The last pixel never counts. */
const HIT_DOT = 2;
const LAST_HIT_X = PICTURE_WIDTH - 2;

/** The search reads from dot 65 on and judges one dot later. */
const FIRST_READ_DOT = 65;
const LAST_READ_DOT = 255;

/**
 * When sprite 0 hit and overflow rise in the rest of the picture if nothing is written, without drawing it.
 *
 * Sprite 0 is met on its own 8 or 16 lines only, and there under eight dots; overflow needs a look at lines with eight
 * sprites or more in range, known by counts. A line that has begun, or begins in the middle of a change, is carried out
 * on a copy, dot by dot.
 */
export class FlagForecast {
  /** Dots of the frame, counted from (0,0) of it; NEVER also when the flag is already up. */
  hitDot = NEVER;
  overflowDot = NEVER;
  isKnown = false;
  readonly #parts: LineParts;
  readonly #copy: RasterState;
  readonly #piece: LinePiece;
  readonly #search = newEvaluationState();

  constructor(parts: LineParts, brushes: LineBrushes) {
    this.#parts = parts;
    const { nameTables, palette, oam } = parts.state;
    this.#copy = { ...newRasterState(parts.timing, 0), nameTables, palette, oam };
    this.#piece = new LinePiece({ ...parts, state: this.#copy }, brushes);
  }

  forget(): void {
    this.isKnown = false;
  }

  /** `dot`: the next dot of the frame. The map is up to date. */
  make(dot: number): void {
    const { timing, state } = this.#parts;
    const end = PICTURE_HEIGHT * timing.dotsPerLine;
    this.isKnown = true;
    this.hitDot = NEVER;
    this.overflowDot = NEVER;
    if (dot >= end) return;
    let from = state;
    let next = dot;
    if (!this.#isPlain(state, next)) {
      copyLineState(state, this.#copy);
      from = this.#copy;
      do next = this.#runLine(next);
      while (next < end && !this.#isPlain(from, next));
    }
    if (next >= end || (from.registers.activeMask & RENDERING_ON) === 0) return;
    const line = next / timing.dotsPerLine;
    this.#parts.sprites.update(from.oam, spriteHeight(from.registers.control));
    if (!from.registers.isSpriteZeroHit) this.hitDot = this.#findHit(from, line);
    if (!from.registers.isOverflow) this.overflowDot = this.#findOverflow(from, line);
  }

  /** At the start of a line from which on all lines follow from the memories. */
  #isPlain(state: RasterState, dot: number): boolean {
    const { registers } = state;
    if (registers.isChangeDue || dot % this.#parts.timing.dotsPerLine !== 0) return false;
    return (registers.activeMask & RENDERING_ON) === 0 || (registers.oamAddress === 0 && this.#parts.map.isWhole);
  }

  /** The rest of a line on the copy, noting the dots in which flags rise. Returns the first dot of the next line. */
  #runLine(first: number): number {
    const { dotsPerLine } = this.#parts.timing;
    const { registers } = this.#copy;
    const line = Math.floor(first / dotsPerLine);
    const start = line * dotsPerLine;
    for (let dot = first - start; dot < dotsPerLine; dot++) {
      const { isSpriteZeroHit, isOverflow } = registers;
      this.#piece.run(line, dot, dot + 1, undefined);
      if (registers.isSpriteZeroHit && !isSpriteZeroHit) this.hitDot = start + dot;
      if (registers.isOverflow && !isOverflow) this.overflowDot = start + dot;
    }
    return start + dotsPerLine;
  }

  /** On `line` by what stands in queue and units, below it by sprite memory. */
  #findHit(state: RasterState, line: number): number {
    const { dotsPerLine } = this.#parts.timing;
    const { scroll, registers, oam } = state;
    const mask = registers.activeMask;
    if ((mask & RENDERING_ON) !== RENDERING_ON) return NEVER;
    const x = this.#hitInUnits(state);
    if (x >= 0) return line * dotsPerLine + x + HIT_DOT;
    const height = spriteHeight(registers.control);
    const end = Math.min(oam[0]! + height, PICTURE_HEIGHT - 1);
    const firstRow = restoreColumn(scroll.v, scroll.t);
    for (let found = Math.max(line, oam[0]!); found < end; found++) {
      const hitX = this.#hitOfZero(state, found, rowsOn(firstRow, found + 1 - line));
      if (hitX >= 0) return (found + 1) * dotsPerLine + hitX + HIT_DOT;
    }
    return NEVER;
  }

  /** First pixel of the coming line that hits, -1 = none; the search has already been carried out. */
  #hitInUnits({ units, registers, background, scroll }: RasterState): number {
    if (!units.isZeroInUnitZero) return -1;
    const table = (registers.control & 0x10) << 8;
    for (let x = firstHitColumn(registers.activeMask); x <= LAST_HIT_X; x++) {
      if (((units.dots[units.position + x] ?? 0) & SPRITE_OF_UNIT_ZERO) === 0) continue;
      const dot = x + scroll.x;
      const opacity =
        dot < 16
          ? background.queue[(background.head + dot) & 15]!
          : this.#parts.map.opacityOfTile(columnsOn(scroll.v, (dot >> 3) - 2), table) & (0x80 >> (dot & 7));
      if (opacity !== 0) return x;
    }
    return -1;
  }

  /** First pixel that hits with sprite 0 found on line `found`, v at the first tile of the next line = `row`; -1 = none. */
  #hitOfZero({ oam, registers, scroll }: RasterState, found: number, row: number): number {
    const { map } = this.#parts;
    const table = (registers.control & 0x10) << 8;
    const place = placeOfSpriteRow(map, oam, 0, found, registers.control);
    const sprite = turned(map.pattern[place]! | map.pattern[place + 8]!, oam[2]!);
    const x = oam[3]!;
    const column = (x + scroll.x) >> 3;
    const left = map.opacityOfTile(columnsOn(row, column), table);
    const right = map.opacityOfTile(columnsOn(row, column + 1), table);
    const behind = (((left << 8) | right) >> (8 - ((x + scroll.x) & 7))) & 0xff;
    const hidden = Math.max(0, firstHitColumn(registers.activeMask) - x);
    const beyond = Math.max(0, x + 7 - LAST_HIT_X);
    const hits = sprite & behind & (0xff >> hidden) & (0xff << beyond);
    return hits === 0 ? -1 : x + Math.clz32(hits) - 24;
  }

  #findOverflow(state: RasterState, first: number): number {
    const { timing, sprites } = this.#parts;
    for (let line = first; line < PICTURE_HEIGHT; line++) {
      if (sprites.counts[line]! < SPRITES_PER_LINE) continue;
      const dot = this.#searchOverflow(state, line);
      if (dot >= 0) return line * timing.dotsPerLine + dot;
    }
    return NEVER;
  }

  /** Dot in which the search of this line meets a ninth sprite, right or wrong; -1 = it does not. */
  #searchOverflow({ oam, registers }: RasterState, line: number): number {
    const height = spriteHeight(registers.control);
    beginEvaluation(this.#search, 0);
    for (let dot = FIRST_READ_DOT; dot <= LAST_READ_DOT; dot += 2) {
      readEvaluationByte(this.#search, oam);
      if (judgeEvaluationByte(this.#search, line, height)) return dot + 1;
    }
    return -1;
  }
}

/** A hit needs both layers. */
const firstHitColumn = (mask: number): number =>
  Math.max(firstColumnOf(mask, BACKGROUND_ON, BACKGROUND_LEFT), firstColumnOf(mask, SPRITES_ON, SPRITES_LEFT));

/** What one line hands to the next; memories are shared. */
function copyLineState(source: RasterState, target: RasterState): void {
  const { queue } = target.background;
  const { secondary } = target.evaluation;
  const { dots } = target.units;
  queue.set(source.background.queue);
  secondary.set(source.evaluation.secondary);
  dots.set(source.units.dots);
  Object.assign(target.clock, source.clock);
  Object.assign(target.registers, source.registers);
  Object.assign(target.scroll, source.scroll);
  Object.assign(target.background, source.background, { queue });
  Object.assign(target.evaluation, source.evaluation, { secondary });
  Object.assign(target.units, source.units, { dots });
}
