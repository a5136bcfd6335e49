import { PICTURE_HEIGHT, PICTURE_WIDTH } from '../units/timing.ts';
import { markChangedCells } from './changed-cells.ts';
import { type ChangedArea, type FieldChanges, FieldCount } from './field-count.ts';
import { type FineFlashes, fineFlashesOf } from './fine-flashes.ts';
import { FlashAnalyser, type ShownSize } from './flash-analyser.ts';
import { FAILING_CHANGES, FLASH_PROFILES, type FlashProfile, isLarge } from './flash-profile.ts';

/**
 * Opposing changes within a second that the governor lets through. A change that began before the second may go on in it
 * without being counted again: one less than passes leaves room for that.
 */
const MOST_CHANGES = FAILING_CHANGES - 2;
const PROFILE = FLASH_PROFILES.find(({ id }) => id === 'wcag-a')!;
const CELL_DOTS = 8;
/** Parts frames of one time, s. */
const INSTANT_S = 1e-6;
const DOTS = PICTURE_WIDTH * PICTURE_HEIGHT;
/** A picture that changes so many cells is copied once it is admitted, not counted again: a quarter of them. Our choice. */
const LEAST_COPIED_CELLS = DOTS / (CELL_DOTS * CELL_DOTS) / 4;
const LONG_AGO_S = Number.NEGATIVE_INFINITY;

export interface GovernorOptions {
  /** Opposing changes within a second that are let through, of all pictures together. */
  readonly most?: number;
  /** sRGB by code, to govern every dot too. */
  readonly bytes?: Uint8Array;
  /** Pictures of this size that the view may hold parts of at once. */
  readonly pictures?: number;
  /** Share of the published area that these pictures may use: less than 1 where others are governed by themselves. */
  readonly areaShare?: number;
}

/** Where one of the pictures asks. */
export interface GovernedPlace {
  /**
   * Whether this picture may be shown from `timeS` on; if not, the one before stays on the screen. Light by cell, shape
   * `[cell * 3 + primary]`. Without `codes` its dots are taken for black: for pictures whose light can make no change.
   */
  admits(light: Float64Array, timeS: number, codes?: Uint16Array): boolean;
}

/**
 * Stands between pictures and the page: no second of what it admits has more than 6 opposing changes, at a place, at single
 * dots or over the field, of all its pictures together. A frame that would is not shown; what is shown stays, which adds no
 * change. The count is that of WCAG 2.2 with technique G176 at the size at which the pictures are shown, but stricter: the
 * view may lie anywhere over them, so an area counts wherever its parts are, and no pattern is fine enough to be left out.
 * It does not ask where frames come from: steps, scrubbing and playing backwards are frames at times as well.
 */
export class FlashGovernor implements GovernedPlace {
  readonly #most: number;
  readonly #profile: FlashProfile;
  readonly #cells: Tried<FlashAnalyser>;
  /** Dot by dot. */
  readonly #dots: readonly GovernedDots[];
  /** Changes of dots over the field of all pictures, by kind of flash. */
  readonly #fields: readonly Tried<FieldCount>[];
  /** Light of the pictures on the screen, one after another. */
  readonly #light: Float64Array;
  readonly #dark: Uint16Array;
  #timeS = LONG_AGO_S;
  /** Pictures that have asked for this frame. */
  readonly #asked = new Set<number>();

