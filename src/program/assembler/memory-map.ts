import type { Origin } from './source-files.ts';

/**
 * Where the segments of a program lie: one fixed map, the same as homebrew-demo/nrom.cfg says to ld65.
 *
 *   image file   16 bytes HEADER, 32 KiB program (CODE, then RODATA, ... VECTORS), 8 KiB PATTERNS
 *   memory       $0000 ZEROPAGE   $0200 OAM   $0300 BSS   $8000 CODE, RODATA   $FFFA VECTORS
 */
export interface SegmentSpec {
  readonly name: string;
  /** Address of the first byte; null for RODATA, which follows CODE. */
  readonly start: number | null;
  /** Bytes that there is room for. */
  readonly size: number;
  /** `zeroPage` and `ram` only reserve; `rom` goes into the image file. */
  readonly kind: 'zeroPage' | 'ram' | 'rom';
  /** What stands where nothing is said. */
  readonly fill: number;
  /** Whether a program without it cannot run. */
  readonly isNeeded: boolean;
  /** How to add it when it is missing. */
  readonly example: string;
}

export const PROGRAM_START = 0x8000;
export const PROGRAM_BYTES = 0x8000;
export const VECTORS_START = 0xfffa;
export const HEADER_BYTES = 16;
const PATTERN_BYTES = 0x2000;
export const IMAGE_BYTES = HEADER_BYTES + PROGRAM_BYTES + PATTERN_BYTES;

const ROOM_FOR_CODE = VECTORS_START - PROGRAM_START;

const spec = (
  name: string,
  start: number | null,
  size: number,
  kind: SegmentSpec['kind'],
  fill = 0,
  example = '',
): SegmentSpec => ({ name, start, size, kind, fill, isNeeded: example !== '', example });

// biome-ignore format: one row a segment
export const MEMORY_MAP: readonly SegmentSpec[] = [
  spec('HEADER', 0, HEADER_BYTES, 'rom', 0, '.byte $4E, $45, $53, $1A, 2, 1, 0, 8 and eight more bytes of the NES 2.0 header'),
  spec('ZEROPAGE', 0, 0x100, 'zeroPage'),
  spec('OAM', 0x200, 0x100, 'ram'),
  spec('BSS', 0x300, 0x500, 'ram'),
  spec('CODE', PROGRAM_START, ROOM_FOR_CODE, 'rom', 0xff),
  spec('RODATA', null, ROOM_FOR_CODE, 'rom', 0xff),
  spec('VECTORS', VECTORS_START, 6, 'rom', 0xff, '.addr nmi, reset, irq'),
  spec('PATTERNS', 0, PATTERN_BYTES, 'rom', 0, '.res 16, or the tiles of the program'),
];

/** A segment while it is filled. */
export class Segment {
  readonly spec: SegmentSpec;
  /** Address of the first byte; of RODATA it is known when CODE is complete. */
  start: number;
  /** Bytes asked for so far; may exceed what there is room for. */
  length = 0;
  readonly bytes: Uint8Array;
  /** Whether the program has chosen it. */
  isUsed = false;
  /** The line that went over the end. */
  overflow: Origin | null = null;
  /** Alignments asked for: they hold only if the start is known to be aligned too. */
  readonly alignments: { readonly offset: number; readonly to: number; readonly origin: Origin }[] = [];

  constructor(segment: SegmentSpec) {
    this.spec = segment;
    this.start = segment.start ?? 0;
    this.bytes = new Uint8Array(segment.size).fill(segment.fill);
  }

  get name(): string {
    return this.spec.name;
  }

  get isZeroPage(): boolean {
    return this.spec.kind === 'zeroPage';
  }

  /** Put one byte at the end. */
  put(value: number, origin: Origin): void {
    if (this.length < this.bytes.length) this.bytes[this.length] = value;
    else this.overflow ??= origin;
    this.length++;
  }

  /** Leave out `count` bytes, or fill them. */
  reserve(count: number, value: number | undefined, origin: Origin): void {
    const end = this.length + count;
    if (value !== undefined) this.bytes.fill(value, this.length, end);
    this.length = end;
    if (end > this.bytes.length) this.overflow ??= origin;
  }

  /** Write into what was put before. */
  patch(offset: number, value: number): void {
    if (offset < this.bytes.length) this.bytes[offset] = value;
  }
}
