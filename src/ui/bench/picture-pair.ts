import type { DrawnPicture, PlayBox } from '../../workers/play.api.ts';
import type { BenchPicture } from '../bench-picture.ts';
import { PAGE_RECORD } from '../page-record.ts';

type PictureName = 'sent' | 'shown';

/** What the console sends and what the glass shows, as the page draws them. */
export class PicturePair {
  readonly #place: (name: PictureName) => BenchPicture | null;
  readonly #changed: () => void;
  #outlines: Readonly<Record<PictureName, readonly PlayBox[]>> = { sent: [], shown: [] };
  /** Those that are on the record of the page. */
  readonly #presented = new Set<PictureName>();

  /** `changed` is called when the outlines are others. */
  constructor(place: (name: PictureName) => BenchPicture | null, changed: () => void) {
    this.#place = place;
    this.#changed = changed;
  }

  outlines(name: PictureName): readonly PlayBox[] {
    return this.#outlines[name];
  }

  /** null: what is drawn stays. */
  paint(name: PictureName, picture: DrawnPicture | null): void {
    this.#forgetGone();
    if (picture === null) return;
    const place = this.#place(name);
    if (picture.dots !== null && place !== null) {
      place.paint(picture.dots);
      PAGE_RECORD.present(place, picture.dots);
      this.#presented.add(name);
    }
    if (JSON.stringify(picture.outlines) === JSON.stringify(this.#outlines[name])) return;
    this.#outlines = { ...this.#outlines, [name]: picture.outlines };
    this.#changed();
  }

  /** A picture that is no longer on the page is no longer on its record. */
  #forgetGone(): void {
    for (const name of this.#presented) {
      if (this.#place(name) !== null) continue;
      this.#presented.delete(name);
      PAGE_RECORD.remove(name);
    }
  }
}
