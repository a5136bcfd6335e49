import { chromaticDistance, chromaticity, redRatio, SATURATED_RED } from './flash-colour.ts';

/** Changes of chromaticity count above this. Source: WCAG 2.2, term "general flash and red flash thresholds". */
export const LEAST_DISTANCE = 0.2;
/** Colours remembered since the latest change; of more than this the oldest are forgotten. Our choice. */
const KEPT_COLOURS = 64;

interface Colour {
  readonly uv: readonly [number, number];
  readonly isSaturated: boolean;
  readonly ratio: number;
}

/**
 * Opposing changes to and from saturated red, place by place: into red (+1) and out of it (-1) in turn. Of the colours
 * since the latest change any may be the other side.
 */
export class RedSwings {
  readonly #leastDistance: number;
  #direction: Int8Array;
  #colours: Colour[][];
  /** 1 where one of the colours is saturated. */
  #isRed: Uint8Array;

  /** `countsAnyDistance`: every change to or from saturated red counts, whatever the other colour (BT.1702). */
  constructor(count: number, countsAnyDistance: boolean) {
    this.#leastDistance = countsAnyDistance ? -1 : LEAST_DISTANCE;
    this.#direction = new Int8Array(count);
    this.#colours = Array.from({ length: count }, () => []);
    this.#isRed = new Uint8Array(count);
  }

  /** Linear light, shape `[place * 3 + primary]`, and which places are not as before. `changes[i]` of those: +1, -1 or 0. */
  step(light: Float64Array, changes: Int8Array, changed: Int32Array): void {
    for (const i of changed) {
      const [red, green, blue] = [light[3 * i]!, light[3 * i + 1]!, light[3 * i + 2]!];
      const ratio = redRatio(red, green, blue);
      const isSaturated = ratio >= SATURATED_RED;
      const colour = { uv: chromaticity(red, green, blue), isSaturated, ratio };
      // Without red on either side nothing can count: most pictures cost no more than this.
      changes[i] = isSaturated || this.#isRed[i] === 1 ? this.#stepOne(i, colour) : 0;
      if (changes[i] === 0) remember(this.#colours[i]!, colour);
      else this.#colours[i] = [colour];
      if (isSaturated || this.#isRed[i] === 1) this.#isRed[i] = this.#colours[i]!.some(isRed) ? 1 : 0;
    }
  }

  #stepOne(i: number, colour: Colour): -1 | 0 | 1 {
    const other = this.#colours[i]!.find((one) => this.#differ(one, colour));
    if (other === undefined) return 0;
    const direction = directionOf(other, colour);
    if (direction === this.#direction[i]) return 0;
    this.#direction[i] = direction;
    return direction;
  }

  #differ(a: Colour, b: Colour): boolean {
    if (!a.isSaturated && !b.isSaturated) return false;
    if (this.#leastDistance < 0) return a.isSaturated !== b.isSaturated;
    return chromaticDistance(a.uv, b.uv) > this.#leastDistance;
  }

  /** A copy that goes on by itself. */
  copy(): RedSwings {
    const copy = new RedSwings(0, this.#leastDistance < 0);
    copy.#direction = this.#direction.slice();
    copy.#colours = this.#colours.map((colours) => [...colours]);
    copy.#isRed = this.#isRed.slice();
    return copy;
  }
}

const isRed = ({ isSaturated }: Colour): boolean => isSaturated;

/** Into red, or out of it; between two saturated colours towards the one with more red. */
function directionOf(from: Colour, to: Colour): 1 | -1 {
  if (from.isSaturated !== to.isSaturated) return to.isSaturated ? 1 : -1;
  return to.ratio >= from.ratio ? 1 : -1;
}

function remember(kept: Colour[], colour: Colour): void {
  const latest = kept[kept.length - 1];
  if (latest !== undefined && latest.uv[0] === colour.uv[0] && latest.uv[1] === colour.uv[1]) return;
  if (kept.length === KEPT_COLOURS) kept.shift();
  kept.push(colour);
}
