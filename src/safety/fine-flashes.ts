import { PICTURE_HEIGHT, PICTURE_WIDTH } from '../units/timing.ts';
import { BlockArea, type BlockGrid } from './block-area.ts';
import { type DotSwings, LevelDots } from './dot-swings.ts';
import { changedArea, type FieldChanges, FieldCount, type FieldFound } from './field-count.ts';
import { FineBalance } from './fine-balance.ts';
import {
  blockAt,
  type FlashAnalyserOptions,
  type FlashKind,
  generalRule,
  gridOf,
  RED_RULE,
  type ShownSize,
  type WorstFlash,
} from './flash-analyser.ts';
import { linearOf, olderRedLevel, redRatio, relativeLuminance, SATURATED_RED } from './flash-colour.ts';
import { type FlashProfile, isLarge, type RedTest } from './flash-profile.ts';
import type { SwingRule } from './level-swings.ts';
import { PlaceCounts } from './place-counts.ts';
import { WINDOW_S } from './recent-changes.ts';
import { RedDots, redCodesOf } from './red-dots.ts';

const CELL = 8;
const SLACK = 1e-9;
const NONE = new Int32Array(0);
/** Largest squares of a fine pattern that are told from coarser ones, dots. Our choice: windows of two of them are a cell. */
const MOST_FINE = CELL / 2;
const PICTURE = { width: PICTURE_WIDTH, height: PICTURE_HEIGHT };

/** A fine pattern has squares of so many dots at most to be left out; 0 = none is fine enough. */
function fineDotsOf({ finePx }: FlashProfile, { scale, pixelAspect }: ShownSize): number {
  const dotPx = scale * Math.max(1, pixelAspect);
  let dots = 0;
  while ((dots + 1) * dotPx < finePx && dots < MOST_FINE) dots++;
  return dots;
}

/** How dots are followed for one kind of flash, and by what fine patterns of it are told. */
interface DotRule {
  readonly kind: FlashKind;
  readonly swings: (dots: number) => DotSwings;
  /** By code: codes with the same number are one and the same colour to this kind of flash. */
  readonly sorts: Uint16Array;
  /** Level by code, and its least change: where it balances there is no flash. */
  readonly levels: Float64Array;
  readonly leastChange: number;
}

interface FineFlashOptions {
  readonly rule: DotRule;
  readonly profile: FlashProfile;
  readonly size: ShownSize;
  readonly raster: NonNullable<FlashAnalyserOptions['raster']>;
}

/** What nothing is kept in from one picture to the next: copies share it. */
interface Scratch {
  readonly area: BlockArea;
  /** Dots that changed, and cells in which the level of the balance did. */
  readonly changedDots: Int32Array;
  readonly changedCells: Uint8Array;
}

interface Parts {
  readonly swings: DotSwings;
  readonly balance: FineBalance;
  readonly codes: Uint16Array;
  readonly counts: PlaceCounts;
  readonly inFields: FieldCount;
  readonly scratch: Scratch;
}

/** The changes of a picture. */
interface Changes {
  readonly timeS: number;
  readonly dots: Int32Array;
}

const NOTHING: FieldFound = { changes: 0, frame: 0, timeS: 0, position: 0, share: 0 };

/**
 * Counts opposing changes of every dot of a picture, at each and over the field, for patterns that means over cells hide: the
 * inversion of a checkerboard leaves every mean as it is. So no count depends on where cells lie. Changes within fine balanced patterns, which a profile leaves out, do not count. Only dots that
 * differ from the picture before cost anything.
 */
export class FineFlashes {
  readonly #options: FineFlashOptions;
  readonly #width: number;
  readonly #grid: BlockGrid;
  readonly #swings: DotSwings;
  #inFields: FieldCount;
  readonly #balance: FineBalance;
  readonly #codes: Uint16Array;
  readonly #scratch: Scratch;
  #frames = 0;
  #hasChanged = false;
  /** Dots that made a change in the latest picture; those that went up and down apart, once they are asked for. */
  #turnedDots: Int32Array = NONE;
  #turned: FieldChanges | undefined;
  /** Pictures with changes within the last second, the oldest first. */
  #recent: Changes[] = [];
  /** Changes of each dot in them. */
  #counts: PlaceCounts;
  #worst = NOTHING;
  #latest = NOTHING;

  /** `parts`: those of one that is copied. Error: PARAM_RANGE. */
  constructor(options: FineFlashOptions, parts?: Parts) {
    const { profile, size, rule, raster } = options;
    const dots = raster.width * raster.height;
    this.#options = options;
    this.#width = raster.width;
    this.#grid = gridOf({ profile, size, raster, cellDots: 1 });
    this.#swings = parts?.swings ?? rule.swings(dots);
    this.#balance = parts?.balance ?? new FineBalance({ ...rule, ...raster, fineDots: fineDotsOf(profile, size) });
    this.#codes = parts?.codes ?? new Uint16Array(dots);
    this.#counts = parts?.counts ?? new PlaceCounts(dots);
    this.#scratch = parts?.scratch ?? {
      area: new BlockArea(this.#grid),
      changedDots: new Int32Array(dots),
      changedCells: new Uint8Array(dots / (CELL * CELL)),
    };
    this.#inFields = parts?.inFields ?? new FieldCount(this.#scratch.area.positions, profile);
  }

