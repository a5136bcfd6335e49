import { eachOutlineDot, LINE_COLOUR, RIM_COLOUR } from '../../safety/box-outlines.ts';
import { PICTURE_HEIGHT, PICTURE_WIDTH } from '../../units/timing.ts';
import type { DrawnPicture, PicturesOnScreen, PlayBox } from '../../workers/play.api.ts';
import type { BenchPicture } from '../bench-picture.ts';
import { PAGE_RECORD } from '../page-record.ts';

type PictureName = 'sent' | 'shown';
type Dots = Uint8ClampedArray<ArrayBuffer>;

/** A picture, and the number by which it was told. */
interface Numbered {
  readonly dots: Dots;
  readonly number: number | null;
}

const NAMES: readonly PictureName[] = ['sent', 'shown'];

/** What the console sends and what the glass shows, as the page draws them. */
export class PicturePair {
  readonly #place: (name: PictureName) => BenchPicture | null;
  readonly #changed: () => void;
  readonly #isSmall: () => boolean;
  #wasSmall = false;
  /** The latest of each that was drawn for the large size, whose flashes are left out. */
  readonly #calm = new Map<PictureName, Numbered>();
  /** What each of them shows. */
  readonly #latest = new Map<PictureName, Numbered>();
  /** Where each of them was painted last. */
  readonly #painted = new Map<PictureName, BenchPicture>();
  #outlines: Readonly<Record<PictureName, readonly PlayBox[]>> = { sent: [], shown: [] };
  /** Those that are on the record of the page. */
  readonly #presented = new Set<PictureName>();

  /** `changed` is called when the outlines are others. `isSmall`: the page shows full flashes, small. */
  constructor(place: (name: PictureName) => BenchPicture | null, changed: () => void, isSmall: () => boolean) {
    this.#place = place;
    this.#changed = changed;
    this.#isSmall = isSmall;
  }

  outlines(name: PictureName): readonly PlayBox[] {
    return this.#outlines[name];
  }

  /** What stands where pictures are drawn now. */
  get onScreen(): PicturesOnScreen {
    const numberOf = (name: PictureName): number | null => {
      const place = this.#place(name);
      return place !== null && place === this.#painted.get(name) ? (this.#latest.get(name)?.number ?? null) : null;
    };
    return { sent: numberOf('sent'), shown: numberOf('shown') };
  }

  /** null: what is drawn stays. `isFull`: it was asked for with its flashes, and is left out where the page is large again. */
  paint(name: PictureName, picture: DrawnPicture | null, isFull = false): void {
    this.#forgetGone();
    if (picture === null || (isFull && !this.#isSmall())) return;
    const told = picture.dots === null ? undefined : { dots: picture.dots, number: picture.number };
    if (told !== undefined && !isFull) this.#calm.set(name, told);
    const isOther = JSON.stringify(picture.outlines) !== JSON.stringify(this.#outlines[name]);
    if (isOther) this.#outlines = { ...this.#outlines, [name]: picture.outlines };
    const drawn = told ?? (isOther ? this.#latest.get(name) : undefined);
    if (drawn !== undefined) this.#put(name, drawn);
    if (isOther) this.#changed();
  }

  /** To be called when the page has been drawn: pictures that grow must not keep a flash. */
  settle(): void {
    if (this.#isSmall() === this.#wasSmall) return;
    this.#wasSmall = !this.#wasSmall;
    this.#forgetGone();
    if (this.#wasSmall) return;
    // What was drawn last for this size is what the limit on flashes takes to be on the screen.
    for (const name of NAMES)
      void this.#place(name)?.updateComplete.then(() =>
        this.#put(name, this.#calm.get(name) ?? { dots: blank(), number: null }),
      );
  }

  #put(name: PictureName, picture: Numbered): void {
    const place = this.#place(name);
    if (place === null) return;
    const { dots } = picture;
    place.paint(dots);
    this.#painted.set(name, place);
    this.#latest.set(name, picture);
    PAGE_RECORD.present(place, withOutlines(dots, this.#outlines[name]));
    this.#presented.add(name);
  }

  /** A picture that is no longer on the page is no longer on its record. */
  #forgetGone(): void {
    for (const name of this.#presented) {
      if (this.#place(name) !== null) continue;
      this.#presented.delete(name);
      this.#latest.delete(name);
      PAGE_RECORD.remove(name);
    }
  }
}

/** The dots as they are seen under the outlines. */
function withOutlines(dots: Dots, outlines: readonly PlayBox[]): Dots {
  if (outlines.length === 0) return dots;
  const seen = dots.slice();
  eachOutlineDot(outlines, (dot, isLine) => seen.set(isLine ? LINE_COLOUR : RIM_COLOUR, 4 * dot));
  return seen;
}

/** A canvas before anything was drawn: black. */
function blank(): Dots {
  const dots = new Uint8ClampedArray(4 * PICTURE_WIDTH * PICTURE_HEIGHT);
  for (let alpha = 3; alpha < dots.length; alpha += 4) dots[alpha] = 255;
  return dots;
}
