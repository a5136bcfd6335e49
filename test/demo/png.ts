import { deflateSync } from 'node:zlib';
import type { Picture } from '../../src/picture/picture.ts';
import { displayBytes } from '../../src/references/palette.ts';
import { PICTURE_HEIGHT, PICTURE_WIDTH } from '../../src/units/timing.ts';

/** Source: W3C PNG specification, section "CRC algorithm". */
function crc32(bytes: Uint8Array): number {
  let crc = 0xffffffff;
  for (const byte of bytes) {
    crc ^= byte;
    for (let bit = 0; bit < 8; bit++) crc = (crc >>> 1) ^ ((crc & 1) === 1 ? 0xedb88320 : 0);
  }
  return (crc ^ 0xffffffff) >>> 0;
}

function chunk(name: string, data: Uint8Array): Buffer {
  const body = Buffer.concat([Buffer.from(name, 'latin1'), data]);
  const length = Buffer.alloc(4);
  length.writeUInt32BE(data.length);
  const crc = Buffer.alloc(4);
  crc.writeUInt32BE(crc32(body));
  return Buffer.concat([length, body, crc]);
}

/** A picture as a PNG file, each dot `scale` by `scale` pixels. */
export function pngOf(
  { codes }: Pick<Picture, 'codes'>,
  scale = 2,
  dots: number = PICTURE_WIDTH,
  lines: number = PICTURE_HEIGHT,
): Buffer {
  const colours = displayBytes(false);
  const [width, height] = [dots * scale, lines * scale];
  const rows = Buffer.alloc(height * (1 + width * 3));
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const code = codes[Math.floor(y / scale) * dots + Math.floor(x / scale)]!;
      rows.set(colours.subarray(code * 3, code * 3 + 3), y * (1 + width * 3) + 1 + x * 3);
    }
  }
  const header = Buffer.alloc(13);
  header.writeUInt32BE(width, 0);
  header.writeUInt32BE(height, 4);
  header.set([8, 2, 0, 0, 0], 8);
  const signature = Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]);
  return Buffer.concat([
    signature,
    chunk('IHDR', header),
    chunk('IDAT', deflateSync(rows)),
    chunk('IEND', new Uint8Array(0)),
  ]);
}
