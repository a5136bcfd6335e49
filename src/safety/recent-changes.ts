/** Length of the window, s, closed at both ends. Source: WCAG 2.2, "any one second period". */
export const WINDOW_S = 1;
/** Changes a place that are kept: in a second of the console's 61 frames a field may change twice in each. */
const KEPT = 128;
const SLACK = 1e-9;

/** Times of the latest changes of many places; counts those within the last second. */
export class RecentChanges {
  readonly #times: Float64Array;
  readonly #first: Uint8Array;
  readonly #count: Uint8Array;

  constructor(places: number) {
    this.#times = new Float64Array(places * KEPT);
    this.#first = new Uint8Array(places);
    this.#count = new Uint8Array(places);
  }

  /** A change of a place; times ascend. */
  add(place: number, timeS: number): void {
    if (this.#count[place] === KEPT) this.#forgetOldest(place);
    this.#times[place * KEPT + ((this.#first[place]! + this.#count[place]!) % KEPT)] = timeS;
    this.#count[place]!++;
  }

  /** Changes of a place in the second that ends now. */
  countAt(place: number, nowS: number): number {
    while (this.#count[place]! > 0 && nowS - this.#oldest(place) > WINDOW_S + SLACK) this.#forgetOldest(place);
    return this.#count[place]!;
  }

  /** Time of the first of them. */
  #oldest(place: number): number {
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
    copy.#first.set(this.#first);
    copy.#count.set(this.#count);
    return copy;
  }
}
