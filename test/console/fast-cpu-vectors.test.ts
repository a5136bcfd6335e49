import { describe, expect, it } from 'vitest';
import { FastBus } from '../../src/console/cpu/fast/fast-bus.ts';
import { FastCpu } from '../../src/console/cpu/fast/fast-cpu.ts';
import { runLoop } from '../../src/console/cpu/fast/fast-cpu-loop.generated.ts';
import type { FastCpuPorts } from '../../src/console/cpu/fast/fast-cpu-ports.ts';
import { PageTable } from '../../src/console/cpu/fast/page-table.ts';
import { ReferenceCpu } from '../../src/console/cpu/reference-cpu.ts';
import { OPCODES } from '../../src/references/opcodes.ts';
import {
  access,
  addressOf,
  byteOf,
  compareAll,
  EXCEPTIONS,
  EXCEPTIONS_AS_IN_THE_SET,
  type Exception,
  expectedCounts,
  isMemoryAsAfter,
  isWrite,
  type Outcome,
  prepareMemory,
  RECORDS,
  SKIP_REASON,
  stateBefore,
  UNSEEN,
  type VectorRecord,
} from './single-step-vectors.ts';

/** Memory behind the claimed pages; keeps accesses by their cycle, and the bus byte that each read was given. */
class VectorPorts implements FastCpuPorts {
  readonly memory = new Uint8Array(0x10000);
  dataBus = 0;
  accesses: number[] = [];
  busBytes: number[] = [];

  read(address: number, cycle: number): number {
    this.busBytes[cycle] = this.dataBus;
    this.dataBus = this.memory[address]!;
    this.#note(access(address, this.dataBus, false), cycle);
    return this.dataBus;
  }

  write(address: number, value: number, cycle: number): void {
    this.#note(access(address, value, true), cycle);
    this.memory[address] = value;
  }

  fetched(): void {}

  hold(): number {
    return 0;
  }

  served(): void {}

  #note(found: number, cycle: number): void {
    if (cycle !== this.accesses.length && this.accesses[cycle] !== undefined) throw new Error(`two in cycle ${cycle}`);
    while (this.accesses.length < cycle) this.accesses.push(UNSEEN);
    this.accesses.push(found);
  }

  forget(): void {
    this.accesses = [];
    this.busBytes = [];
  }
}

/** Which pages are claimed while a record runs; the same for reads and writes but in the zero page. */
type Claims = (record: VectorRecord) => (page: number, isWrite: boolean) => boolean;

const NOTHING: Claims = () => () => false;
const EVERYTHING: Claims = () => () => true;
const ZERO_PAGE_WRITES: Claims = () => (page, isWrite) => page === 0 && isWrite;
/** All but the pages that the loop needs: those of the instruction, of zero page and stack. */
const ALL_THAT_THE_LOOP_CAN_SEE: Claims = (record) => {
  const pc = record.before.registers[0]!;
  const code = new Set([pc, pc + 1, pc + 2].map((address) => (address & 0xffff) >> 8));
  return (page, isWrite) => (page === 0 ? isWrite && !code.has(0) : page > 1 && !code.has(page));
};

interface Counts {
  /** Instructions that the loop ran, by opcode. */
  readonly inLoop: number[];
  /** Reads of claimed pages with a byte on the bus that is not the one of the record's cycle before. */
  wrongBusBytes: number;
  reads: number;
}

/** Runs each record as one instruction, in the loop if it takes it. */
function runner(claims: Claims, unstableStores: 'hardware' | 'vectors', counts: Counts) {
  const ports = new VectorPorts();
  const pages = new PageTable(0x10000);
  const bus = new FastBus(ports.memory, pages, ports);
  bus.core = new ReferenceCpu(bus, { unstableStores });
  let isClaimed: ReturnType<Claims> = () => false;
  return (record: VectorRecord): Outcome => {
    prepareMemory(ports.memory, record);
    isClaimed = claims(record);
    mapPages(pages, isClaimed);
    ports.forget();
    bus.core.load(stateBefore(record));
    bus.setClock(0);
    bus.events.limitCycle = 9; // room for one instruction
    if (bus.beginLoop()) runLoop(bus);
    if (bus.cycle === 0) bus.core.step();
    else counts.inLoop[record.opcode] = (counts.inLoop[record.opcode] ?? 0) + 1;
    while (ports.accesses.length < bus.cycle) ports.accesses.push(UNSEEN);
    judgeBusBytes(ports, record, counts);
    const { pc, s, a, x, y, p } = bus.core;
    const shows = (n: number): boolean => isClaimed(addressOf(n) >> 8, isWrite(n));
    return {
      registers: [pc, s, a, x, y, p],
      isRamEqual: isMemoryAsAfter(ports.memory, record),
      accesses: ports.accesses,
      shows,
    };
  };
}

