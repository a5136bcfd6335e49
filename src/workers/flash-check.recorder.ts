import { linearOf } from '../safety/flash-colour.ts';
import { FLASH_PROFILES, type FlashProfile } from '../safety/flash-profile.ts';
import type { StreamVerdict } from '../safety/flash-watch.ts';
import { PICTURE_HEIGHT, PICTURE_WIDTH } from '../units/timing.ts';
import type { FlashStream } from './flash-check.api.ts';
import { joinedVerdicts } from './flash-check.joined.ts';
import {
  CELL_COLUMNS,
  CELL_DOTS,
  CELL_ROWS,
  groundOf,
  type PageColour,
  PageColours,
  PageLayout,
  type PagePicture,
  type PresentedBox,
  type ShownPicture,
} from './flash-check.layout.ts';
import { streamData } from './flash-check.stream.ts';

/** A picture that the page presents. */
export interface PresentedPicture {
  /** Which of the page's pictures it is: a new one of the same name takes its place. */
  readonly surface: string;
  /** Where and how large it is, CSS pixels from an origin that all surfaces share. */
  readonly box: PresentedBox;
  /** From when on, ms; later than or at the same time as what was presented before. */
  readonly timeMs: number;
  /** 256 x 240 dots, 4 bytes each. */
  readonly rgba: Uint8ClampedArray;
  /** Colour of the page around it; black when not given. */
  readonly ground?: PageColour;
}

const CELLS = CELL_COLUMNS * CELL_ROWS;
/** What was presented is kept so long, s: it counts at the new size when sizes change. */
const KEPT_S = 1;
const BLACK: PageColour = [0, 0, 0];
const LINEAR = Float64Array.from({ length: 256 }, (_, byte) => linearOf(byte));

interface Surface {
  box: PresentedBox;
  /** The dots presented now. */
  readonly dots: Uint32Array;
  shown: ShownPicture;
  /** What it showed before all that is kept of it. */
  base: ShownPicture;
  /** Since when it is no longer on the page; what was seen of it counts for a while. */
  goneS: number | undefined;
}

interface Kept {
  readonly surface: string;
  readonly timeS: number;
  readonly shown: ShownPicture;
}

/**
 * Records what a page presents, at its size and speed, and holds it against published limits: the second of the two streams.
 * Several pictures add up where they are close together. Memory does not grow; a picture that changes everywhere costs a few
 * ms.
 */
export class PageFlashRecorder {
  readonly #profiles: readonly FlashProfile[];
  readonly #colours = new PageColours();
  readonly #surfaces = new Map<string, Surface>();
  #layout: PageLayout | undefined;
  #groundColour = BLACK;
  #ground = groundOf(BLACK, this.#colours);
  #kept: Kept[] = [];
  /** Presented, but not counted yet: others may be presented at the same time. */
  #pendingS: number | undefined;
  #fromS: number | undefined;
  #timeS = 0;
  #pictures = 0;
  /** What was found at earlier sizes. */
  #past: StreamVerdict<PagePicture>[] = [];

  /** `profiles`: ids. */
  constructor(profiles: readonly string[] = ['wcag-a']) {
    this.#profiles = FLASH_PROFILES.filter(({ id }) => profiles.includes(id));
  }

