import type { ChangedDots, DotSwings } from './dot-swings.ts';
import { chromaticDistance, chromaticity, redRatio, SATURATED_RED } from './flash-colour.ts';
import { LEAST_DISTANCE } from './red-swings.ts';

/** Classes of saturated reds; the console's colours have 34. If there are more, the rest share the last one and count too often. */
const MOST_CLASSES = 64;
const WORD_BITS = 32;

/** What the red test asks of the colours that codes stand for. */
export interface RedCodes {
  /** 1 where red is saturated. */
  readonly isRed: Uint8Array;
  /**
   * Of a saturated red its own class, of another colour the classes that are so far from it that a change counts: a bit each.
   * Shape: `[code * 2 + word]`.
   */
  readonly classes: Uint32Array;
}

/**
 * Two reds are of one class where no other colour of the table tells them apart. A change always has a saturated red on one
 * side only: no two of them are as far apart as the test asks (the corners of their triangle are 0.14 apart).
 *
 * `light`: linear, shape `[code * 3 + primary]`.
 */
export function redCodesOf(light: Float64Array): RedCodes {
  const { colours, colourOf } = coloursOf(light);
  const isRed = Uint8Array.from(colours, (colour) => (redRatio(...colour) >= SATURATED_RED ? 1 : 0));
  const classes = classesOf(
    colours.map((colour) => chromaticity(...colour)),
    isRed,
  );
  return {
    isRed: Uint8Array.from(colourOf, (colour) => isRed[colour]!),
    classes: Uint32Array.from({ length: 2 * colourOf.length }, (_, at) => classes[2 * colourOf[at >> 1]! + (at & 1)]!),
  };
}

type Colour = readonly [red: number, green: number, blue: number];

/** The different colours of a table, and which of them each code has. */
function coloursOf(light: Float64Array): { readonly colours: readonly Colour[]; readonly colourOf: Uint16Array } {
  const colours: Colour[] = [];
  const known = new Map<string, number>();
  const colourOf = Uint16Array.from({ length: light.length / 3 }, (_, code) => {
    const colour: Colour = [light[3 * code]!, light[3 * code + 1]!, light[3 * code + 2]!];
    const key = colour.join(' ');
    const number = known.get(key) ?? colours.push(colour) - 1;
    known.set(key, number);
    return number;
  });
  return { colours, colourOf };
}

/** Classes of colours, as `RedCodes` has them of codes. */
function classesOf(chromaticities: readonly (readonly [u: number, v: number])[], isRed: Uint8Array): Uint32Array {
  const classes = new Uint32Array(2 * isRed.length);
  const known: Uint8Array[] = [];
  for (let red = 0; red < isRed.length; red++) {
    if (isRed[red] === 0) continue;
    const isFar = isRed.map((isOtherRed, other) =>
      isOtherRed === 0 && chromaticDistance(chromaticities[other]!, chromaticities[red]!) > LEAST_DISTANCE ? 1 : 0,
    );
    const same = known.findIndex((one) => one.every((far, other) => far === isFar[other]));
    const number = Math.min(same === -1 ? known.push(isFar) - 1 : same, MOST_CLASSES - 1);
    for (let one = 0; one < isRed.length; one++)
      if (isFar[one] === 1 || one === red)
        classes[2 * one + Math.floor(number / WORD_BITS)]! |= 1 << (number % WORD_BITS);
  }
  return classes;
}

/**
 * Opposing changes to and from saturated red dot by dot: as `RedSwings` counts them, but of all the colours since the latest
 * change only those are kept that can be the other side of the next one.
 */
export class RedDots implements DotSwings {
  readonly #codes: RedCodes;
  readonly #direction: Int8Array;
  /** Classes that the dot's other colours are far from, and classes of its reds, since the latest change. Shape: `[dot * 2 + word]`. */
  readonly #far: Uint32Array;
  readonly #reds: Uint32Array;

  constructor(dots: number, codes: RedCodes) {
    this.#codes = codes;
    this.#direction = new Int8Array(dots);
    this.#far = new Uint32Array(2 * dots);
    this.#reds = new Uint32Array(2 * dots);
  }

  begin(codes: Uint16Array): void {
    for (let dot = 0; dot < this.#direction.length; dot++) {
      const code = codes[dot]!;
      this.#remember(this.#codes.isRed[code] === 1 ? this.#reds : this.#far, dot, code);
    }
  }

  step(codes: Uint16Array, _timeS: number, { dots, count }: ChangedDots, turned: Int32Array): number {
    let found = 0;
    for (let i = 0; i < count; i++) {
      const dot = dots[i]!;
      if (this.#stepOne(dot, codes[dot]!)) turned[found++] = dot;
    }
    return found;
  }

  #stepOne(dot: number, code: number): boolean {
    const direction = this.#direction[dot]!;
    if (this.#codes.isRed[code] === 1) {
      if (direction <= 0 && this.#meets(this.#far, dot, code)) return this.#turn(1, this.#reds, dot, code);
      this.#remember(this.#reds, dot, code);
      return false;
    }
    if (direction >= 0 && this.#meets(this.#reds, dot, code)) return this.#turn(-1, this.#far, dot, code);
    this.#remember(this.#far, dot, code);
    return false;
  }

  #meets(seen: Uint32Array, dot: number, code: number): boolean {
    const { classes } = this.#codes;
    return (seen[2 * dot]! & classes[2 * code]!) !== 0 || (seen[2 * dot + 1]! & classes[2 * code + 1]!) !== 0;
  }

  #remember(seen: Uint32Array, dot: number, code: number): void {
    seen[2 * dot]! |= this.#codes.classes[2 * code]!;
    seen[2 * dot + 1]! |= this.#codes.classes[2 * code + 1]!;
  }

  #turn(direction: 1 | -1, side: Uint32Array, dot: number, code: number): true {
    this.#direction[dot] = direction;
    this.#far.fill(0, 2 * dot, 2 * dot + 2);
    this.#reds.fill(0, 2 * dot, 2 * dot + 2);
    this.#remember(side, dot, code);
    return true;
  }

  hold(): void {}

  directionAt(dot: number): number {
    return this.#direction[dot]!;
  }

  copy(): RedDots {
    const copy = new RedDots(this.#direction.length, this.#codes);
    copy.#direction.set(this.#direction);
    copy.#far.set(this.#far);
    copy.#reds.set(this.#reds);
    return copy;
  }
}
