import { existsSync, readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { gunzipSync } from 'node:zlib';
import { FLAG_D } from '../../src/console/cpu/flags.ts';
import { OPCODES } from '../../src/references/opcodes.ts';
import { hex } from './scripted-bus.ts';

/**
 * The open single-step vectors (SingleStepTests "65x02", MIT licence): registers, memory and whole bus activity of 200
 * instructions for each opcode of the plain NMOS 6502. Two-byte fields are big-endian. The data is not part of the
 * repository; `LATELIGHT_DATA` names the folder that holds `cpu-single-step/`.
 */
const FOLDER = process.env['LATELIGHT_DATA'] ?? resolve(import.meta.dirname, '../../../shared/data');
const FILE = resolve(FOLDER, 'cpu-single-step/nmos6502-200-per-opcode.bin.gz');

export const RECORDS = 256 * 200;
const RECORDS_PER_OPCODE = 200;

/** Why the vectors cannot run, to be put into a title; empty when they can. */
export const SKIP_REASON = existsSync(FILE) ? '' : ` (skipped: ${FILE} is missing; LATELIGHT_DATA can name its folder)`;

/** pc, s, a, x, y, p and memory as [address, value] pairs in one flat list. */
interface Snapshot {
  readonly registers: readonly number[];
  readonly ram: readonly number[];
}

export interface VectorRecord {
  readonly name: string;
  readonly opcode: number;
  readonly before: Snapshot;
  readonly after: Snapshot;
  /** One number an access, see `access`. */
  readonly accesses: readonly number[];
}

/** An access as one number: address, value, 1 for a write. */
export const access = (address: number, value: number, isWrite: boolean): number =>
  ((address << 8) | value) * 2 + (isWrite ? 1 : 0);

export const addressOf = (n: number): number => n >> 9;
export const byteOf = (n: number): number => (n >> 1) & 0xff;
export const isWrite = (n: number): boolean => (n & 1) === 1;

/** What stands for a cycle whose access a processor does not show. */
export const UNSEEN = -2;

const show = (n: number): string =>
  n === UNSEEN ? '-' : `${isWrite(n) ? 'W' : 'R'} ${hex(addressOf(n), 4)}=${hex(byteOf(n), 2)}`;

function* readRecords(bytes: Buffer): Generator<VectorRecord> {
  let at = 0;
  const snapshot = (): Snapshot => {
    const registers = [bytes.readUInt16BE(at), ...bytes.subarray(at + 2, at + 7)];
    const ram: number[] = [];
    const count = bytes[at + 7]!;
    at += 8;
    for (let i = 0; i < count; i++, at += 3) ram.push(bytes.readUInt16BE(at), bytes[at + 2]!);
    return { registers, ram };
  };
  for (let index = 0; at < bytes.length; index++) {
    const name = bytes.toString('latin1', at, at + 10).replaceAll('\0', '');
    at += 10;
    const before = snapshot();
    const after = snapshot();
    const count = bytes[at]!;
    const accesses: number[] = [];
    at += 1;
    for (let i = 0; i < count; i++, at += 4) {
      accesses.push(access(bytes.readUInt16BE(at), bytes[at + 2]!, bytes[at + 3] === 0x77));
    }
    yield { name, opcode: Math.floor(index / RECORDS_PER_OPCODE), before, after, accesses };
  }
}

/** What a processor made of a record. */
export interface Outcome {
  readonly registers: readonly number[];
  readonly isRamEqual: boolean;
  /** One number a cycle; UNSEEN where the processor does not show its access. */
  readonly accesses: readonly number[];
  /** Whether the processor must show this access. */
  readonly shows: (access: number) => boolean;
}

const isEqual = (a: readonly number[], b: readonly number[]): boolean =>
  a.length === b.length && a.every((value, i) => value === b[i]);

/** `found` is a stretch of the outcome's accesses. */
const isSameActivity = ({ shows }: Outcome, found: readonly number[], expected: readonly number[]): boolean =>
  isEqual(
    found,
    expected.map((n) => (shows(n) ? n : UNSEEN)),
  );

const isSame = (record: VectorRecord, outcome: Outcome): boolean =>
  isEqual(outcome.registers, record.after.registers) &&
  outcome.isRamEqual &&
  isSameActivity(outcome, outcome.accesses, record.accesses);

const lacksLastRead = (record: VectorRecord, outcome: Outcome): boolean =>
  isEqual(outcome.registers, record.after.registers) &&
  isSameActivity(outcome, outcome.accesses.slice(0, -1), record.accesses) &&
  !isWrite(outcome.accesses.at(-1)!);

/** Does the index carry into the high byte? Taken from the record's own reads: operand or pointer, then the index. */
function crossesPage({ opcode, before, accesses }: VectorRecord): boolean {
  const { mode } = OPCODES[opcode]!;
  const low = byteOf(mode === 'indirectIndexed' ? accesses[2]! : accesses[1]!);
  const index = mode === 'absoluteX' ? before.registers[3]! : before.registers[4]!;
  return low + index > 0xff;
}

/** Where the set departs from published hardware. `holds` = what must still be equal. */
export interface Exception {
  readonly title: string;
  readonly count: number;
  readonly applies: (record: VectorRecord) => boolean;
  readonly holds: (record: VectorRecord, outcome: Outcome) => boolean;
}

const isOneOf = (record: VectorRecord, ...mnemonics: readonly string[]): boolean =>
  mnemonics.includes(OPCODES[record.opcode]!.mnemonic);

const UNSTABLE_STORES: Exception = {
  title: 'SHA SHX SHY TAS across a page: address and value of the store differ',
  count: 517,
  applies: (record) => isOneOf(record, 'SHA', 'SHX', 'SHY', 'TAS') && crossesPage(record),
  holds: (record, outcome) =>
    isEqual(outcome.registers, record.after.registers) &&
    isSameActivity(outcome, outcome.accesses.slice(0, -1), record.accesses.slice(0, -1)),
};

export const EXCEPTIONS: readonly Exception[] = [
  {
    title: '$0C, NOP absolute: the set lacks the operand read (published: 4 cycles)',
    count: 200,
    applies: (record) => record.opcode === 0x0c,
    holds: lacksLastRead,
  },
  {
    title: 'NOP absolute,X across a page: the set lacks the read at the corrected address (published: 5 cycles)',
    count: 622,
    applies: (record) => isOneOf(record, 'NOP') && OPCODES[record.opcode]!.mode === 'absoluteX' && crossesPage(record),
    holds: lacksLastRead,
  },
  UNSTABLE_STORES,
  {
    title: 'JAM: the set stops after three accesses, the processor idles on',
    count: 2400,
    applies: (record) => isOneOf(record, 'JAM'),
    holds: (record, outcome) => record.accesses.length === 3 && isSame(record, outcome),
  },
  {
    title: 'D set on ADC SBC RRA ISC ARR: the set adds in decimal, the console cannot; bus activity only',
    count: 3127,
    applies: (record) =>
      isOneOf(record, 'ADC', 'SBC', 'RRA', 'ISC', 'ARR') && (record.before.registers[5]! & FLAG_D) !== 0,
    holds: (record, outcome) => isSameActivity(outcome, outcome.accesses, record.accesses),
  },
];

/** With unstable stores as in the set, the exception for them falls away. */
export const EXCEPTIONS_AS_IN_THE_SET = EXCEPTIONS.filter((exception) => exception !== UNSTABLE_STORES);

/** Run every record; what is neither equal nor a listed exception is a difference. */
export function compareAll(run: (record: VectorRecord) => Outcome, exceptions: readonly Exception[]) {
  const counts = Object.fromEntries(exceptions.map(({ title }) => [title, 0]));
  const differences: string[] = [];
  let records = 0;
  for (const record of readRecords(gunzipSync(readFileSync(FILE)))) {
    records++;
    const outcome = run(record);
    const exception = exceptions.find(({ applies }) => applies(record));
    if (exception) counts[exception.title]!++;
    if (!(exception ? exception.holds(record, outcome) : isSame(record, outcome))) {
      differences.push(describeDifference(record, outcome));
    }
  }
  return { records, counts, differences };
}

function describeDifference({ name, opcode, after, accesses }: VectorRecord, outcome: Outcome): string {
  const registers = `registers ${outcome.registers} expected ${after.registers}`;
  const bus = `bus ${outcome.accesses.map(show).join(' ')} expected ${accesses.map(show).join(' ')}`;
  return `${hex(opcode, 2)} "${name}": ${registers}; ram ${outcome.isRamEqual}; ${bus}`;
}

export const expectedCounts = (exceptions: readonly Exception[]) =>
  Object.fromEntries(exceptions.map(({ title, count }) => [title, count]));

/** Lay out the record's memory. */
export function prepareMemory(memory: Uint8Array, { before }: VectorRecord): void {
  for (let i = 0; i < before.ram.length; i += 2) memory[before.ram[i]!] = before.ram[i + 1]!;
}

/** The processor's state before the record's instruction. */
export function stateBefore({ before }: VectorRecord) {
  const [pc, s, a, x, y, p] = before.registers as [number, number, number, number, number, number];
  const idle = { opcodePc: 0, jammed: false, idleReads: 0, nmiLine: false, pending: 0, polled: 0 };
  return { pc, s, a, x, y, p, ...idle };
}

export function isMemoryAsAfter(memory: Uint8Array, { after }: VectorRecord): boolean {
  for (let i = 0; i < after.ram.length; i += 2) if (memory[after.ram[i]!] !== after.ram[i + 1]!) return false;
  return true;
}
