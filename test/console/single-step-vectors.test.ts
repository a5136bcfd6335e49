import { describe, expect, it } from 'vitest';
import type { CpuBus } from '../../src/console/cpu/cpu-bus.ts';
import { ReferenceCpu, type ReferenceCpuOptions } from '../../src/console/cpu/reference-cpu.ts';
import {
  access,
  compareAll,
  EXCEPTIONS,
  EXCEPTIONS_AS_IN_THE_SET,
  expectedCounts,
  isMemoryAsAfter,
  type Outcome,
  prepareMemory,
  RECORDS,
  SKIP_REASON,
  stateBefore,
  type VectorRecord,
} from './single-step-vectors.ts';

class VectorBus implements CpuBus {
  readonly memory = new Uint8Array(0x10000);
  accesses: number[] = [];

  fetch(address: number): number {
    return this.read(address);
  }

  read(address: number): number {
    const value = this.memory[address]!;
    this.accesses.push(access(address, value, false));
    return value;
  }

  write(address: number, value: number): void {
    this.accesses.push(access(address, value, true));
    this.memory[address] = value;
  }

  served(): void {}
}

function runner(options: ReferenceCpuOptions): (record: VectorRecord) => Outcome {
  const bus = new VectorBus();
  const cpu = new ReferenceCpu(bus, options);
  return (record) => {
    prepareMemory(bus.memory, record);
    bus.accesses = [];
    cpu.load(stateBefore(record));
    cpu.step();
    return {
      registers: [cpu.pc, cpu.s, cpu.a, cpu.x, cpu.y, cpu.p],
      isRamEqual: isMemoryAsAfter(bus.memory, record),
      accesses: bus.accesses,
      shows: () => true,
    };
  };
}

describe.skipIf(SKIP_REASON !== '')(`single-step vectors of the NMOS 6502, open set "65x02"${SKIP_REASON}`, () => {
  it('processor as in the console: 51,200 records, five exceptions counted', () => {
    const { records, counts, differences } = compareAll(runner({}), EXCEPTIONS);
    expect(differences.slice(0, 5)).toEqual([]);
    expect(counts).toEqual(expectedCounts(EXCEPTIONS));
    expect(records).toBe(RECORDS);
  });

  it('unstable stores as in the set: the exception for them falls away', () => {
    const run = runner({ unstableStores: 'vectors' });
    const { records, counts, differences } = compareAll(run, EXCEPTIONS_AS_IN_THE_SET);
    expect(differences.slice(0, 5)).toEqual([]);
    expect(counts).toEqual(expectedCounts(EXCEPTIONS_AS_IN_THE_SET));
    expect(records).toBe(RECORDS);
  });
});
