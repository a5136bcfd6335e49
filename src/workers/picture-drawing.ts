import type { Picture } from '../picture/picture.ts';
import { displayBytes } from '../references/palette.ts';
import { LINE_COLOUR, OutlinedPlace, RIM_COLOUR } from '../safety/box-outlines.ts';
import { areSamePictures } from '../safety/changed-cells.ts';
import type { ShownSize } from '../safety/flash-analyser.ts';
import { linearOf, luminanceByCode } from '../safety/flash-colour.ts';
import { FlashGovernor, type GovernedPlace } from '../safety/flash-governor.ts';
import { GovernedRendering } from '../safety/governed-rendering.ts';
import { PictureCells } from '../safety/picture-cells.ts';
import { reducedBytes } from '../safety/reduced-colours.ts';
import { boxOf, grown } from '../shot/truth.ts';
import { PICTURE_HEIGHT, PICTURE_WIDTH, type Timing } from '../units/timing.ts';
import type { DrawnPicture, PlayBox, Rendering } from './play.api.ts';

/** Size of a picture on the page where flashes are left out, CSS pixels a line, and what they may change in a second. */
const LARGE = { size: { scale: 1.1875, pixelAspect: 1 }, most: 2 } as const;
/** Size at which every flash is drawn: too small for the area that counts (WCAG 2.2, technique G176). */
const SMALL = { scale: 0.5625, pixelAspect: 1 } as const;
/** A box is bright, what surrounds it dark: share of white. Our choice. */
const BRIGHT = 0.5;
const DARK = 0.2;
const SURROUNDINGS_DOTS = 6;
/** How long an outline stays, ms: a flash of one frame would not be seen. Our choice. */
const OUTLINE_MS = 150;

/** Colours of both tables of codes, one after the other: timings swap two bits of them. */
const TABLES = [false, true].map((swaps) => displayBytes(swaps));
const CODES = TABLES[0]!.length / 3;
/** And those of outlines. */
const ALL_BYTES = Uint8Array.from([...TABLES.flatMap((bytes) => [...bytes]), ...LINE_COLOUR, ...RIM_COLOUR]);
const LINE_CODE = CODES * TABLES.length;
const OUTLINES = {
  line: LINE_CODE,
  rim: LINE_CODE + 1,
  lineLight: [linearOf(LINE_COLOUR[0]), linearOf(LINE_COLOUR[1]), linearOf(LINE_COLOUR[2])],
} as const;
const LEVELS = luminanceByCode(ALL_BYTES);

/**
 * What the page's two pictures draw. One view holds parts of both, so they share what may change in it: an area counts
 * wherever its parts are, and the changes of both are counted as one.
 */
export function drawingPair(timing: Timing): { readonly sent: PictureDrawing; readonly shown: PictureDrawing } {
  const view = new FlashGovernor(LARGE.size, { most: LARGE.most, bytes: ALL_BYTES, pictures: 2 });
  return {
    sent: new PictureDrawing(timing, view.place(0)),
    shown: new PictureDrawing(timing, view.place(1)),
  };
}

/** What is drawn stays. */
const STAYS: DrawnPicture = { dots: null, number: null, outlines: [] };

/** Turns the console's pictures into what one of the page's pictures draws, flashes left out unless they are wanted. */
export class PictureDrawing {
  /** Where large pictures are seen, with their outlines. */
  readonly #place: OutlinedPlace;
  readonly #large: GovernedRendering;
  readonly #small: GovernedRendering;
  #shades: Shades;
  #marginDots = 0;
  #outlines: readonly PlayBox[] = [];
  #outlinedMs = Number.NEGATIVE_INFINITY;
  #timeMs = Number.NEGATIVE_INFINITY;
  /** The picture that was drawn last, its number, and how; undefined: none of this program. */
  #drawnNumber = 0;
  readonly #drawnCodes = new Uint16Array(PICTURE_WIDTH * PICTURE_HEIGHT);
  #drawnAs: Rendering | undefined;