function mapPages(pages: PageTable, isClaimed: ReturnType<Claims>): void {
  for (let page = 0; page < 0x100; page++) {
    const offset = page * 0x100;
    pages.map(page, isClaimed(page, false) ? -1 : offset, isClaimed(page, true) ? -1 : offset);
  }
}

function judgeBusBytes(ports: VectorPorts, { accesses }: VectorRecord, counts: Counts): void {
  ports.busBytes.forEach((byte, cycle) => {
    if (cycle === 0) return;
    counts.reads++;
    if (byte !== byteOf(accesses[cycle - 1]!)) counts.wrongBusBytes++;
  });
}

/** Left to the reference processor. */
const LEFT = OPCODES.filter(({ mnemonic }) => ['BRK', 'JAM', 'SHA', 'SHX', 'SHY', 'TAS'].includes(mnemonic)).map(
  ({ opcode }) => opcode,
);

function runAll(claims: Claims, unstableStores: 'hardware' | 'vectors', exceptions: readonly Exception[]) {
  const counts: Counts = { inLoop: [], wrongBusBytes: 0, reads: 0 };
  const { records, counts: found, differences } = compareAll(runner(claims, unstableStores, counts), exceptions);
  expect(differences.slice(0, 5)).toEqual([]);
  expect(found).toEqual(expectedCounts(exceptions));
  expect(records).toBe(RECORDS);
  expect(counts.wrongBusBytes).toBe(0);
  return counts;
}

const JUMPS = OPCODES.filter(({ mnemonic }) => ['JMP', 'JSR', 'RTS', 'RTI'].includes(mnemonic)).map(
  ({ opcode }) => opcode,
);

/** Records in the loop of the opcode that came there least often. */
const fewest = ({ inLoop }: Counts, except: readonly number[]): number =>
  Math.min(...OPCODES.map(({ opcode }) => (except.includes(opcode) ? Infinity : (inLoop[opcode] ?? 0))));

describe.skipIf(SKIP_REASON !== '')(`fast processor, open set "65x02" of single-step vectors${SKIP_REASON}`, () => {
  it('nothing claimed: registers, memory and number of cycles; the loop runs all but a few opcodes', () => {
    const counts = runAll(NOTHING, 'hardware', EXCEPTIONS);
    expect(fewest(counts, LEFT)).toBeGreaterThan(180);
    expect(LEFT.some((opcode) => counts.inLoop[opcode] !== undefined)).toBe(false);
  });

  it('data pages claimed: each access in its cycle and the byte on the bus before it, too', () => {
    const counts = runAll(ALL_THAT_THE_LOOP_CAN_SEE, 'hardware', EXCEPTIONS);
    expect(counts.reads).toBeGreaterThan(10_000);
    expect(fewest(counts, [...LEFT, ...JUMPS])).toBeGreaterThan(130); // jumps and branches into claimed pages leave
  });

  it('zero page writes claimed: each of them in its cycle', () => {
    const counts = runAll(ZERO_PAGE_WRITES, 'vectors', EXCEPTIONS_AS_IN_THE_SET);
    expect(fewest(counts, LEFT)).toBeGreaterThan(180);
  });

  it('everything claimed: the whole bus activity', () => {
    const counts = runAll(EVERYTHING, 'hardware', EXCEPTIONS);
    expect(counts.inLoop).toEqual([]);
    expect(counts.reads).toBeGreaterThan(100_000);
  });

  it('everything claimed, through the whole processor: state and cycles as in the reference', () => {
    const ports = new VectorPorts();
    const cpu = new FastCpu(ports.memory, ports, { unstableStores: 'vectors' });
    const run = (record: VectorRecord): Outcome => {
      prepareMemory(ports.memory, record);
      ports.forget();
      cpu.load(stateBefore(record), 0);
      cpu.run(1);
      const { pc, s, a, x, y, p } = cpu.save(false);
      const isRamEqual = isMemoryAsAfter(ports.memory, record);
      return { registers: [pc, s, a, x, y, p], isRamEqual, accesses: ports.accesses, shows: () => true };
    };
    const { counts, differences } = compareAll(run, EXCEPTIONS_AS_IN_THE_SET);
    expect(differences.slice(0, 5)).toEqual([]);
    expect(counts).toEqual(expectedCounts(EXCEPTIONS_AS_IN_THE_SET));
  });
});
