/** Length of the window, s, closed at both ends. Source: WCAG 2.2, "any one second period". */
export const WINDOW_S = 1;
/** Changes a place that are kept: in a second of the console's 61 frames a field may change twice in each. */
const KEPT = 128;
const SLACK = 1e-9;
/** All of a place. */
export const WHOLE = 64;

/** Times of the latest changes of many places; counts those within the last second. */
export class RecentChanges {
  readonly #times: Float64Array;
  /** The part of the place that each was of, of 64. */
  readonly #parts: Uint8Array;
  readonly #first: Uint8Array;
  readonly #count: Uint8Array;
  /** How many of a place's changes were of each part. */
  readonly #scratch = new Uint8Array(WHOLE + 1);

  constructor(places: number) {
    this.#times = new Float64Array(places * KEPT);
    this.#parts = new Uint8Array(places * KEPT);
    this.#first = new Uint8Array(places);
    this.#count = new Uint8Array(places);
  }

  /** A change of a place, or of a part of it, of 64; times ascend. */
  add(place: number, timeS: number, part = WHOLE): void {
    if (this.#count[place] === KEPT) this.#forgetOldest(place);
    const at = place * KEPT + ((this.#first[place]! + this.#count[place]!) % KEPT);
    this.#times[at] = timeS;
    this.#parts[at] = part;
    this.#count[place]!++;
  }

  /** Changes of a place in the second that ends now. */
  countAt(place: number, nowS: number): number {
    while (this.#count[place]! > 0 && nowS - this.oldestS(place) > WINDOW_S + SLACK) this.#forgetOldest(place);
    return this.#count[place]!;
  }

  /** The largest part of a place that can have made so many of the changes that were counted last, of 64: the least of the largest so many. */
  partWith(place: number, changes: number): number {
    const kept = this.#count[place]!;
    const parts = this.#scratch;
    parts.fill(0);
    for (let k = 0; k < kept; k++) parts[this.#parts[place * KEPT + ((this.#first[place]! + k) % KEPT)]!]!++;
    let [part, left] = [WHOLE, changes - parts[WHOLE]!];
    while (left > 0 && part > 0) left -= parts[--part]!;
    return part;
  }

  /** Time of the first of the changes of a place that are kept; there is one. */
  oldestS(place: number): number {
    return this.#times[place * KEPT + this.#first[place]!]!;
  }

  #forgetOldest(place: number): void {
    this.#first[place] = (this.#first[place]! + 1) % KEPT;
    this.#count[place]!--;
  }

  /** A copy that goes on by itself. */
  copy(): RecentChanges {
    const copy = new RecentChanges(this.#count.length);
    copy.#times.set(this.#times);
    copy.#parts.set(this.#parts);
    copy.#first.set(this.#first);
    copy.#count.set(this.#count);
    return copy;
  }
}
