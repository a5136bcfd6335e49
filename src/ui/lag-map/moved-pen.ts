import type { LineStyle, Pen, Place, TextStyle } from '../ruler/pen.ts';

/** Draws with another pen, everything so much further down and to the right. */
export class MovedPen implements Pen {
  readonly #pen: Pen;
  readonly #x: number;
  readonly #y: number;

  constructor(pen: Pen, x: number, y: number) {
    this.#pen = pen;
    this.#x = x;
    this.#y = y;
  }

  fill(place: Place, colour: string, radius?: number): void {
    this.#pen.fill(this.#moved(place), colour, radius);
  }

  outline(place: Place, style: LineStyle): void {
    this.#pen.outline(this.#moved(place), style);
  }

  hatch(place: Place, style: LineStyle): void {
    this.#pen.hatch(this.#moved(place), style);
  }

  line(points: ArrayLike<number>, style: LineStyle): void {
    this.#pen.line(this.#movedPoints(points), style);
  }

  shape(points: ArrayLike<number>, colour: string, rim: number): void {
    this.#pen.shape(this.#movedPoints(points), colour, rim);
  }

  text(x: number, y: number, text: string, style: TextStyle): void {
    this.#pen.text(x + this.#x, y + this.#y, text, style);
  }

  within(place: Place, draw: () => void): void {
    this.#pen.within(this.#moved(place), draw);
  }

  #moved({ x, y, width, height }: Place): Place {
    return { x: x + this.#x, y: y + this.#y, width, height };
  }

  #movedPoints(points: ArrayLike<number>): number[] {
    return Array.from(points, (value, i) => value + (i % 2 === 0 ? this.#x : this.#y));
  }
}
