import { type Picture, PictureHistory } from '../../picture/picture.ts';
import { PICTURE_HEIGHT, PICTURE_WIDTH } from '../../units/timing.ts';

/** A dot that a picture would have shown. `at` = y * 256 + x. */
export interface MissingDot {
  readonly at: number;
  readonly code: number;
}

/** What the glass is given instead of the console's pictures; plain data. */
export interface Retouch {
  /** Pictures up to this one are black; -1 = none. */
  readonly blackUntil: number;
  /** Pictures from this one on are black; Infinity = none. */
  readonly blackFrom: number;
  /** Dots that are put into a picture, by its index. */
  readonly missing: Readonly<Record<number, readonly MissingDot[]>>;
}

export const NO_RETOUCH: Retouch = { blackUntil: -1, blackFrom: Number.POSITIVE_INFINITY, missing: {} };

/** Colour code of black. */
const BLACK = 0x0f;

/** The history as the light side sees it, with some pictures retouched. The console's own history stays as it is. */
export class RetouchedHistory extends PictureHistory {
  readonly #base: PictureHistory;
  readonly #retouch: Retouch;
  readonly #black = new Uint16Array(PICTURE_WIDTH * PICTURE_HEIGHT).fill(BLACK);
  readonly #made = new Map<number, Picture>();

  constructor(base: PictureHistory, retouch: Retouch) {
    super(0);
    Object.defineProperty(this, 'capacity', { value: base.capacity });
    this.#base = base;
    this.#retouch = retouch;
  }

  override get newest(): number {
    return this.#base.newest;
  }

  override get(index: number): Picture | undefined {
    const picture = this.#base.get(index);
    // The picture in progress is drawn by the console when the light side looks at it.
    this.drawer = this.#base.drawer;
    if (picture === undefined) return undefined;
    const { blackUntil, blackFrom } = this.#retouch;
    if (index <= blackUntil || index >= blackFrom) return { ...picture, codes: this.#black };
    const missing = this.#retouch.missing[index];
    return missing === undefined ? picture : this.#whole(picture, missing);
  }

  /** A view that is brought up to date each time, because the console may still be drawing the picture. */
  #whole(picture: Picture, missing: readonly MissingDot[]): Picture {
    if (picture.index === this.#base.newest) this.#base.drawer?.drawDue();
    let made = this.#made.get(picture.index);
    if (made === undefined) {
      this.#made.clear();
      made = { ...picture, codes: new Uint16Array(picture.codes.length) };
      this.#made.set(picture.index, made);
    }
    made.codes.set(picture.codes);
    for (const { at, code } of missing) made.codes[at] = code;
    return made;
  }
}
