import { LatelightError } from '../errors/latelight-error.ts';
import type { TimingId } from '../units/timing.ts';

/** A cartridge image, taken apart. Sizes in bytes. */
export interface CartridgeImage {
  readonly program: Uint8Array;
  /** Pattern ROM; empty when the cartridge has pattern RAM instead. */
  readonly pattern: Uint8Array;
  readonly patternRamBytes: number;
  readonly workRamBytes: number;
  /** Number of the circuit (the header's board number) and its variant. */
  readonly circuit: number;
  readonly variant: number;
  /** 'vertical' means name tables side by side mirrored vertically (horizontal arrangement is the header's M = 1). */
  readonly mirroring: 'horizontal' | 'vertical';
  /** What the header says; `both` images run on either 60 or 50 Hz. */
  readonly timing: TimingId | 'both';
  /** Default device code of byte 15; 8 = light device on $4017, 9 = one on each port. */
  readonly device: number;
}

const HEADER_BYTES = 16;
const PROGRAM_UNIT = 16 * 1024;
const PATTERN_UNIT = 8 * 1024;
/** Bytes; larger than any image that the circuits can address, and keeps a wrong file from filling memory. */
export const LARGEST_IMAGE = 8 * 1024 * 1024;
const TIMING_OF_CODE: readonly (TimingId | 'both')[] = ['60hz', '50hz', 'both', '50hz-clone'];

/**
 * Read a cartridge image.
 *
 * Accepts the NES 2.0 header, and the older header when its bytes 12..15 are zero.
 * Errors: IMAGE_WRONG_FILE, IMAGE_TRUNCATED, IMAGE_OVERSIZED, IMAGE_UNSUPPORTED.
 * Source: hardware documentation wiki, pages "NES 2.0" and the older header's.
 */
export function parseImage(bytes: Uint8Array): CartridgeImage {
  checkSignature(bytes);
  const isNew = (bytes[7]! & 0x0c) === 0x08;
  if (!isNew) checkOlderHeader(bytes);
  const circuit = (bytes[6]! >> 4) | (bytes[7]! & 0xf0) | (isNew ? (bytes[8]! & 0x0f) << 8 : 0);
  refuseWhatIsNotModelled(bytes, circuit);
  const programBytes = sizeOf(bytes[4]!, isNew ? bytes[9]! & 0x0f : 0, PROGRAM_UNIT, 'program');
  const patternBytes = sizeOf(bytes[5]!, isNew ? bytes[9]! >> 4 : 0, PATTERN_UNIT, 'pattern');
  checkLength(bytes, HEADER_BYTES + programBytes + patternBytes);
  const patternStart = HEADER_BYTES + programBytes;
  return {
    program: bytes.slice(HEADER_BYTES, patternStart),
    pattern: bytes.slice(patternStart, patternStart + patternBytes),
    patternRamBytes: isNew
      ? ramBytes(bytes[11]! & 0x0f) + ramBytes(bytes[11]! >> 4)
      : patternBytes === 0
        ? PATTERN_UNIT
        : 0,
    workRamBytes: isNew
      ? ramBytes(bytes[10]! & 0x0f) + ramBytes(bytes[10]! >> 4)
      : Math.max(bytes[8]!, 1) * PATTERN_UNIT,
    circuit,
    variant: isNew ? bytes[8]! >> 4 : 0,
    mirroring: (bytes[6]! & 1) === 1 ? 'vertical' : 'horizontal',
    timing: isNew ? TIMING_OF_CODE[bytes[12]! & 3]! : (bytes[9]! & 1) === 1 ? '50hz' : '60hz',
    device: isNew ? bytes[15]! & 0x3f : 0,
  };
}

function checkSignature(bytes: Uint8Array): void {
  if (bytes.length === 0) throw new LatelightError('IMAGE_WRONG_FILE', { found: 'an empty file' });
  const found = Array.from(bytes.subarray(0, 4), (byte) => byte.toString(16).toUpperCase().padStart(2, '0')).join(' ');
  if (found !== '4E 45 53 1A') {
    throw new LatelightError('IMAGE_WRONG_FILE', { found: bytes.length < 4 ? `only ${bytes.length} bytes` : found });
  }
  if (bytes.length < HEADER_BYTES) {
    throw new LatelightError('IMAGE_TRUNCATED', { found: bytes.length, expected: `at least ${HEADER_BYTES}` });
  }
}

/** The older layout says nothing in bytes 12..15; anything there means a header that nobody can read for sure. */
function checkOlderHeader(bytes: Uint8Array): void {
  const isClean = (bytes[7]! & 0x0c) === 0 && bytes.subarray(12, 16).every((byte) => byte === 0);
  if (!isClean) {
    throw new LatelightError('IMAGE_UNSUPPORTED', {
      what: `a header that is neither NES 2.0 nor a clean older one (byte 7 is $${bytes[7]!.toString(16).padStart(2, '0')})`,
      expected: 'byte 7 with bits 3..2 = 10 (NES 2.0), or bytes 12 to 15 all zero',
    });
  }
}

function refuseWhatIsNotModelled(bytes: Uint8Array, circuit: number): void {
  if ((bytes[6]! & 0x04) !== 0) {
    throw new LatelightError('IMAGE_UNSUPPORTED', { what: 'a 512-byte trainer', expected: 'an image without one' });
  }
  if ((bytes[6]! & 0x08) !== 0) {
    throw new LatelightError('IMAGE_UNSUPPORTED', {
      what: 'alternative name tables (byte 6, bit 3)',
      expected: 'horizontal or vertical mirroring',
    });
  }
  if (circuit !== 0) {
    throw new LatelightError('IMAGE_UNSUPPORTED', { what: `circuit number ${circuit}`, expected: 'circuit 0 (NROM)' });
  }
}

/** A size field: plain units, or with high nibble $F the form 2^E x (2 M + 1) bytes. */
function sizeOf(low: number, high: number, unit: number, what: string): number {
  if (high !== 0x0f) return (low | (high << 8)) * unit;
  const exponent = low >> 2;
  const multiplier = (low & 3) * 2 + 1;
  if (exponent > 23) {
    throw new LatelightError('IMAGE_UNSUPPORTED', {
      what: `a ${what} size of ${multiplier} x 2^${exponent} bytes`,
      expected: `at most ${LARGEST_IMAGE} bytes`,
    });
  }
  return multiplier * (1 << exponent);
}

const ramBytes = (shift: number): number => (shift === 0 ? 0 : 64 << shift);

function checkLength(bytes: Uint8Array, expected: number): void {
  if (expected > LARGEST_IMAGE) {
    throw new LatelightError('IMAGE_UNSUPPORTED', {
      what: `an image of ${expected} bytes by its header`,
      expected: `at most ${LARGEST_IMAGE} bytes`,
    });
  }
  if (bytes.length < expected) throw new LatelightError('IMAGE_TRUNCATED', { found: bytes.length, expected });
  if (bytes.length > expected) throw new LatelightError('IMAGE_OVERSIZED', { found: bytes.length, expected });
  if (expected === HEADER_BYTES || bytes.length - HEADER_BYTES < PROGRAM_UNIT) {
    throw new LatelightError('IMAGE_UNSUPPORTED', {
      what: 'an image with less than 16 KiB of program',
      expected: '16 or 32 KiB',
    });
  }
}