  /**
   * The next picture, shown from `timeS` on. `changed`: cells of 8 dots that differ from the one before, if known. Counts up
   * to `floor` are of no interest: cells have as many.
   */
  push(codes: Uint16Array, timeS: number, changed?: Uint8Array, floor = 0): void {
    this.#forget(timeS);
    const dots = this.#frames === 0 ? this.#begin(codes, timeS) : this.#step(codes, timeS, changed);
    this.#setTurned(dots);
    if (dots.length > 0) {
      const { profile } = this.#options;
      this.#count({ timeS, dots }, floor);
      // Too few are left out where nothing is added to them.
      if (profile.togetherS > 0 || isLarge(this.#scratch.area.shareOf(dots.length), profile))
        this.#inFields.count(this.turned, this.#frames, timeS);
    }
    this.#hasChanged = dots.length > 0;
    this.#frames++;
  }

  /** What of the latest picture changed up and down. */
  get turned(): FieldChanges {
    this.#turned ??= this.#partTurned(this.#turnedDots);
    return this.#turned;
  }

  #partTurned(dots: Int32Array): FieldChanges {
    const parted = new Int32Array(dots.length);
    let [up, down] = [0, dots.length];
    for (let k = 0; k < dots.length; k++) parted[this.#swings.directionAt(dots[k]!) === 1 ? up++ : --down] = dots[k]!;
    const { area } = this.#scratch;
    return { up: changedArea(area, parted.subarray(0, up)), down: changedArea(area, parted.subarray(up)) };
  }

  /** The largest count over the field within the second that ends now. */
  fieldNow(timeS: number): number {
    return this.#inFields.now(timeS);
  }

  /** Time has gone on to `timeS`, and the picture stays. */
  stay(timeS: number): void {
    this.#forget(timeS);
    this.#swings.hold(timeS);
    this.#setTurned(NONE);
  }

  /** The latest picture once more, at `timeS`. */
  pushSame(timeS: number): void {
    this.stay(timeS);
    this.#hasChanged = false;
    this.#frames++;
  }

  get kind(): FlashKind {
    return this.#options.rule.kind;
  }

  /** Whether the latest picture made an opposing change at any dot. */
  get hasChanged(): boolean {
    return this.#hasChanged;
  }

  /** Dots with so many changes or more within the second that ended with the latest picture, wherever they are. */
  dotsWith(changes: number): number {
    return this.#counts.placesWith(changes);
  }

  /** Whether dots with so many changes or more within that second fill the share of a block that the profile asks for. */
  isLargeNow(changes: number): boolean {
    return this.#mayBeLarge(changes) && isLarge(this.#largest(changes).share, this.#options.profile);
  }

  #setTurned(dots: Int32Array): void {
    this.#turnedDots = dots;
    this.#turned = undefined;
  }

  #begin(codes: Uint16Array, timeS: number): Int32Array {
    this.#swings.begin(codes, timeS);
    this.#balance.begin(codes);
    this.#codes.set(codes);
    return NONE;
  }

  /** Dots that make an opposing change. */
  #step(codes: Uint16Array, timeS: number, changed: Uint8Array | undefined): Int32Array {
    const count = this.#findChanged(codes, changed);
    if (count === 0) {
      this.#swings.hold(timeS);
      return NONE;
    }
    this.#balance.step(codes, this.#scratch.changedCells);
    const dots = this.#scratch.changedDots;
    const turned = this.#swings.step(codes, timeS, { dots, count }, dots);
    this.#codes.set(codes);
    return dots.slice(0, this.#balance.take(codes, dots, turned));
  }

  #findChanged(codes: Uint16Array, changed: Uint8Array | undefined): number {
    const columns = this.#width / CELL;
    const { levels, sorts } = this.#options.rule;
    const before = this.#codes;
    const changedDots = this.#scratch.changedDots;
    let count = 0;
    for (let cell = 0; cell < this.#scratch.changedCells.length; cell++) {
      this.#scratch.changedCells[cell] = 0;
      if (changed !== undefined && changed[cell] === 0) continue;
      let hasMoved = false;
      const row = Math.floor(cell / columns);
      let start = row * CELL * this.#width + (cell - row * columns) * CELL;
      for (let line = 0; line < CELL; line++, start += this.#width)
        for (let dot = start; dot < start + CELL; dot++) {
          const was = before[dot]!;
          const is = codes[dot]!;
          if (was === is || sorts[was] === sorts[is]) continue;
          changedDots[count++] = dot;
          if (!hasMoved && levels[was] !== levels[is]) hasMoved = true;
        }
      if (hasMoved) this.#scratch.changedCells[cell] = 1;
    }
    return count;
  }

  #forget(timeS: number): void {
    while (this.#recent.length > 0 && timeS - this.#recent[0]!.timeS > WINDOW_S + SLACK)
      this.#counts.moveAll(this.#recent.shift()!.dots, -1);
  }

