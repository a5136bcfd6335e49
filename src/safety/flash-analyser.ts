import { LatelightError } from '../errors/latelight-error.ts';
import { PICTURE_HEIGHT, PICTURE_WIDTH } from '../units/timing.ts';
import { BlockArea, type BlockGrid, type BlockPlace } from './block-area.ts';
import { changedPart } from './changed-dots.ts';
import { changedArea, FieldCount, type FieldFound } from './field-count.ts';
import { olderRedLevel, relativeLuminance } from './flash-colour.ts';
import { FAILING_CHANGES, type FlashProfile, isLarge, type RedTest } from './flash-profile.ts';
import { LevelSwings, type SwingRule } from './level-swings.ts';
import { RecentChanges, WHOLE, WINDOW_S } from './recent-changes.ts';
import { RedSwings } from './red-swings.ts';

/** How large a picture is shown. */
export interface ShownSize {
  /** CSS pixels from line to line. */
  readonly scale: number;
  /** Width of a dot over its height. */
  readonly pixelAspect: number;
}

export interface FlashAnalyserOptions {
  readonly profile: FlashProfile;
  readonly size: ShownSize;
  /** Edge of a cell, dots; divides the raster. 8 when not given. */
  readonly cellDots?: number;
  /** What is looked at, dots; the console's picture when not given. */
  readonly raster?: { readonly width: number; readonly height: number };
}

export type FlashKind = 'general' | RedTest;

/** The worst that was found of one kind by one way of counting. */
export interface WorstFlash {
  readonly kind: FlashKind;
  /**
   * Place: changes of one and the same cell. Dots: of one and the same dot, for patterns that are finer than a cell.
   * Field: changes anywhere in the block, at whichever cell or dot.
   */
  readonly counting: 'place' | 'dots' | 'field';
  /** Opposing changes within a second where they fill the share of the block that the profile names. */
  readonly changes: number;
  /** Number of the frame at which that was reached, from 0, and its time. */
  readonly frame: number;
  readonly timeS: number;
  /** The block, in dots of the picture. */
  readonly block: { readonly x: number; readonly y: number; readonly width: number; readonly height: number };
  /** Share of the block that flashed. */
  readonly share: number;
}

export interface FlashVerdict {
  readonly profile: string;
  readonly frames: number;
  readonly passes: boolean;
  readonly worst: readonly WorstFlash[];
}

/** One kind of flash followed over time. */
interface Follower {
  readonly kind: FlashKind;
  /** `changes[cell]` becomes +1, -1 or 0. */
  step(frame: ChangedFrame, changes: Int8Array): void;
  /** The frame is as the one before. */
  hold(timeS: number): void;
  copy(): Follower;
}

/** A frame, and which cells of it are not as before: what stays cannot change anything. */
interface ChangedFrame {
  readonly light: Float64Array;
  readonly luminance: Float64Array;
  readonly timeS: number;
  readonly cells: Int32Array;
}

/**
 * Counts flashes in a stream of frames against a published profile. An estimate, no proof of safety.
 *
 * A frame is the mean linear light of its cells: shape `[cell * 3 + primary]`, cells by rows. Every kind is counted at
 * each place and, more strictly, over the field. Method: WCAG 2.2 with technique G176; cells average linear light, as the
 * term "relative luminance" asks for dithered colours.
 */
export class FlashAnalyser {
  readonly #options: FlashAnalyserOptions;
  readonly #grid: BlockGrid;
  readonly #area: BlockArea;
  readonly #luminance: Float64Array;
  readonly #changes: Int8Array;
  readonly #counters: KindCounter[];
  /** The latest frame, and the cells that it changed. */
  #light: Float64Array;
  readonly #changedCells: Int32Array;
  #hasChanged = false;
  #frames = 0;
  #lastTimeS = Number.NEGATIVE_INFINITY;

