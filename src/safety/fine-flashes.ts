import { PICTURE_HEIGHT, PICTURE_WIDTH } from '../units/timing.ts';
import { BlockArea, type BlockGrid } from './block-area.ts';
import { markChangedCells } from './changed-cells.ts';
import {
  blockAt,
  type FlashKind,
  generalRule,
  gridOf,
  isLarge,
  RED_RULE,
  type ShownSize,
  type WorstFlash,
} from './flash-analyser.ts';
import { linearOf, olderRedLevel, relativeLuminance } from './flash-colour.ts';
import type { FlashProfile } from './flash-profile.ts';
import { LevelSwings, type SwingRule } from './level-swings.ts';
import { WINDOW_S } from './recent-changes.ts';

/** Squares of a fine balanced pattern below 0.1 degree are no flash, CSS pixels: 341 pixels are 10 degrees. Source: WCAG 2.2,
 * term "general flash and red flash thresholds", exception. */
const EXEMPT_PX = 341 / 100;
const MOST_WINDOW = 8;
const CELL = 8;
const COLUMNS = PICTURE_WIDTH / CELL;
const CELLS = COLUMNS * (PICTURE_HEIGHT / CELL);
const DOTS = PICTURE_WIDTH * PICTURE_HEIGHT;
const SLACK = 1e-9;
const NONE = new Uint16Array(0);

/** The first dot of a cell. */
function firstOf(cell: number): number {
  const row = Math.floor(cell / COLUMNS);
  return row * CELL * PICTURE_WIDTH + (cell - row * COLUMNS) * CELL;
}

/** A fine pattern has squares of so many dots at most to be left out; 0 = none is fine enough. */
function exemptDots({ scale, pixelAspect }: ShownSize): number {
  const dotPx = scale * Math.max(1, pixelAspect);
  let dots = 0;
  while ((dots + 1) * dotPx < EXEMPT_PX && 2 * (dots + 1) <= MOST_WINDOW) dots++;
  return dots;
}

export interface FineFlashOptions {
  readonly kind: FlashKind;
  readonly profile: FlashProfile;
  readonly size: ShownSize;
  /** Level by code. */
  readonly levels: Float64Array;
  readonly rule: SwingRule;
}

/** The changes of a picture. */
interface Changes {
  readonly timeS: number;
  readonly places: Uint16Array;
}

interface Found {
  readonly changes: number;
  readonly frame: number;
  readonly timeS: number;
  readonly column: number;
  readonly row: number;
  readonly share: number;
}

const NOTHING: Found = { changes: 0, frame: 0, timeS: 0, column: 0, row: 0, share: 0 };

/**
 * Counts opposing changes of every dot of the console's picture, for patterns that means over cells hide: the inversion of a
 * checkerboard leaves every mean as it is. Where squares are small enough to be left out, a level is the mean over a window
 * of two squares, which is the same wherever the window lies in a balanced pattern; a dot flashes if a window that holds it
 * does. Changes count whatever time they take. Only dots of cells that differ from the picture before cost anything.
 */
export class FineFlashes {
  readonly #options: FineFlashOptions;
  readonly #profile: FlashProfile;
  readonly #levels: Float64Array;
  readonly #window: number;
  readonly #grid: BlockGrid;
  readonly #area: BlockArea;
  #swings: LevelSwings;
  #codes = new Uint16Array(DOTS);
  readonly #changed = new Uint8Array(CELLS);
  readonly #inCell = new Float64Array(CELL * CELL);
  readonly #found = new Uint16Array(DOTS);
  /** Cells that ever had a level above 0. */
  #isLit = new Uint8Array(CELLS);
  #frames = 0;
  #hasChanged = false;
  /** Pictures with changes within the last second, the oldest first. */
  #recent: Changes[] = [];
  /** Changes of each dot in them, and how many dots have each count. */
  #counts = new Uint16Array(DOTS);
  #dotsWith: number[] = [DOTS];
  #worst = NOTHING;
  #latest = NOTHING;

  /** `swings`: those of one that is copied. Error: PARAM_RANGE. */
  constructor(options: FineFlashOptions, swings?: LevelSwings) {
    const { profile, size, levels, rule } = options;
    this.#options = options;
    this.#profile = profile;
    this.#levels = levels;
    this.#window = Math.max(1, 2 * exemptDots(size));
    this.#grid = gridOf({ profile, size, cellDots: 1 });
    this.#area = new BlockArea(this.#grid);
    this.#swings = swings ?? new LevelSwings(DOTS, { ...rule, longestChangeS: Number.POSITIVE_INFINITY });
  }