  #count(changes: Changes, floor: number): void {
    this.#recent.push(changes);
    const most = this.#counts.moveAll(changes.dots, 1);
    for (let count = most; count > Math.max(floor, this.#latest.changes); count--) {
      if (!this.#mayBeLarge(count)) continue;
      const found = this.#largest(count);
      if (isLarge(found.share, this.#options.profile))
        this.#latest = { ...found, changes: count, frame: this.#frames, timeS: changes.timeS };
    }
    if (this.#latest.changes > this.#worst.changes) this.#worst = this.#latest;
  }

  /** Whether there are enough dots with so many changes, were they all in one block. */
  #mayBeLarge(count: number): boolean {
    const dots = this.dotsWith(count);
    return dots > 0 && isLarge(this.#scratch.area.shareOf(dots), this.#options.profile);
  }

  /** Where the dots with this many changes fill most of the block. */
  #largest(count: number): Pick<FieldFound, 'position' | 'share'> {
    const counts = this.#counts;
    this.#scratch.area.mark((dot) => (counts.at(dot) >= count ? 1 : 0));
    return this.#scratch.area.largest();
  }

  /** The worst at single dots. */
  get worst(): WorstFlash {
    return this.#placed('dots', this.#worst);
  }

  get worstInField(): WorstFlash {
    return this.#placed('field', this.#inFields.worst);
  }

  /** The worst of both of the seconds that ended since this was asked last. */
  takeWorst(): WorstFlash[] {
    const dots = this.#latest;
    this.#latest = NOTHING;
    return [this.#placed('dots', dots), this.#placed('field', this.#inFields.takeWorst())];
  }

  #placed(counting: WorstFlash['counting'], { position, ...rest }: FieldFound): WorstFlash {
    const block = blockAt(this.#scratch.area.placeOf(position), this.#grid, 1);
    return { ...rest, kind: this.kind, counting, block };
  }

  /** A copy that goes on by itself. */
  copy(): FineFlashes {
    const copy = new FineFlashes(this.#options, {
      swings: this.#swings.copy(),
      balance: this.#balance.copy(),
      codes: this.#codes.slice(),
      counts: this.#counts.copy(),
      inFields: this.#inFields.copy(),
      scratch: this.#scratch,
    });
    copy.#setTurned(this.#turnedDots);
    copy.#frames = this.#frames;
    copy.#hasChanged = this.#hasChanged;
    copy.#recent = [...this.#recent];
    copy.#worst = this.#worst;
    copy.#latest = this.#latest;
    return copy;
  }
}

/** The kinds of flash that a profile follows dot by dot, in the colours of a code table: luminance, and its tests of red. */
export function fineFlashesOf(
  profile: FlashProfile,
  size: ShownSize,
  bytes: Uint8Array,
  raster: FineFlashOptions['raster'] = PICTURE,
): FineFlashes[] {
  const light = Float64Array.from(bytes, linearOf);
  return [generalDots(light, generalRule(profile)), ...profile.redTests.map((test) => redDots(test, light))].map(
    (rule) => new FineFlashes({ rule, profile, size, raster }),
  );
}

const levelsBy = (light: Float64Array, level: (red: number, green: number, blue: number) => number): Float64Array =>
  Float64Array.from({ length: light.length / 3 }, (_, code) =>
    level(light[3 * code]!, light[3 * code + 1]!, light[3 * code + 2]!),
  );

const byLevel = (kind: FlashKind, levels: Float64Array, rule: SwingRule): DotRule => ({
  kind,
  levels,
  leastChange: rule.leastChange,
  sorts: sortsOf([...levels]),
  swings: (dots) => new LevelDots(dots, levels, rule),
});

const generalDots = (light: Float64Array, rule: SwingRule): DotRule =>
  byLevel('general', levelsBy(light, relativeLuminance), rule);

/** 1 where red is saturated, else 0: half of it is a change. */
const SATURATION_RULE: SwingRule = { ...RED_RULE, leastChange: 0.5 };

function redDots(test: RedTest, light: Float64Array): DotRule {
  if (test === 'older red') return byLevel(test, levelsBy(light, olderRedLevel), RED_RULE);
  const saturated = levelsBy(light, (...primaries) => (redRatio(...primaries) >= SATURATED_RED ? 1 : 0));
  const bySaturation = byLevel(test, saturated, SATURATION_RULE);
  if (test === 'saturated red') return bySaturation;
  const codes = redCodesOf(light);
  const { isRed, classes } = codes;
  const sorts = sortsOf(Array.from(isRed, (red, code) => `${red} ${classes[2 * code]} ${classes[2 * code + 1]}`));
  return { ...bySaturation, sorts, swings: (dots) => new RedDots(dots, codes) };
}

/** Numbers from 0, the same for the same keys. */
function sortsOf(keys: readonly (number | string)[]): Uint16Array {
  const known = new Map<number | string, number>();
  return Uint16Array.from(keys, (key) => {
    const sort = known.get(key) ?? known.size;
    known.set(key, sort);
    return sort;
  });
}
