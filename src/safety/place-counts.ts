/** How many changes each of many places has, and how many places have each count. */
export class PlaceCounts {
  readonly #counts: Uint16Array;
  readonly #placesWith: number[];

  /** `counts`, `placesWith`: those of one that is copied. */
  constructor(places: number, counts = new Uint16Array(places), placesWith = [places]) {
    this.#counts = counts;
    this.#placesWith = placesWith;
  }

  at(place: number): number {
    return this.#counts[place]!;
  }

  /** One change more or less of a place. Answers how many it has then. */
  move(place: number, by: 1 | -1): number {
    const count = this.#counts[place]!;
    this.#placesWith[count]!--;
    this.#placesWith[count + by] = (this.#placesWith[count + by] ?? 0) + 1;
    this.#counts[place] = count + by;
    return count + by;
  }

  /** The same of several places. Answers the largest count that one of them has then. */
  moveAll(places: Int32Array, by: 1 | -1): number {
    let most = 0;
    for (let k = 0; k < places.length; k++) most = Math.max(most, this.move(places[k]!, by));
    return most;
  }

  /** Places with so many changes or more. */
  placesWith(changes: number): number {
    let places = 0;
    for (let count = this.#placesWith.length - 1; count >= changes; count--) places += this.#placesWith[count]!;
    return places;
  }

  /** The largest count. */
  get most(): number {
    let most = this.#placesWith.length - 1;
    while (most > 0 && this.#placesWith[most] === 0) most--;
    return most;
  }

  /** A copy that goes on by itself. */
  copy(): PlaceCounts {
    return new PlaceCounts(this.#counts.length, this.#counts.slice(), [...this.#placesWith]);
  }
}
