import { displayBytes } from '../references/palette.ts';
import { PICTURE_HEIGHT, PICTURE_WIDTH } from '../units/timing.ts';
import { pngFile } from './png.ts';

/** Pictures side by side, so many in a row, with a gap between them. */
const PER_ROW = 4;
const GAP = 8;
/** Grey of the ground, encoded. */
const GROUND = 64;

/** Still pictures one beside another as a PNG file: 4 in a row, by rows, on grey. Codes as a `Picture` has them. */
export function contactSheet(pictures: readonly Uint16Array[], swapsRedGreenEmphasis: boolean): Buffer {
  const colours = displayBytes(swapsRedGreenEmphasis);
  const columns = Math.max(1, Math.min(PER_ROW, pictures.length));
  const rows = Math.max(1, Math.ceil(pictures.length / PER_ROW));
  const width = columns * (PICTURE_WIDTH + GAP) + GAP;
  const height = rows * (PICTURE_HEIGHT + GAP) + GAP;
  const rgb = Buffer.alloc(width * height * 3, GROUND);
  for (const [i, codes] of pictures.entries()) {
    const left = GAP + (i % PER_ROW) * (PICTURE_WIDTH + GAP);
    const top = GAP + Math.floor(i / PER_ROW) * (PICTURE_HEIGHT + GAP);
    for (let at = 0; at < codes.length; at++) {
      const dot = (top + Math.floor(at / PICTURE_WIDTH)) * width + left + (at % PICTURE_WIDTH);
      rgb.set(colours.subarray(codes[at]! * 3, codes[at]! * 3 + 3), dot * 3);
    }
  }
  return pngFile(rgb, width, height);
}
