/** How a line looks. */
export interface LineStyle {
  readonly colour: string;
  readonly width?: number;
  readonly dash?: readonly number[];
}

export interface TextStyle {
  readonly colour: string;
  readonly anchor?: 'start' | 'middle' | 'end';
  readonly isStrong?: boolean;
  readonly isItalic?: boolean;
}

export interface Place {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** What the ruler is drawn with, on a canvas or into a file. Units: CSS pixels. */
export interface Pen {
  fill(place: Place, colour: string, radius?: number): void;
  outline(place: Place, style: LineStyle): void;
  /** Slanting lines all over a place. */
  hatch(place: Place, style: LineStyle): void;
  /** A line through points, `[i * 2 + 0|1]` = x, y. */
  line(points: ArrayLike<number>, style: LineStyle): void;
  /** A shape that is filled and has a rim of the same colour. */
  shape(points: ArrayLike<number>, colour: string, rim: number): void;
  /** 12 px, `y` is the base line. */
  text(x: number, y: number, text: string, style: TextStyle): void;
  /** Draw within a place only. */
  within(place: Place, draw: () => void): void;
}

export const FONT = 'system-ui, sans-serif';
export const FONT_PX = 12;
/** Around a ruler that is saved as a picture, px. */
export const FILE_MARGIN = 16;
const HATCH_STEP = 6;
/** Width of a character over the font's size, on the large side. Measured on a few system fonts. */
const CHARACTER = 0.58;

/** About how wide a text is, px; a file cannot measure it. */
export const textWidth = (text: string): number => text.length * CHARACTER * FONT_PX;

/** The lines of a hatch, each as x, y, x, y; longer than the place. */
export function hatchLines({ x, y, width, height }: Place): number[][] {
  const lines: number[][] = [];
  const first = Math.floor((x - height) / HATCH_STEP) * HATCH_STEP;
  for (let at = first; at < x + width; at += HATCH_STEP) lines.push([at, y + height, at + height, y]);
  return lines;
}