  /** `place`: of a governor that knows of the other pictures; when not given, half of the view is left to them. */
  constructor(timing: Timing, place: GovernedPlace = aloneIn(LARGE.size)) {
    this.#place = new OutlinedPlace(place, OUTLINES);
    this.#large = new GovernedRendering(this.#place, LEVELS);
    this.#small = new GovernedRendering(new FlashGovernor(SMALL, { bytes: ALL_BYTES }));
    this.#shades = shadesOf(timing);
  }

  /** Go on with the pictures of a program that has this timing and this margin around its targets. */
  begin(timing: Timing, marginDots: number): void {
    if (timing.swapsRedGreenEmphasis !== this.#shades.swapsRedGreenEmphasis) this.#shades = shadesOf(timing);
    this.#marginDots = marginDots;
    this.#outlines = [];
    this.#drawnAs = undefined;
  }

  /** A picture that was put out or shown on the way to the one that is drawn: its box must not be missed. */
  look(picture: Picture, timeMs: number): void {
    const boxes = this.#flashingBoxes(picture);
    if (boxes.length === 0) return;
    this.#outlines = boxes;
    this.#outlinedMs = this.#notBefore(timeMs);
  }

  /** `onScreen`: number of the picture on the page; if it is the one that is asked for, it is not drawn again. */
  draw(picture: Picture, rendering: Rendering, askedMs: number, onScreen: number | null = null): DrawnPicture {
    const timeMs = this.#notBefore(askedMs);
    const isDrawn =
      onScreen === this.#drawnNumber && rendering === this.#drawnAs && areSamePictures(picture.codes, this.#drawnCodes);
    if (rendering === 'full') return isDrawn ? STAYS : this.#fullPicture(picture, timeMs);
    this.look(picture, timeMs);
    if (timeMs - this.#outlinedMs > OUTLINE_MS) this.#outlines = [];
    return isDrawn ? this.#stay(timeMs) : this.#governedPicture(picture, rendering, timeMs, this.#outlines);
  }

  #stay(timeMs: number): DrawnPicture {
    this.#large.stay();
    this.#place.want(this.#outlines);
    this.#place.follow(timeMs / 1000);
    return { ...STAYS, outlines: this.#place.shown };
  }

  #fullPicture(picture: Picture, timeMs: number): DrawnPicture {
    const { isDrawn } = this.#small.present(this.#governed(picture), 'full', timeMs / 1000);
    return isDrawn ? this.#drawn(picture, 'full', []) : STAYS;
  }

  /** An instant that is held: its own boxes as outlines; where its dots are not drawn, ask again until they are. */
  hold(picture: Pick<Picture, 'codes' | 'targets'>, timeMs: number): DrawnPicture {
    return this.#governedPicture(picture, 'outline', this.#notBefore(timeMs), this.#flashingBoxes(picture));
  }

  /** Frames of the page and instants that are held are told by clocks that differ a little: none goes back. */
  #notBefore(timeMs: number): number {
    this.#timeMs = Math.max(this.#timeMs, timeMs);
    return this.#timeMs;
  }

