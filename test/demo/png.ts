import { pngFile } from '../../src/cli/png.ts';
import type { Picture } from '../../src/picture/picture.ts';
import { displayBytes } from '../../src/references/palette.ts';
import { PICTURE_HEIGHT, PICTURE_WIDTH } from '../../src/units/timing.ts';

/** A picture as a PNG file, each dot `scale` by `scale` pixels. */
export function pngOf(
  { codes }: Pick<Picture, 'codes'>,
  scale = 2,
  dots: number = PICTURE_WIDTH,
  lines: number = PICTURE_HEIGHT,
): Buffer {
  const colours = displayBytes(false);
  const [width, height] = [dots * scale, lines * scale];
  const rgb = Buffer.alloc(width * height * 3);
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const code = codes[Math.floor(y / scale) * dots + Math.floor(x / scale)]!;
      rgb.set(colours.subarray(code * 3, code * 3 + 3), (y * width + x) * 3);
    }
  }
  return pngFile(rgb, width, height);
}
