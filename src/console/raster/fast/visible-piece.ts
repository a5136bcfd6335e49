import { ODD_SKIP_SAMPLE_DOT } from '../../../references/console-constants.ts';
import { PICTURE_WIDTH } from '../../../units/timing.ts';
import { fetchAttribute, fetchName, fetchPattern, reloadBackground, shiftBackground } from '../background.ts';
import * as action from '../dot-actions.ts';
import { colourCode } from '../pixel.ts';
import type { RasterState } from '../raster-state.ts';
import {
  BACKGROUND_LEFT,
  BACKGROUND_ON,
  RENDERING_ON,
  SPRITES_LEFT,
  SPRITES_ON,
  startChange,
} from '../register-access.ts';
import { nextColumn, nextRow, restoreColumn } from '../scroll.ts';
import { SPRITE_BEHIND, SPRITE_OF_UNIT_ZERO } from '../sprite-units.ts';
import type { VideoMemory } from '../video-memory.ts';
import { FIRST_OWN_TILE } from './background-line.ts';
import { firstColumnOf, type LineBrushes, type LineParts } from './line-parts.ts';
import { columnsOn } from './video-map.ts';

const ACTIONS = action.actionsOfLine(false, ODD_SKIP_SAMPLE_DOT);
const FETCH_OR_MOVE = action.ANY_FETCH | action.ANY_MOVE;
const LAST_HIT_X = 254;

/** After dots 9, 17 .. 249 the queue holds two whole tiles. Up to the last, v has not yet moved on by a row. */
const FIRST_TILE_DOT = 9;
const LAST_TILE_DOT = 249;
/** Fewer tiles than this go dot by dot. */
const FEWEST_TILES = 4;
/** Tiles that leave queue and latches as if all before them had gone the same way. */
const LEFT_TILES = 2;

/** Dots 1..257 of a picture line, rendering on and no change under way at the piece's start: pixels and fetches. */
export class VisiblePiece {
  readonly #parts: LineParts;
  readonly #brushes: LineBrushes;

  constructor(parts: LineParts, brushes: LineBrushes) {
    this.#parts = parts;
    this.#brushes = brushes;
  }

  /** Dots `from` to before `end`. Whole tiles in its middle are drawn at once where no hit can come. */
  run(line: number, from: number, end: number, codes: Uint16Array | undefined): void {
    const first = Math.max(FIRST_TILE_DOT, from + ((1 - from) & 7));
    const tiles = (Math.min(end - 1, LAST_TILE_DOT) - first) >> 3;
    if (tiles < FEWEST_TILES || this.#isHitPossible() || !this.#parts.map.isWhole) {
      this.#runDots(line, from, end, codes);
      return;
    }
    this.#runDots(line, from, first + 1, codes);
    this.#runTiles(line, first, tiles, codes);
    this.#runDots(line, first + 8 * tiles + 1, end, codes);
  }

