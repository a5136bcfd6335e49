/**
 * The sum of some numbers by halves: of the first 2^k, then of the others up to the next power of two, and so on down to
 * pairs. It follows from the numbers alone, and one of them changes at the cost of a few additions.
 */
export class PairwiseSum {
  /** Node n is the sum of the nodes 2n and 2n + 1; the numbers are the last nodes. */
  readonly #nodes: Float64Array;
  readonly #firstLeaf: number;

  constructor(count: number) {
    let leaves = 1;
    while (leaves < count) leaves *= 2;
    this.#firstLeaf = leaves;
    this.#nodes = new Float64Array(2 * leaves);
  }

  get sum(): number {
    return this.#nodes[1]!;
  }

  set(place: number, value: number): void {
    const nodes = this.#nodes;
    let node = this.#firstLeaf + place;
    nodes[node] = value;
    for (node >>= 1; node > 0; node >>= 1) nodes[node] = nodes[2 * node]! + nodes[2 * node + 1]!;
  }
}
