import { OPCODES } from '../../references/opcodes.ts';
import type { SourcePlace } from '../source-map.ts';
import type { Assembly, LineRecord } from './assembly.ts';
import type { Origin } from './source-files.ts';

/** One line of the listing, in the order of assembly. Plain data. */
export interface ListingLine extends SourcePlace {
  /** The source line as it is written. */
  readonly text: string;
  /** Address of its first byte, null when it made none. */
  readonly address: number | null;
  readonly segment: string;
  readonly bytes: readonly number[];
  /** Cycles of an instruction: `4`, `4+1` with a page crossing, `2/3` for a branch not taken and taken; else empty. */
  readonly cycles: string;
  /** Files, macros and repetitions around it. */
  readonly depth: number;
  /** Left out by a condition. */
  readonly isSkipped: boolean;
}

const SHOWN_BYTES = 8;
const NO_BYTES: readonly number[] = [];

/** Every line that was read. */
export function makeListing({ records }: Assembly): ListingLine[] {
  return records.map((record) => {
    const { origin, segment, offset, length, isSkipped } = record;
    const { file, line, text } = origin.source;
    const bytes = length > 0 && segment.spec.kind === 'rom' ? bytesOf(record) : NO_BYTES;
    return {
      file,
      line,
      text,
      address: length > 0 ? segment.start + offset : null,
      segment: segment.name,
      bytes,
      cycles: cyclesOf(record, bytes),
      depth: depthOf(origin),
      isSkipped,
    };
  });
}

/** Numbers, not a typed array: thousands of small buffers would take longer than the assembly itself. */
function bytesOf({ segment, offset, length }: LineRecord): number[] {
  const bytes: number[] = [];
  const end = Math.min(offset + length, segment.bytes.length);
  for (let i = offset; i < end; i++) bytes.push(segment.bytes[i]!);
  return bytes;
}

function cyclesOf({ isInstruction, segment, offset }: LineRecord, bytes: readonly number[]): string {
  if (!isInstruction || bytes.length === 0) return '';
  const { cycles, access, pageCross, mnemonic } = OPCODES[bytes[0]!]!;
  if (mnemonic === 'JAM') return 'ends';
  if (access !== 'branch') return pageCross ? `${cycles}+1` : `${cycles}`;
  const next = segment.start + offset + 2;
  const target = next + ((bytes[1]! ^ 0x80) - 0x80);
  return `${cycles}/${cycles + (next >> 8 === target >> 8 ? 1 : 2)}`;
}

function depthOf(origin: Origin): number {
  let depth = 0;
  for (let at = origin.caller; at !== null; at = at.caller) depth++;
  return depth;
}

/** The listing as text: address, bytes, cycles, line number, source. A ">" for each file, macro or repetition around a line. */
export function listingText(lines: readonly ListingLine[]): string {
  const rows = [
    `${'addr'.padEnd(6)}${'bytes'.padEnd(SHOWN_BYTES * 3 + 3)}${'cycles'.padEnd(8)}${'line'.padStart(5)}  source`,
  ];
  let file = '';
  for (const line of lines) {
    if (line.file !== file) rows.push(`; ${line.file}`);
    file = line.file;
    rows.push(rowOf(line));
  }
  return `${rows.join('\n')}\n`;
}

function rowOf({ address, bytes, cycles, line, depth, text, isSkipped }: ListingLine): string {
  const place = address === null ? '' : hex(address, 4);
  const shown = bytes
    .slice(0, SHOWN_BYTES)
    .map((byte) => hex(byte, 2))
    .join(' ');
  const more = bytes.length > SHOWN_BYTES ? ' +' : '';
  const mark = isSkipped ? '-' : '>'.repeat(Math.min(depth, 3));
  return `${place.padEnd(6)}${(shown + more).padEnd(SHOWN_BYTES * 3 + 3)}${cycles.padEnd(8)}${String(line).padStart(5)} ${mark.padEnd(1)}${text}`.trimEnd();
}

const hex = (value: number, digits: number): string => value.toString(16).toUpperCase().padStart(digits, '0');
