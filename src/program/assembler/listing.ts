import { OPCODES } from '../../references/opcodes.ts';
import type { SourcePlace } from '../source-map.ts';
import type { Assembly, LineRecord } from './assembly.ts';
import { type CodeView, pageCrossing } from './cycle-count.ts';
import type { AssemblyMessage } from './messages.ts';
import type { Origin } from './source-files.ts';
import { makeView } from './stretches.ts';

/** One line of the listing, in the order of assembly. Plain data. */
export interface ListingLine extends SourcePlace {
  /** The source line as it is written. */
  readonly text: string;
  /** Address of its first byte, null when it made none. */
  readonly address: number | null;
  readonly segment: string;
  /** Bytes that it put or reserved. */
  readonly length: number;
  /** The bytes themselves; empty for memory, which is not in the image. */
  readonly bytes: readonly number[];
  /**
   * Cycles of an instruction, else empty. `4` = always; `2/3` = a branch not taken and taken; `4 in` = as long as the index
   * stays inside the data that the operand's label names; `4+1` = one more when the index crosses a page; `4+1!` = that
   * data itself lies in more than one page; `ends` = the processor stops.
   */
  readonly cycles: string;
  /** Files, macros and repetitions around it. */
  readonly depth: number;
  /** Left out by a condition. */
  readonly isSkipped: boolean;
}

const NO_BYTES: readonly number[] = [];

/** Every line that was read. `isGood` = without errors: every operand is known. */
export function makeListing(assembly: Assembly, isGood: boolean): ListingLine[] {
  const view = isGood ? makeView(assembly) : undefined;
  return assembly.records.map((record) => {
    const { origin, segment, offset, length, isSkipped } = record;
    const { file, line, text } = origin.source;
    const bytes = length > 0 && segment.spec.kind === 'rom' ? bytesOf(record) : NO_BYTES;
    return {
      file,
      line,
      text,
      address: length > 0 ? segment.start + offset : null,
      segment: segment.name,
      length,
      bytes,
      cycles: cyclesOf(record, bytes, view),
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

function cyclesOf(record: LineRecord, bytes: readonly number[], view: CodeView | undefined): string {
  if (!record.isInstruction || bytes.length === 0) return '';
  const { cycles, access, pageCross, mnemonic, mode } = OPCODES[bytes[0]!]!;
  const address = record.segment.start + record.offset;
  if (mnemonic === 'JAM') return 'ends';
  if (access === 'branch') {
    const next = address + 2;
    const target = next + ((bytes[1]! ^ 0x80) - 0x80);
    return `${cycles}/${cycles + (next >> 8 === target >> 8 ? 1 : 2)}`;
  }
  if (!pageCross) return `${cycles}`;
  if (view === undefined || mode === 'indirectIndexed') return `${cycles}+1`;
  const { low, high, isInside, isSplit } = pageCrossing(view, address, bytes[1]! | (bytes[2]! << 8), -1);
  if (low === high) return `${cycles + low}${isInside ? ' in' : ''}`;
  return `${cycles}+1${isSplit ? '!' : ''}`;
}

function depthOf(origin: Origin): number {
  let depth = 0;
  for (let at = origin.caller; at !== null; at = at.caller) depth++;
  return depth;
}

const BYTES_A_ROW = 8;
/** Bytes of a line that are all shown; of more bytes the first ones are. */
const MOST_BYTES = 32;
const PLACE = 6;
const BYTES = 31;
const CYCLES = 8;
const MOST_DEPTH = 3;

/**
 * The listing as text: address, bytes, cycles, line number, source. A ">" for each file, macro or repetition around a
 * line; behind a line its messages, with "!" at the beginning.
 */
export function listingText(lines: readonly ListingLine[], messages: readonly AssemblyMessage[] = []): string {
  const head = rowText('addr', 'bytes', 'cycles', `${'line'.padStart(5)}     source`);
  const errors = messages.filter(({ severity }) => severity === 'error').length;
  const rows = errors === 0 ? [head] : [`! not assembled, ${errors} error${errors === 1 ? '' : 's'}`, head];
  const open = [...messages];
  let file = '';
  for (const line of lines) {
    if (line.file !== file) rows.push(`=== ${line.file}`);
    file = line.file;
    rows.push(...rowsOf(line));
    for (const message of open.filter((other) => other.file === line.file && other.line === line.line)) {
      rows.push(noteOf(message));
      open.splice(open.indexOf(message), 1);
    }
  }
  return `${[...rows, ...open.map(noteOf)].join('\n')}\n`;
}

const noteOf = ({ severity, column, message }: AssemblyMessage): string =>
  `! ${severity} in column ${column}: ${message}`;

const rowText = (place: string, bytes: string, cycles: string, source: string): string =>
  `${place.padEnd(PLACE)}${bytes.padEnd(BYTES)}${cycles.padEnd(CYCLES)}${source}`.trimEnd();

function rowsOf({ address, bytes, length, cycles, line, depth, text, isSkipped }: ListingLine): string[] {
  const mark = isSkipped ? '-' : '>'.repeat(Math.min(depth, MOST_DEPTH));
  const source = `${String(line).padStart(5)} ${mark.padEnd(MOST_DEPTH)} ${text}`;
  if (address === null) return [rowText('', '', cycles, source)];
  if (bytes.length === 0)
    return [rowText(hex(address, 4), `(${length} byte${length === 1 ? '' : 's'})`, cycles, source)];
  const count = bytes.length > MOST_BYTES ? BYTES_A_ROW : bytes.length;
  const rest = bytes.length > count ? ` +${bytes.length - count}` : '';
  const rows = [rowText(hex(address, 4), shown(bytes, 0) + rest, cycles, source)];
  for (let i = BYTES_A_ROW; i < count; i += BYTES_A_ROW)
    rows.push(rowText(hex(address + i, 4), shown(bytes, i), '', ''));
  return rows;
}

const shown = (bytes: readonly number[], from: number): string =>
  bytes
    .slice(from, from + BYTES_A_ROW)
    .map((byte) => hex(byte, 2))
    .join(' ');

const hex = (value: number, digits: number): string => value.toString(16).toUpperCase().padStart(digits, '0');
