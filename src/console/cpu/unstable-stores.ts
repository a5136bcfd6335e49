import type { AddressMode, Mnemonic } from '../../references/opcodes.ts';
import { readPointer, uncorrected } from './address-modes.ts';
import type { CpuCore } from './cpu-core.ts';

/**
 * SHA, SHX, SHY and TAS: the stored byte is ANDed with the high byte of the address + 1, because both meet on one
 * internal bus.
 *
 * As measured ("hardware"): H is the base's high byte; when the index carries, the stored byte also replaces the high
 * byte of the address; a DMA that halts the processor in the cycle before the store drops the AND. Assumed: a halted
 * store across a page takes the stored byte as the address high byte all the same.
 * Source: hardware documentation wiki, page "Programming with unofficial opcodes".
 *
 * In the open single-step vectors ("vectors"): H is the corrected high byte and the address is corrected too.
 */
const SOURCES: Partial<Readonly<Record<Mnemonic, (cpu: CpuCore) => number>>> = {
  SHA: (cpu) => cpu.a & cpu.x,
  SHX: (cpu) => cpu.x,
  SHY: (cpu) => cpu.y,
  TAS: (cpu) => {
    cpu.s = cpu.a & cpu.x;
    return cpu.s;
  },
};

/** The whole instruction after the opcode, or undefined when `mnemonic` is none of the four. */
export function unstableStore(mnemonic: Mnemonic, mode: AddressMode): ((cpu: CpuCore) => void) | undefined {
  const source = SOURCES[mnemonic];
  if (source === undefined) return undefined;
  const isIndirect = mode === 'indirectIndexed';
  const isByX = mode === 'absoluteX';
  return (cpu) => {
    const base = isIndirect ? readPointer(cpu, cpu.readOperand()) : cpu.readOperandWord();
    const address = (base + (isByX ? cpu.x : cpu.y)) & 0xffff;
    const isHalted = isReadStalled(cpu, uncorrected(base, address));
    store(cpu, source(cpu), base, address, isHalted);
  };
}

function isReadStalled(cpu: CpuCore, address: number): boolean {
  cpu.endedCycles = 0;
  cpu.read(address);
  return cpu.endedCycles > 1;
}

function store(cpu: CpuCore, source: number, base: number, address: number, isHalted: boolean): void {
  if (cpu.storesLikeVectors) {
    cpu.write(address, source & ((address >> 8) + 1));
    return;
  }
  const value = isHalted ? source : source & ((base >> 8) + 1);
  const crosses = (base ^ address) > 0xff;
  cpu.write(crosses ? (value << 8) | (address & 0xff) : address, value);
}
