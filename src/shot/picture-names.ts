import type { Picture, TargetRectangle } from '../picture/picture.ts';
import { LUMINANCE_WEIGHTS, weightedLight } from '../references/palette.ts';
import { PICTURE_HEIGHT, PICTURE_WIDTH, type Timing } from '../units/timing.ts';
import { boxOf, grown, type Rectangle } from './truth.ts';

/** What a picture of a shot is: the scene, a black picture, or one with the box of a target in the dark. */
export type PictureName = 'scene' | 'black' | `box ${string}`;

/** A dot of more light than this is bright, of less than the other dark: share of white. Our choice. */
const BRIGHT = 0.5;
const DARK = 0.02;
/** Bright dots that a box has at least. Our choice: corners may be cut. */
const BOX_SHARE = 0.7;
/** Dots outside the boxes that may be anything in a picture called black: a sprite that stays. Our choice. */
const STRAY_SHARE = 0.01;
/** Dots of a live target that are brighter than the picture's first dot where it is drawn. Our choice: a dim figure. */
const DRAWN_SHARE = 0.25;
const SURROUNDINGS_DOTS = 4;

/** Names of pictures by their own codes and targets. */
export class PictureNaming {
  readonly #light: Float64Array;
  readonly #marginDots: number;

  constructor(timing: Timing, marginDots: number) {
    this.#light = weightedLight(timing.swapsRedGreenEmphasis, LUMINANCE_WEIGHTS);
    this.#marginDots = marginDots;
  }

  /** Targets are counted from 0, as the program counts them. */
  nameOf({ codes, targets }: Picture): PictureName {
    const boxes = targets.map((target) => boxOf(target, this.#marginDots));
    const shown = boxes.flatMap((box, k) => (this.#isBox(codes, box) ? [k] : []));
    if (shown.length > 0) return `box ${shown.join(', ')}`;
    const isLit = (light: number): boolean => light > DARK;
    const ground = this.#light[codes[0]!]!;
    const isDrawn = (target: TargetRectangle): boolean =>
      target.isLive && this.#shareOf(codes, target, (light) => light > ground) >= DRAWN_SHARE;
    return this.#shareOf(codes, WHOLE, isLit) <= STRAY_SHARE && !targets.some(isDrawn) ? 'black' : 'scene';
  }

  #isBox(codes: Uint16Array, box: Rectangle): boolean {
    if (this.#shareOf(codes, box, (light) => light >= BRIGHT) < BOX_SHARE) return false;
    const around = grown(box, SURROUNDINGS_DOTS);
    const [inner, outer] = [countOf(box), countOf(around)];
    const isLit = (light: number): boolean => light > DARK;
    const lit = this.#shareOf(codes, around, isLit) * outer - this.#shareOf(codes, box, isLit) * inner;
    return outer > inner && lit / (outer - inner) < 1 - BOX_SHARE;
  }

  /** Share of the rectangle's dots on the screen of which something holds; 0 off the screen. */
  #shareOf(codes: Uint16Array, rectangle: Rectangle, holds: (light: number) => boolean): number {
    const { left, right, top, bottom } = onScreen(rectangle);
    let count = 0;
    for (let y = top; y < bottom; y++)
      for (let x = left; x < right; x++) if (holds(this.#light[codes[y * PICTURE_WIDTH + x]!]!)) count++;
    const all = countOf(rectangle);
    return all === 0 ? 0 : count / all;
  }
}

const WHOLE: Rectangle = { x: 0, y: 0, width: PICTURE_WIDTH, height: PICTURE_HEIGHT };

function onScreen({ x, y, width, height }: Rectangle) {
  const within = (at: number, size: number): number => Math.max(0, Math.min(size, Math.round(at)));
  return {
    left: within(x, PICTURE_WIDTH),
    right: within(x + width, PICTURE_WIDTH),
    top: within(y, PICTURE_HEIGHT),
    bottom: within(y + height, PICTURE_HEIGHT),
  };
}

function countOf(rectangle: Rectangle): number {
  const { left, right, top, bottom } = onScreen(rectangle);
  return Math.max(0, right - left) * Math.max(0, bottom - top);
}