  #runTiles(line: number, first: number, tiles: number, codes: Uint16Array | undefined): void {
    const { state, memory } = this.#parts;
    const { background, scroll, units } = state;
    if (codes !== undefined) this.#drawTiles(line, first, tiles, codes);
    scroll.v = columnsOn(scroll.v, tiles - LEFT_TILES);
    background.head = (background.head + 8 * (tiles - LEFT_TILES)) & 15;
    runBackground(state, memory, first + 8 * (tiles - LEFT_TILES) + 1, first + 8 * tiles + 1);
    units.position = Math.min(units.dots.length, units.position + 8 * tiles);
  }

  /** Pixels `first` and after it, which are the dots that follow dot `first`: the queue has moved by one for them. */
  #drawTiles(line: number, first: number, tiles: number, codes: Uint16Array): void {
    const { state, memory, map } = this.#parts;
    const { background, overlay } = this.#brushes;
    const { scroll, registers, units } = state;
    const mask = registers.activeMask;
    const at = line * PICTURE_WIDTH + first;
    const fineX = scroll.x + 1;
    background.setColours(state, memory);
    background.takeQueue(state.background);
    background.takeTiles(map, scroll.v, (registers.control & 0x10) << 8, FIRST_OWN_TILE, tiles + 1);
    if ((mask & BACKGROUND_ON) === 0) background.hide(fineX, 8 * tiles);
    background.putPart(fineX, 8 * tiles, codes, at);
    if ((mask & SPRITES_ON) !== 0) overlay.drawUnits(units, 8 * tiles, { codes, at, fineX, firstColumn: 0 });
  }

  #runDots(line: number, from: number, end: number, codes: Uint16Array | undefined): void {
    const { state, memory } = this.#parts;
    const { units } = state;
    if (codes !== undefined || this.#isHitPossible()) this.#drawDots(line, from, end, codes);
    else runBackground(state, memory, from, end);
    const pixels = Math.max(0, Math.min(end, PICTURE_WIDTH + 1) - from);
    units.position = Math.min(units.dots.length, units.position + pixels);
  }

  #isHitPossible(): boolean {
    const { registers, units } = this.#parts.state;
    return (
      !registers.isSpriteZeroHit && units.isZeroInUnitZero && (registers.activeMask & RENDERING_ON) === RENDERING_ON
    );
  }

  #drawDots(line: number, from: number, end: number, codes: Uint16Array | undefined): void {
    const { state, memory } = this.#parts;
    const { background, scroll, units, registers } = state;
    const mask = registers.activeMask;
    const firstBehind = firstColumnOf(mask, BACKGROUND_ON, BACKGROUND_LEFT);
    const firstSprite = firstColumnOf(mask, SPRITES_ON, SPRITES_LEFT);
    const spriteAt = units.position - from + 1;
    let isHitPossible = this.#isHitPossible();
    for (let dot = from; dot < end; dot++) {
      const actions = ACTIONS[dot]!;
      if ((actions & action.SHIFT) !== 0) shiftBackground(background);
      if ((actions & action.RELOAD) !== 0) reloadBackground(background);
      const x = dot - 1;
      if (x < PICTURE_WIDTH) {
        const behind = x >= firstBehind ? background.queue[(background.head + scroll.x) & 15]! : 0;
        const sprite = x >= firstSprite ? dotAt(units.dots, spriteAt + x) : 0;
        if (isHitPossible && behind !== 0 && (sprite & SPRITE_OF_UNIT_ZERO) !== 0 && x <= LAST_HIT_X) {
          isHitPossible = false;
          this.#hit(dot, end);
        }
        const isSprite = sprite !== 0 && (behind === 0 || (sprite & SPRITE_BEHIND) === 0);
        if (codes !== undefined)
          codes[line * PICTURE_WIDTH + x] = colourCode(state, memory, isSprite ? sprite & 0x1f : behind);
      }
      if ((actions & FETCH_OR_MOVE) !== 0) fetch(state, memory, actions);
    }
  }

  /** A hit at the last dot of a piece is left under way. `end` may be 258: no pixel is composed in dot 257. */
  #hit(dot: number, end: number): void {
    const { registers } = this.#parts.state;
    if (dot + 1 < end) registers.isSpriteZeroHit = true;
    else startChange(registers, 'hitDots', 1);
  }
}

/** Dots `from` to before `end` of a line with rendering on, as far as the background goes, without pixels. */
export function runBackground(state: RasterState, memory: VideoMemory, from: number, end: number): void {
  const { background } = state;
  for (let dot = from; dot < end; dot++) {
    const actions = ACTIONS[dot]!;
    if ((actions & action.SHIFT) !== 0) shiftBackground(background);
    if ((actions & action.RELOAD) !== 0) reloadBackground(background);
    if ((actions & FETCH_OR_MOVE) !== 0) fetch(state, memory, actions);
  }
}

function fetch({ background, scroll, registers }: RasterState, memory: VideoMemory, actions: number): void {
  const table = (registers.control & 0x10) << 8;
  if ((actions & action.FETCH_NAME) !== 0) fetchName(background, memory, scroll.v);
  if ((actions & action.FETCH_ATTRIBUTE) !== 0) fetchAttribute(background, memory, scroll.v);
  if ((actions & action.FETCH_LOW) !== 0) fetchPattern(background, memory, scroll.v, table, 0);
  if ((actions & action.FETCH_HIGH) !== 0) fetchPattern(background, memory, scroll.v, table, 8);
  if ((actions & action.NEXT_COLUMN) !== 0) scroll.v = nextColumn(scroll.v);
  if ((actions & action.NEXT_ROW) !== 0) scroll.v = nextRow(scroll.v);
  if ((actions & action.RESTORE_COLUMN) !== 0) scroll.v = restoreColumn(scroll.v, scroll.t);
}

/** Units that have gone past their dots are empty. */
const dotAt = (dots: Uint8Array, position: number): number => (position < dots.length ? dots[position]! : 0);