  /** `counters`: those of an analyser that is copied. Error: PARAM_RANGE. */
  constructor(options: FlashAnalyserOptions, counters?: KindCounter[]) {
    this.#options = options;
    this.#grid = gridOf(options);
    this.#area = new BlockArea(this.#grid);
    const cells = this.#grid.columns * this.#grid.rows;
    this.#luminance = new Float64Array(cells);
    this.#changes = new Int8Array(cells);
    this.#light = new Float64Array(3 * cells).fill(-1);
    this.#changedCells = new Int32Array(cells);
    this.#counters =
      counters ??
      followersOf(options.profile, cells).map(
        (follower) => new KindCounter(follower, options, cells, this.#area.positions),
      );
  }

  /** Cells of a frame: columns and rows. */
  get columns(): number {
    return this.#grid.columns;
  }

  get rows(): number {
    return this.#grid.rows;
  }

  /** All that is looked at, as a share of the block. */
  get wholeShare(): number {
    return this.#area.shareOf(this.columns * this.rows);
  }

  /**
   * The next frame, shown from `timeS` on, s. `dots`: which dots of the changed cells changed, as `ChangedDots` tells; without
   * it cells change as a whole. Error: PARAM_RANGE if time goes back or the frame has another size.
   */
  push(light: Float64Array, timeS: number, dots?: Int32Array): void {
    this.#check(light, timeS);
    this.#lastTimeS = timeS;
    const cells = this.#cellsChangedBy(light);
    const luminance = this.#luminance;
    for (const i of cells) luminance[i] = relativeLuminance(light[3 * i]!, light[3 * i + 1]!, light[3 * i + 2]!);
    this.#hasChanged = false;
    for (const counter of this.#counters) {
      if (cells.length === 0) {
        counter.follower.hold(timeS);
        continue;
      }
      this.#changes.fill(0);
      if (dots !== undefined) counter.see(cells, dots);
      counter.follower.step({ light, luminance, timeS, cells }, this.#changes);
      if (counter.count(this.#changes, this.#area, this.#frames, timeS)) this.#hasChanged = true;
    }
    this.#frames++;
  }

  /** The latest frame once more. Error: PARAM_RANGE if time goes back. */
  pushSame(timeS: number): void {
    this.#checkTime(timeS);
    this.#lastTimeS = timeS;
    for (const { follower } of this.#counters) follower.hold(timeS);
    this.#hasChanged = false;
    this.#frames++;
  }

  #cellsChangedBy(light: Float64Array): Int32Array {
    const before = this.#light;
    let count = 0;
    for (let i = 0; i < this.#luminance.length; i++) {
      const at = 3 * i;
      if (before[at] === light[at] && before[at + 1] === light[at + 1] && before[at + 2] === light[at + 2]) continue;
      before[at] = light[at]!;
      before[at + 1] = light[at + 1]!;
      before[at + 2] = light[at + 2]!;
      this.#changedCells[count++] = i;
    }
    return this.#changedCells.subarray(0, count);
  }

  /** Whether the latest frame made an opposing change anywhere. */
  get hasChanged(): boolean {
    return this.#hasChanged;
  }

  /** Opposing changes within the second that ends with the latest frame, of the kind and the way of counting that have most. */
  get changesNow(): number {
    return Math.max(...this.#counters.map((counter) => counter.changesNow(this.#area, this.#lastTimeS)));
  }

  #check(light: Float64Array, timeS: number): void {
    const expected = this.#luminance.length * 3;
    if (light.length !== expected)
      throw new LatelightError('PARAM_RANGE', { name: 'frame', found: light.length, allowed: `${expected} values` });
    this.#checkTime(timeS);
  }

  #checkTime(timeS: number): void {
    if (timeS < this.#lastTimeS)
      throw new LatelightError('PARAM_RANGE', {
        name: 'time of a frame',
        found: timeS,
        allowed: `${this.#lastTimeS} s or later`,
      });
  }

  /** The worst so far. */
  verdict(): FlashVerdict {
    return verdictOf(
      this.#options.profile,
      this.#frames,
      this.#placed((counter) => counter.worst),
    );
  }

  /** The worst of the seconds that ended since this was asked last. */
  takeWorst(): WorstFlash[] {
    return this.#placed((counter) => counter.takeWorst());
  }

  #placed(found: (counter: KindCounter) => readonly (readonly ['place' | 'field', FieldFound])[]): WorstFlash[] {
    const { cellDots = 8 } = this.#options;
    return this.#counters.flatMap((counter) =>
      found(counter).map(([counting, { position, ...rest }]) => ({
        ...rest,
        kind: counter.follower.kind,
        counting,
        block: blockAt(this.#area.placeOf(position), this.#grid, cellDots),
      })),
    );
  }

  /** The largest count of a kind at one place since the worst was taken last. */
  latestAtPlace(kind: FlashKind): number {
    return this.#counters.find(({ follower }) => follower.kind === kind)?.latestAtPlace ?? 0;
  }

  /** The largest count of any kind so far. */
  get worstChanges(): number {
    return Math.max(0, ...this.#counters.map(({ worstChanges }) => worstChanges));
  }

  /** A copy that goes on by itself: to see what a frame would do. */
  copy(): FlashAnalyser {
    const copy = new FlashAnalyser(
      this.#options,
      this.#counters.map((counter) => counter.copy()),
    );
    copy.#light = this.#light.slice();
    copy.#luminance.set(this.#luminance);
    copy.#frames = this.#frames;
    copy.#lastTimeS = this.#lastTimeS;
    return copy;
  }
}

/** The verdict of what was found worst. */
export const verdictOf = (profile: FlashProfile, frames: number, worst: readonly WorstFlash[]): FlashVerdict => ({
  profile: profile.id,
  frames,
  passes: worst.every(({ changes }) => changes < FAILING_CHANGES),
  worst,
});

/** A block of the grid, in dots. */
export const blockAt = ({ column, row }: BlockPlace, grid: BlockGrid, cellDots: number): WorstFlash['block'] => ({
  x: column * cellDots,
  y: row * cellDots,
  width: grid.blockColumns * cellDots,
  height: grid.blockRows * cellDots,
});

const NOTHING: FieldFound = { changes: 0, frame: 0, timeS: 0, position: 0, share: 0 };

/** A word of `ChangedDots` in which every dot changed. */
const ALL_DOTS = -1;

/** Counts the changes of one kind at every place and in every field. */
class KindCounter {
  readonly follower: Follower;
  readonly #options: FlashAnalyserOptions;
  readonly #profile: FlashProfile;
  readonly #columns: number;
  #atPlaces: RecentChanges;
  #inFields: FieldCount;
  /** Dots that changed since a cell's latest change, as `ChangedDots` has them; empty where it is not known. */
  #since = new Int32Array(0);
  #worstPlace = NOTHING;
  /** The same since it was taken last. */
  #latestPlace = NOTHING;
  /** Scratch: changes of each cell within the second, and how many cells have each count. */
  #counts: Uint8Array;
  readonly #cellsWith = new Uint16Array(256);
  /** The largest count that a large enough share had when it was looked at last, and how long none can have changed. */
  #placeNow = 0;
  #placeUntilS = Number.NEGATIVE_INFINITY;

  constructor(follower: Follower, options: FlashAnalyserOptions, cells: number, positions: number) {
    const { profile } = options;
    this.follower = follower;
    this.#options = options;
    this.#profile = profile;
    this.#columns = gridOf(options).columns;
    this.#atPlaces = new RecentChanges(cells);
    this.#inFields = new FieldCount(positions, profile);
    this.#counts = new Uint8Array(cells);
  }

  get worstChanges(): number {
    return Math.max(this.#worstPlace.changes, this.#inFields.worst.changes);
  }

  get latestAtPlace(): number {
    return this.#latestPlace.changes;
  }

  /** Which dots of these cells changed. */
  see(cells: Int32Array, dots: Int32Array): void {
    if (this.#since.length === 0) this.#since = new Int32Array(2 * this.#counts.length);
    for (const cell of cells) {
      this.#since[2 * cell]! |= dots[2 * cell]!;
      this.#since[2 * cell + 1]! |= dots[2 * cell + 1]!;
    }
  }

  /** Answers whether there was any change. */
  count(changes: Int8Array, area: BlockArea, frame: number, timeS: number): boolean {
    const [up, down] = [new ChangedCells(), new ChangedCells()];
    for (let cell = 0; cell < changes.length; cell++)
      if (changes[cell] !== 0) (changes[cell] === 1 ? up : down).add(cell, this.#partOf(cell, changes));
    if (up.isEmpty && down.isEmpty) return false;
    for (const changed of [up, down])
      for (const [k, cell] of changed.cells.entries()) {
        this.#atPlaces.add(cell, timeS, changed.parts[k]);
        if (this.#since.length > 0) this.#since.fill(0, 2 * cell, 2 * cell + 2);
      }
    const place = this.#largestPlace(area, timeS);
    this.#placeNow = place.changes;
    if (place.changes > this.#latestPlace.changes) this.#latestPlace = { ...place, frame, timeS };
    this.#inFields.count({ up: up.in(area), down: down.in(area) }, frame, timeS);
    if (this.#latestPlace.changes > this.#worstPlace.changes) this.#worstPlace = this.#latestPlace;
    return true;
  }

  #partOf(cell: number, changes: Int8Array): number {
    const since = this.#since;
    if (since.length === 0) return WHOLE;
    return changedPart(since[2 * cell]!, since[2 * cell + 1]!, (right, down) => {
      const column = (cell % this.#columns) + right;
      const other = cell + down * this.#columns + right;
      if (column < 0 || column >= this.#columns || changes[other] !== changes[cell]) return false;
      return since[2 * other] === ALL_DOTS && since[2 * other + 1] === ALL_DOTS;
    });
  }

  /** The largest count, at a place or over the field, within the second that ends now. */
  changesNow(area: BlockArea, timeS: number): number {
    // Counts fall as changes grow old; none rises where nothing changes.
    if (this.#placeNow > 0 && timeS > this.#placeUntilS) this.#placeNow = this.#largestPlace(area, timeS).changes;
    return Math.max(this.#placeNow, this.#inFields.now(timeS));
  }

  /** The largest count that cells over a large enough share of some block have reached within this second, and where. */
  #largestPlace(area: BlockArea, timeS: number): Pick<FieldFound, 'changes' | 'position' | 'share'> {
    const counts = this.#counts;
    this.#cellsWith.fill(0);
    let oldestS = Number.POSITIVE_INFINITY;
    for (let cell = 0; cell < counts.length; cell++) {
      const count = this.#atPlaces.countAt(cell, timeS);
      counts[cell] = count;
      this.#cellsWith[count]!++;
      if (count > 0) oldestS = Math.min(oldestS, this.#atPlaces.oldestS(cell));
    }
    this.#placeUntilS = oldestS + WINDOW_S;
    let cells = 0;
    for (let changes = this.#cellsWith.length - 1; changes > 0; changes--) {
      if (this.#cellsWith[changes] === 0) continue;
      cells += this.#cellsWith[changes]!;
      if (!isLarge(area.shareOf(cells), this.#profile)) continue;
      area.mark((cell) => (counts[cell]! < changes ? 0 : this.#atPlaces.partWith(cell, changes) / WHOLE));
      const largest = area.largest();
      if (isLarge(largest.share, this.#profile)) return { changes, ...largest };
    }
    return NOTHING;
  }

  get worst(): [['place', FieldFound], ['field', FieldFound]] {
    return [
      ['place', this.#worstPlace],
      ['field', this.#inFields.worst],
    ];
  }

  /** The worst since this was asked last. */
  takeWorst(): [['place', FieldFound], ['field', FieldFound]] {
    const place = this.#latestPlace;
    this.#latestPlace = NOTHING;
    return [
      ['place', place],
      ['field', this.#inFields.takeWorst()],
    ];
  }

  copy(): KindCounter {
    const copy = new KindCounter(this.follower.copy(), this.#options, 0, 0);
    copy.#atPlaces = this.#atPlaces.copy();
    copy.#inFields = this.#inFields.copy();
    copy.#since = this.#since.slice();
    copy.#counts = this.#counts.slice();
    copy.#placeNow = this.#placeNow;
    copy.#placeUntilS = this.#placeUntilS;
    copy.#worstPlace = this.#worstPlace;
    copy.#latestPlace = this.#latestPlace;
    return copy;
  }
}

/** Cells that changed in one direction, and the part of each, of 64. */
class ChangedCells {
  readonly cells: number[] = [];
  readonly parts: number[] = [];

  add(cell: number, part: number): void {
    this.cells.push(cell);
    this.parts.push(part);
  }

  get isEmpty(): boolean {
    return this.cells.length === 0;
  }

  in(area: BlockArea) {
    return changedArea(
      area,
      Int32Array.from(this.cells),
      Float64Array.from(this.parts, (part) => part / WHOLE),
    );
  }
}

const PICTURE = { width: PICTURE_WIDTH, height: PICTURE_HEIGHT };

/** Cells and block of what is looked at. Error: PARAM_RANGE. */
export function gridOf({ profile, size, cellDots = 8, raster = PICTURE }: FlashAnalyserOptions): BlockGrid {
  if (![1, 2, 4, 8, 16].includes(cellDots))
    throw new LatelightError('PARAM_RANGE', { name: 'cellDots', found: cellDots, allowed: '1, 2, 4, 8 or 16' });
  const { scale, pixelAspect } = size;
  if (!(scale > 0 && pixelAspect > 0))
    throw new LatelightError('PARAM_RANGE', {
      name: 'size',
      found: `${scale}, ${pixelAspect}`,
      allowed: 'numbers above 0',
    });
  const [columns, rows] = [raster.width / cellDots, raster.height / cellDots];
  const [cellWidth, cellHeight] = [cellDots * scale * pixelAspect, cellDots * scale];
  if (profile.block === null)
    return { columns, rows, blockColumns: columns, blockRows: rows, cellShare: 1 / (columns * rows) };
  const { width, height } = profile.block;
  return {
    columns,
    rows,
    blockColumns: Math.min(columns, Math.ceil(width / cellWidth)),
    blockRows: Math.min(rows, Math.ceil(height / cellHeight)),
    cellShare: (cellWidth * cellHeight) / (width * height),
  };
}

/** Source: WCAG 2.0 and 2.1, red flash. */
export const RED_RULE: SwingRule = {
  leastChange: 20,
  isStrict: true,
  darkLimit: Number.POSITIVE_INFINITY,
  leastContrast: Number.POSITIVE_INFINITY,
  longestChangeS: Number.POSITIVE_INFINITY,
};

function followersOf(profile: FlashProfile, cells: number): Follower[] {
  return [
    general(new LevelSwings(cells, generalRule(profile))),
    ...profile.redTests.map((test) => redFollower(test, cells)),
  ];
}

/** When a change of luminance counts. */
export const generalRule = (profile: FlashProfile): SwingRule => {
  const { leastChange, darkLimit, leastContrast, longestChangeS } = profile;
  return { leastChange, isStrict: false, darkLimit, leastContrast, longestChangeS };
};

const general = (swings: LevelSwings): Follower => ({
  kind: 'general',
  step: ({ luminance, timeS, cells }, changes) => swings.step(luminance, timeS, changes, cells),
  hold: (timeS) => swings.hold(timeS),
  copy: () => general(swings.copy()),
});

const redFollower = (test: RedTest, cells: number): Follower =>
  test === 'older red'
    ? olderRed(new LevelSwings(cells, RED_RULE), new Float64Array(cells))
    : red(test, new RedSwings(cells, test === 'saturated red'));

const olderRed = (swings: LevelSwings, levels: Float64Array): Follower => ({
  kind: 'older red',
  step: ({ light, timeS, cells }, changes) => {
    for (const i of cells) levels[i] = olderRedLevel(light[3 * i]!, light[3 * i + 1]!, light[3 * i + 2]!);
    swings.step(levels, timeS, changes, cells);
  },
  hold: (timeS) => swings.hold(timeS),
  copy: () => olderRed(swings.copy(), levels.slice()),
});

const red = (kind: RedTest, swings: RedSwings): Follower => ({
  kind,
  step: ({ light, cells }, changes) => swings.step(light, changes, cells),
  hold: () => {},
  copy: () => red(kind, swings.copy()),
});