  #governed({ codes }: Pick<Picture, 'codes'>) {
    const { cells, reducedCells, swapsRedGreenEmphasis } = this.#shades;
    return {
      light: cells.meansOf(codes),
      reduced: reducedCells.meansOf(codes),
      codes: swapsRedGreenEmphasis ? codes.map((code) => code + CODES) : codes,
    };
  }

  /** Outlines stay as they are where they would change too much too often. */
  #governedPicture(
    picture: Pick<Picture, 'codes'>,
    rendering: 'outline' | 'reduced',
    timeMs: number,
    outlines: readonly PlayBox[],
  ): DrawnPicture {
    this.#place.want(outlines);
    const { isDrawn } = this.#large.present(this.#governed(picture), rendering, timeMs / 1000);
    if (!isDrawn) this.#place.follow(timeMs / 1000);
    const { shown } = this.#place;
    return isDrawn ? this.#drawn(picture, rendering, shown) : { ...STAYS, outlines: shown };
  }

  #drawn({ codes }: Pick<Picture, 'codes'>, rendering: Rendering, outlines: DrawnPicture['outlines']): DrawnPicture {
    const { colours, reducedColours } = this.#shades;
    this.#drawnCodes.set(codes);
    this.#drawnAs = rendering;
    const dots = painted(codes, rendering === 'reduced' ? reducedColours : colours);
    return { dots, number: ++this.#drawnNumber, outlines };
  }

  #flashingBoxes({ codes, targets }: Pick<Picture, 'codes' | 'targets'>): PlayBox[] {
    return targets
      .map((target) => boxOf(target, this.#marginDots))
      .filter((box) => this.#meanOf(codes, box) >= BRIGHT && this.#meanAround(codes, box) <= DARK)
      .map(({ x, y, width, height }) => ({ x, y, width, height }));
  }

  /** Mean of what surrounds a box. */
  #meanAround(codes: Uint16Array, box: PlayBox): number {
    const around = grown(box, SURROUNDINGS_DOTS);
    const [inner, outer] = [box.width * box.height, around.width * around.height];
    return (this.#meanOf(codes, around) * outer - this.#meanOf(codes, box) * inner) / (outer - inner);
  }

  #meanOf(codes: Uint16Array, { x, y, width, height }: PlayBox): number {
    let [sum, count] = [0, 0];
    for (let row = Math.max(0, y); row < Math.min(PICTURE_HEIGHT, y + height); row++) {
      for (let dot = Math.max(0, x); dot < Math.min(PICTURE_WIDTH, x + width); dot++) {
        sum += this.#shades.luminance[codes[row * PICTURE_WIDTH + dot]!]!;
        count++;
      }
    }
    return count === 0 ? 0 : sum / count;
  }
}

const aloneIn = (size: ShownSize): GovernedPlace =>
  new FlashGovernor(size, { most: LARGE.most, bytes: ALL_BYTES, areaShare: 0.5 });

/** How the codes of a picture look; two timings swap two bits of them. */
interface Shades {
  readonly swapsRedGreenEmphasis: boolean;
  readonly colours: Uint32Array;
  readonly reducedColours: Uint32Array;
  readonly cells: PictureCells;
  readonly reducedCells: PictureCells;
  /** Relative luminance by code. */
  readonly luminance: Float64Array;
}

function shadesOf({ swapsRedGreenEmphasis }: Timing): Shades {
  const rgb = displayBytes(swapsRedGreenEmphasis);
  const reduced = reducedBytes(rgb, 'dimmed');
  return {
    swapsRedGreenEmphasis,
    colours: packed(rgb),
    reducedColours: packed(reduced),
    cells: new PictureCells(8, swapsRedGreenEmphasis),
    reducedCells: new PictureCells(8, swapsRedGreenEmphasis, reduced),
    luminance: luminanceByCode(rgb),
  };
}

function painted(codes: Uint16Array, colours: Uint32Array): Uint8ClampedArray<ArrayBuffer> {
  const dots = new Uint32Array(codes.length);
  for (let at = 0; at < codes.length; at++) dots[at] = colours[codes[at]!]!;
  return new Uint8ClampedArray(dots.buffer);
}

/** Bytes R, G, B, 255 of every code in one word, in the order in which this machine keeps them. */
function packed(rgb: Uint8Array): Uint32Array<ArrayBuffer> {
  const bytes = new Uint8Array((rgb.length / 3) * 4);
  for (let code = 0; code * 3 < rgb.length; code++) {
    bytes.set(rgb.subarray(code * 3, code * 3 + 3), code * 4);
    bytes[code * 4 + 3] = 255;
  }
  return new Uint32Array(bytes.buffer);
}