  /** Error: PARAM_RANGE. */
  constructor(size: ShownSize, options: GovernorOptions = {}) {
    const { most = MOST_CHANGES, bytes, pictures = 1, areaShare = 1 } = options;
    this.#most = most;
    this.#profile = governedProfile(size, pictures, areaShare);
    const raster = { width: PICTURE_WIDTH, height: PICTURE_HEIGHT * pictures };
    const cells = new FlashAnalyser({ profile: this.#profile, size, raster, cellDots: CELL_DOTS });
    this.#light = new Float64Array((3 * DOTS * pictures) / (CELL_DOTS * CELL_DOTS));
    // One more colour, black, whatever the others are.
    const colours = Uint8Array.from([...(bytes ?? []), 0, 0, 0]);
    this.#dark = new Uint16Array(DOTS).fill(colours.length / 3 - 1);
    const isByDots = bytes !== undefined && this.#profile.leastShare <= 1;
    const kinds = isByDots ? fineFlashesOf(this.#profile, size, colours) : [];
    // The page’s pictures are black before anything is drawn: what is drawn first changes that.
    cells.push(this.#light, LONG_AGO_S);
    for (const kind of kinds) kind.push(this.#dark, LONG_AGO_S);
    this.#cells = new Tried(cells);
    this.#dots = Array.from({ length: isByDots ? pictures : 0 }, () => ({
      kinds: kinds.map((kind) => new Tried(kind.copy())),
      codes: this.#dark.slice(),
      changed: new Uint8Array(DOTS / (CELL_DOTS * CELL_DOTS)),
    }));
    this.#fields = kinds.map(() => new Tried(new FieldCount(1, this.#profile)));
  }

  /** The place of one of the pictures, from 0. */
  place(picture: number): GovernedPlace {
    return { admits: (light, timeS, codes) => this.#admits(picture, light, timeS, codes) };
  }

  /** Of the first picture. */
  admits(light: Float64Array, timeS: number, codes?: Uint16Array): boolean {
    return this.#admits(0, light, timeS, codes);
  }

  #admits(picture: number, light: Float64Array, askedS: number, codes = this.#dark): boolean {
    // All of it is too small to count.
    if (this.#profile.leastShare > 1) return true;
    const timeS = this.#frameAt(picture, askedS);
    const frame = this.#light.slice();
    frame.set(light, picture * light.length);
    this.#cells.next((cells) => cells.push(frame, timeS));
    const own = this.#dots[picture];
    const changedCells = own === undefined ? 0 : this.#tryDots(own, codes, timeS);
    for (const other of this.#dots)
      if (other !== own) for (const kind of other.kinds) kind.both((dots) => dots.stay(timeS));
    const isAdmitted = this.#cells.now.worstChanges <= this.#most && !this.#isAboveAtDots();
    this.#cells.settle(isAdmitted);
    for (const kind of own?.kinds ?? []) kind.settle(isAdmitted, changedCells >= LEAST_COPIED_CELLS);
    for (const field of this.#fields) field.settle(isAdmitted);
    if (isAdmitted) {
      this.#light.set(frame);
      own?.codes.set(codes);
    }
    return isAdmitted;
  }

  /** Answers in how many cells dots differ from those on the screen. */
  #tryDots({ kinds, codes: before, changed }: GovernedDots, codes: Uint16Array, timeS: number): number {
    const changedCells = markChangedCells(before, codes, CELL_DOTS, changed);
    for (const [k, kind] of kinds.entries()) {
      kind.next((dots) => dots.push(codes, timeS, changed, Number.POSITIVE_INFINITY));
      const changes = inAll(kind.now.turned, this.#dots.length);
      this.#fields[k]!.next((field) => field.count(changes, 0, timeS));
    }
    return changedCells;
  }

  /**
   * Time of the frame that a picture asks for. The clocks of those who ask may differ: time never goes back. A picture that asks
   * again at one time asks for another frame.
   */
  #frameAt(picture: number, askedS: number): number {
    const isAgain = askedS <= this.#timeS && this.#asked.has(picture);
    if (isAgain || askedS > this.#timeS) this.#asked.clear();
    this.#asked.add(picture);
    this.#timeS = isAgain ? this.#timeS + INSTANT_S : Math.max(this.#timeS, askedS);
    return this.#timeS;
  }

  /** Whether dots with too many changes, of all pictures, fill too large a part of the view, or change too often over it. */
  #isAboveAtDots(): boolean {
    if (this.#fields.some(({ now }) => now.worst.changes > this.#most)) return true;
    const kinds = this.#dots[0]?.kinds.length ?? 0;
    for (let kind = 0; kind < kinds; kind++) {
      const dots = this.#dots.reduce((sum, { kinds: of }) => sum + of[kind]!.now.dotsWith(this.#most + 1), 0);
      if (dots > 0 && isLarge(dots / (DOTS * this.#dots.length), this.#profile)) return true;
    }
    return false;
  }
}

/** The dots of one picture. */
interface GovernedDots {
  /** By kind of flash. */
  readonly kinds: readonly Tried<FineFlashes>[];
  /** On the screen. */
  readonly codes: Uint16Array;
  /** Scratch: cells in which they differ from what is tried. */
  readonly changed: Uint8Array;
}

/** Changes of one picture as parts of the area of all. */
const inAll = ({ up, down }: FieldChanges, pictures: number): FieldChanges => {
  const part = ({ most }: ChangedArea): ChangedArea => ({
    most: most / pictures,
    at: () => Float64Array.of(most / pictures),
  });
  return { up: part(up), down: part(down) };
};

/** The profile for pictures of which any parts may be in view: their area takes the place of the block. */
function governedProfile({ scale, pixelAspect }: ShownSize, pictures: number, areaShare: number): FlashProfile {
  const blockPx = PROFILE.block!.width * PROFILE.block!.height;
  const picturesPx = pictures * DOTS * scale * scale * pixelAspect;
  const leastShare = (areaShare * PROFILE.leastShare * blockPx) / picturesPx;
  return { ...PROFILE, block: null, leastShare, finePx: 0 };
}

/** Something that counts pictures, and may be asked what one more would do. */
class Tried<Counter extends { copy(): Counter }> {
  #kept: Counter;
  #now: Counter;
  #step: (counter: Counter) => void = () => {};

  constructor(counter: Counter) {
    this.#kept = counter;
    this.#now = counter.copy();
  }

  /** With the picture that is tried. */
  get now(): Counter {
    return this.#now;
  }

  /** What is no trial. */
  both(step: (counter: Counter) => void): void {
    step(this.#kept);
    step(this.#now);
  }

  next(step: (counter: Counter) => void): void {
    this.#step = step;
    step(this.#now);
  }

  /** The picture is kept, or was never there. `isMuch`: to copy is less work than to count it once more. */
  settle(isKept: boolean, isMuch = false): void {
    if (!isKept) this.#now = this.#kept.copy();
    else if (isMuch) this.#kept = this.#now.copy();
    else this.#step(this.#kept);
  }
}