  /**
   * The next picture, shown from `timeS` on. `changed`: cells of 8 dots that differ from the one before, if known. Counts up
   * to `floor` are of no interest: cells have as many.
   */
  push(codes: Uint16Array, timeS: number, changed?: Uint8Array, floor = 0): void {
    this.#forget(timeS);
    const places = this.#frames === 0 ? this.#begin(codes) : this.#step(codes, changed);
    this.#codes.set(codes);
    if (places.length > 0) this.#count({ timeS, places }, floor);
    this.#hasChanged = places.length > 0;
    this.#frames++;
  }

  get kind(): FlashKind {
    return this.#options.kind;
  }

  /** Whether the latest picture made an opposing change at any dot. */
  get hasChanged(): boolean {
    return this.#hasChanged;
  }

  #begin(codes: Uint16Array): Uint16Array {
    const levels = new Float64Array(DOTS);
    for (let cell = 0; cell < CELLS; cell++) {
      if (!this.#takeLevels(codes, cell)) continue;
      const first = firstOf(cell);
      for (let dot = 0; dot < CELL * CELL; dot++)
        levels[first + Math.floor(dot / CELL) * PICTURE_WIDTH + (dot % CELL)] = this.#inCell[dot]!;
    }
    this.#swings.step(levels, 0, new Int8Array(DOTS), new Int32Array(0));
    return NONE;
  }

