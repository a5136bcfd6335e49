import { FONT, FONT_PX, hatchLines, type LineStyle, type Pen, type Place, type TextStyle } from './pen.ts';

/** Draws on a canvas whose unit is a CSS pixel. */
export class CanvasPen implements Pen {
  readonly #context: CanvasRenderingContext2D;

  constructor(context: CanvasRenderingContext2D) {
    this.#context = context;
    context.lineJoin = 'round';
  }

  fill({ x, y, width, height }: Place, colour: string, radius = 0): void {
    this.#context.fillStyle = colour;
    this.#context.beginPath();
    this.#context.roundRect(x, y, width, height, radius);
    this.#context.fill();
  }

  outline({ x, y, width, height }: Place, style: LineStyle): void {
    this.#use(style);
    this.#context.strokeRect(x, y, width, height);
  }

  hatch(place: Place, style: LineStyle): void {
    this.within(place, () => {
      this.#use(style);
      this.#context.beginPath();
      for (const [x1, y1, x2, y2] of hatchLines(place)) {
        this.#context.moveTo(x1!, y1!);
        this.#context.lineTo(x2!, y2!);
      }
      this.#context.stroke();
    });
  }

  line(points: ArrayLike<number>, style: LineStyle): void {
    this.#use(style);
    this.#trace(points);
    this.#context.stroke();
  }

  shape(points: ArrayLike<number>, colour: string, rim: number): void {
    this.#use({ colour, width: rim });
    this.#context.fillStyle = colour;
    this.#trace(points);
    this.#context.closePath();
    this.#context.fill();
    if (rim > 0) this.#context.stroke();
  }

  text(x: number, y: number, text: string, { colour, anchor = 'start', isStrong, isItalic }: TextStyle): void {
    const slant = isItalic === true ? 'italic ' : '';
    const weight = isStrong === true ? '600 ' : '';
    this.#context.font = `${slant}${weight}${FONT_PX}px ${FONT}`;
    this.#context.textAlign = anchor === 'middle' ? 'center' : anchor;
    this.#context.fillStyle = colour;
    this.#context.fillText(text, x, y);
  }

  within({ x, y, width, height }: Place, draw: () => void): void {
    this.#context.save();
    this.#context.beginPath();
    this.#context.rect(x, y, width, height);
    this.#context.clip();
    draw();
    this.#context.restore();
  }

  #use({ colour, width = 1, dash = [] }: LineStyle): void {
    this.#context.strokeStyle = colour;
    this.#context.lineWidth = width;
    this.#context.setLineDash([...dash]);
  }

  #trace(points: ArrayLike<number>): void {
    this.#context.beginPath();
    for (let i = 0; i < points.length; i += 2) this.#context.lineTo(points[i]!, points[i + 1]!);
  }
}