  /** The page presents a picture. */
  present({ surface: name, box, timeMs, rgba, ground = BLACK }: PresentedPicture): void {
    this.#goOn(timeMs / 1000);
    this.#standOn(ground);
    this.#fromS ??= this.#timeS;
    this.#pictures++;
    const known = this.#surfaces.get(name);
    const surface = known ?? newSurface(box, this.#ground);
    this.#surfaces.set(name, surface);
    const isPlaced = known !== undefined && isSameBox(known.box, box);
    const shown = this.#taken(surface, rgba, known === undefined || known.goneS !== undefined);
    surface.box = box;
    surface.goneS = undefined;
    if (!isPlaced) this.#layOut();
    this.#show(name, surface, shown);
  }

  /** A picture is no longer on the page from this time on, ms: the ground shows in its place. */
  remove(name: string, timeMs: number): void {
    this.#goOn(timeMs / 1000);
    const surface = this.#surfaces.get(name);
    if (surface === undefined || surface.goneS !== undefined) return;
    surface.goneS = this.#timeS;
    this.#show(name, surface, this.#ground);
  }

  /** What was found so far. */
  report(): FlashStream {
    this.#count();
    const verdicts = joinedVerdicts(this.#past, this.#layout?.verdicts() ?? []);
    const seconds = this.#timeS - (this.#fromS ?? this.#timeS);
    return streamData({
      stream: 'This page',
      watched: `${seconds.toFixed(1)} s, ${this.#pictures} pictures, at the sizes at which they were shown`,
      verdicts,
      stripes: null,
      unit: 'CSS pixels',
      shown: (picture) => picture,
    });
  }

  /** The page around the pictures has this colour from now on. */
  #standOn(colour: PageColour): void {
    if (colour.every((byte, i) => byte === this.#groundColour[i])) return;
    this.#groundColour = colour;
    this.#ground = groundOf(colour, this.#colours);
    if (this.#layout !== undefined) this.#layOut();
  }

  /** Time goes on: what was presented until now is counted, and what has been gone for long is forgotten. */
  #goOn(toS: number): void {
    const timeS = Math.max(this.#timeS, toS);
    if (this.#pendingS !== undefined && timeS > this.#pendingS) this.#count();
    this.#timeS = timeS;
    this.#forget();
    const gone = [...this.#surfaces].filter(([, { goneS }]) => goneS !== undefined && timeS - goneS > KEPT_S);
    for (const [name] of gone) this.#surfaces.delete(name);
    if (gone.length > 0) this.#layOut();
  }

  #show(name: string, surface: Surface, shown: ShownPicture): void {
    if (shown !== surface.shown) this.#kept.push({ surface: name, timeS: this.#timeS, shown });
    surface.shown = shown;
    this.#pendingS = this.#timeS;
  }

  /** The picture that these dots are; the one before where they are the same. */
  #taken(surface: Surface, rgba: Uint8ClampedArray, isFirst: boolean): ShownPicture {
    const next = new Uint32Array(rgba.buffer, rgba.byteOffset, surface.dots.length);
    let taken: ShownPicture | undefined;
    for (let cell = 0; cell < CELLS; cell++) {
      const row = Math.floor(cell / CELL_COLUMNS);
      const first = row * CELL_DOTS * PICTURE_WIDTH + (cell - row * CELL_COLUMNS) * CELL_DOTS;
      if (!isFirst && isSameCell(surface.dots, next, first)) continue;
      taken ??= { light: surface.shown.light.slice(), codes: surface.shown.codes.slice() };
      this.#takeCell(rgba, first, taken, cell);
    }
    if (taken !== undefined) surface.dots.set(next);
    return taken ?? surface.shown;
  }

  #takeCell(rgba: Uint8ClampedArray, first: number, { light, codes }: ShownPicture, cell: number): void {
    let [red, green, blue] = [0, 0, 0];
    for (let line = 0; line < CELL_DOTS; line++) {
      const start = first + line * PICTURE_WIDTH;
      for (let dot = start; dot < start + CELL_DOTS; dot++) {
        const [r, g, b] = [rgba[4 * dot]!, rgba[4 * dot + 1]!, rgba[4 * dot + 2]!];
        red += LINEAR[r]!;
        green += LINEAR[g]!;
        blue += LINEAR[b]!;
        codes[dot] = this.#colours.codeOf(r, g, b);
      }
    }
    const dots = CELL_DOTS * CELL_DOTS;
    light[3 * cell] = red / dots;
    light[3 * cell + 1] = green / dots;
    light[3 * cell + 2] = blue / dots;
  }

  /** Surfaces have come, gone, moved or changed size: what was presented within the last second is counted as they lie now. */
  #layOut(): void {
    const before = this.#layout;
    if (before !== undefined) this.#past = joinedVerdicts(this.#past, before.verdicts());
    this.#layout = undefined;
    if (this.#surfaces.size === 0) return;
    const boxes = new Map([...this.#surfaces].map(([name, { box }]) => [name, box]));
    const layout = new PageLayout(boxes, this.#profiles, this.#ground, before);
    this.#layout = layout;
    const shown = new Map([...this.#surfaces].map(([name, { base }]) => [name, base]));
    this.#kept = this.#kept.filter(({ surface }) => this.#surfaces.has(surface));
    // What stood before: the first of what is kept changed it.
    layout.push(shown, this.#kept[0]?.timeS ?? this.#timeS);
    for (const [i, { surface, timeS, shown: picture }] of this.#kept.entries()) {
      shown.set(surface, picture);
      if (this.#kept[i + 1]?.timeS !== timeS) layout.push(shown, timeS);
    }
  }

  #forget(): void {
    let old = 0;
    for (; old < this.#kept.length && this.#timeS - this.#kept[old]!.timeS > KEPT_S; old++) {
      const { surface, shown } = this.#kept[old]!;
      const one = this.#surfaces.get(surface);
      if (one !== undefined) one.base = shown;
    }
    if (old > 0) this.#kept = this.#kept.slice(old);
  }

  #count(): void {
    if (this.#pendingS === undefined || this.#layout === undefined) return;
    this.#layout.push(new Map([...this.#surfaces].map(([name, { shown }]) => [name, shown])), this.#pendingS);
    this.#pendingS = undefined;
  }
}

const newSurface = (box: PresentedBox, ground: ShownPicture): Surface => ({
  box,
  dots: new Uint32Array(PICTURE_WIDTH * PICTURE_HEIGHT),
  shown: ground,
  base: ground,
  goneS: undefined,
});

const isSameBox = (a: PresentedBox, b: PresentedBox): boolean =>
  a.x === b.x && a.y === b.y && a.width === b.width && a.height === b.height;

function isSameCell(before: Uint32Array, after: Uint32Array, first: number): boolean {
  for (let line = 0; line < CELL_DOTS; line++) {
    const start = first + line * PICTURE_WIDTH;
    for (let at = start; at < start + CELL_DOTS; at++) if (before[at] !== after[at]) return false;
  }
  return true;
}