  /** Dots that make an opposing change. */
  #step(codes: Uint16Array, known: Uint8Array | undefined): Uint16Array {
    const changed = known ?? this.#changed;
    if (known === undefined && markChangedCells(this.#codes, codes, CELL, changed) === 0) return NONE;
    let found = 0;
    for (let cell = 0; cell < CELLS; cell++)
      if (this.#isTouched(changed, cell)) found = this.#stepCell(codes, cell, found);
    return this.#found.slice(0, found);
  }

  /** Windows begin in this cell and reach into the next ones. */
  #isTouched(changed: Uint8Array, cell: number): boolean {
    if (changed[cell] === 1) return true;
    if (this.#window === 1) return false;
    const isLast = cell % COLUMNS === COLUMNS - 1;
    const below = cell + COLUMNS;
    return (!isLast && (changed[cell + 1] === 1 || changed[below + 1] === 1)) || changed[below] === 1;
  }

  #stepCell(codes: Uint16Array, cell: number, before: number): number {
    if (!this.#takeLevels(codes, cell)) return before;
    const first = firstOf(cell);
    const swings = this.#swings;
    let found = before;
    for (let line = 0, dot = 0; line < CELL; line++) {
      const start = first + line * PICTURE_WIDTH;
      for (let at = start; at < start + CELL; at++, dot++)
        if (swings.stepAt(at, this.#inCell[dot]!) !== 0) this.#found[found++] = at;
    }
    return found;
  }

  /** The levels of a cell's dots into `#inCell`. False where it never had a level above 0, so that nothing can change. */
  #takeLevels(codes: Uint16Array, cell: number): boolean {
    const first = firstOf(cell);
    const reach = this.#window - 1;
    const top = Math.floor(first / PICTURE_WIDTH);
    const left = first - top * PICTURE_WIDTH;
    if (this.#isLit[cell] === 0) {
      const [bottom, right] = [
        Math.min(PICTURE_HEIGHT, top + CELL + reach),
        Math.min(PICTURE_WIDTH, left + CELL + reach),
      ];
      if (!this.#isAnyLit(codes, top, bottom, left, right)) return false;
      this.#isLit[cell] = 1;
    }
    for (let y = top, dot = 0; y < top + CELL; y++) {
      const line = Math.min(y, PICTURE_HEIGHT - this.#window) * PICTURE_WIDTH;
      for (let x = left; x < left + CELL; x++, dot++)
        this.#inCell[dot] = this.#meanAt(codes, line + Math.min(x, PICTURE_WIDTH - this.#window));
    }
    return true;
  }

  #isAnyLit(codes: Uint16Array, top: number, bottom: number, left: number, right: number): boolean {
    const levels = this.#levels;
    for (let y = top; y < bottom; y++)
      for (let at = y * PICTURE_WIDTH + left; at < y * PICTURE_WIDTH + right; at++)
        if (levels[codes[at]!]! > 0) return true;
    return false;
  }

  /** Mean over the window that begins at a dot. */
  #meanAt(codes: Uint16Array, at: number): number {
    const size = this.#window;
    const levels = this.#levels;
    if (size === 1) return levels[codes[at]!]!;
    let sum = 0;
    for (let line = 0, start = at; line < size; line++, start += PICTURE_WIDTH)
      for (let dot = start; dot < start + size; dot++) sum += levels[codes[dot]!]!;
    return sum / (size * size);
  }

  #forget(timeS: number): void {
    while (this.#recent.length > 0 && timeS - this.#recent[0]!.timeS > WINDOW_S + SLACK)
      for (const place of this.#recent.shift()!.places) this.#move(place, -1);
  }

  #move(place: number, by: 1 | -1): number {
    const count = this.#counts[place]!;
    this.#dotsWith[count]!--;
    this.#dotsWith[count + by] = (this.#dotsWith[count + by] ?? 0) + 1;
    this.#counts[place] = count + by;
    return count + by;
  }

  #count(changes: Changes, floor: number): void {
    this.#recent.push(changes);
    let most = 0;
    for (const place of changes.places) most = Math.max(most, this.#move(place, 1));
    for (let count = this.#possible(most); count > Math.max(floor, this.#latest.changes); count--) {
      const found = this.#largest(count);
      if (isLarge(found.share, this.#profile))
        this.#latest = { ...found, changes: count, frame: this.#frames, timeS: changes.timeS };
    }
    if (this.#latest.changes > this.#worst.changes) this.#worst = this.#latest;
  }

  /** The largest count up to `most` that enough dots have to fill the share that the profile asks for. */
  #possible(most: number): number {
    const needed = this.#profile.leastShare / this.#grid.cellShare / (this.#window * this.#window);
    let dots = 0;
    for (let count = this.#dotsWith.length - 1; count > 0; count--) {
      dots += this.#dotsWith[count]!;
      if (dots > 0 && dots >= needed) return Math.min(count, most);
    }
    return 0;
  }

  /** Where the dots with this many changes fill most of the block. */
  #largest(count: number): Pick<Found, 'column' | 'row' | 'share'> {
    const marks = new Uint8Array(DOTS);
    for (let at = 0; at < DOTS; at++) if (this.#counts[at]! >= count) this.#markWindow(marks, at);
    this.#area.mark((at) => marks[at] === 1);
    const { share, position } = this.#area.largest();
    return { ...this.#area.placeOf(position), share };
  }

  #markWindow(marks: Uint8Array, at: number): void {
    const size = this.#window;
    const y = Math.floor(at / PICTURE_WIDTH);
    const left = Math.min(at - y * PICTURE_WIDTH, PICTURE_WIDTH - size);
    const top = Math.min(y, PICTURE_HEIGHT - size);
    for (let line = top; line < top + size; line++)
      marks.fill(1, line * PICTURE_WIDTH + left, line * PICTURE_WIDTH + left + size);
  }

  get worst(): WorstFlash {
    return this.#placed(this.#worst);
  }

  /** The worst of the seconds that ended since this was asked last. */
  takeWorst(): WorstFlash {
    const taken = this.#placed(this.#latest);
    this.#latest = NOTHING;
    return taken;
  }

  #placed({ column, row, ...rest }: Found): WorstFlash {
    return { ...rest, kind: this.#options.kind, counting: 'dots', block: blockAt({ column, row }, this.#grid, 1) };
  }

  /** A copy that goes on by itself. */
  copy(): FineFlashes {
    const copy = new FineFlashes(this.#options, this.#swings.copy());
    copy.#codes = this.#codes.slice();
    copy.#isLit = this.#isLit.slice();
    copy.#frames = this.#frames;
    copy.#hasChanged = this.#hasChanged;
    copy.#recent = [...this.#recent];
    copy.#counts = this.#counts.slice();
    copy.#dotsWith = [...this.#dotsWith];
    copy.#worst = this.#worst;
    copy.#latest = this.#latest;
    return copy;
  }
}

/** The kinds of flash that a profile follows dot by dot, in the colours of a code table: luminance, and red by the older test. */
export function fineFlashesOf(profile: FlashProfile, size: ShownSize, bytes: Uint8Array): FineFlashes[] {
  const light = Float64Array.from(bytes, linearOf);
  const byCode = (level: (red: number, green: number, blue: number) => number): Float64Array =>
    Float64Array.from({ length: light.length / 3 }, (_, code) =>
      level(light[3 * code]!, light[3 * code + 1]!, light[3 * code + 2]!),
    );
  const kinds = [
    new FineFlashes({ kind: 'general', profile, size, levels: byCode(relativeLuminance), rule: generalRule(profile) }),
  ];
  if (profile.redTests.includes('older red'))
    kinds.push(new FineFlashes({ kind: 'older red', profile, size, levels: byCode(olderRedLevel), rule: RED_RULE }));
  return kinds;
}
