import type { Picture, TargetRectangle } from '../picture/picture.ts';
import { PICTURE_HEIGHT, PICTURE_WIDTH } from '../units/timing.ts';
import { latestOf } from './latest.ts';

/** `codes[y * 256 + x]` as in a picture; targets are those of the pictures that are seen. */
export interface StillPicture {
  readonly codes: Uint16Array;
  readonly targets: readonly TargetRectangle[];
}

/** When a dot of a picture comes; ascends from picture to picture and from dot to dot of a line. */
type DotTick = (picture: Picture, line: number, dot: number) => number;

/** Black of the palette. Source: hardware documentation wiki, page "PPU palettes". */
const BLACK_CODE = 0x0f;

/** Each dot from the latest picture of these (oldest first) that has come there by a tick; black where none has. */
export function composedPicture(pictures: readonly Picture[], tick: number, tickOf: DotTick): StillPicture {
  const codes = new Uint16Array(PICTURE_WIDTH * PICTURE_HEIGHT).fill(BLACK_CODE);
  const seen = new Set<Picture>();
  for (let line = 0; line < PICTURE_HEIGHT; line++) {
    let left = 0;
    while (left < PICTURE_WIDTH) {
      const picture = latestOf(pictures, (one) => tickOf(one, line, left) <= tick);
      const right = picture === undefined ? PICTURE_WIDTH : dotsBy(tick, left, (dot) => tickOf(picture, line, dot));
      const from = line * PICTURE_WIDTH;
      if (picture !== undefined) {
        codes.set(picture.codes.subarray(from + left, from + right), from + left);
        seen.add(picture);
      }
      left = right;
    }
  }
  const targets = new Map(
    [...seen].flatMap((picture) => picture.targets.map((one) => [JSON.stringify(one), one] as const)),
  );
  return { codes, targets: [...targets.values()] };
}

/** The first dot right of `left` that has not come by a tick. */
function dotsBy(tick: number, left: number, tickOf: (dot: number) => number): number {
  if (tickOf(PICTURE_WIDTH - 1) <= tick) return PICTURE_WIDTH;
  let dot = left + 1;
  while (tickOf(dot) <= tick) dot++;
  return dot;
}
