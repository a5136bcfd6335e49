import type { AddressMode } from '../../references/opcodes.ts';
import type { CpuCore } from './cpu-core.ts';

/**
 * From the operand bytes to the address of the operand, with every bus cycle on the way, dummy reads included.
 *
 * `fixesAlways`: a store or read-modify-write reads at the uncorrected address in any case, a read only when the index
 * carries into the high byte. Source: hardware documentation wiki, page "CPU interrupts" and the open single-step
 * vectors (whole bus activity).
 */
export type AddressFunction = (cpu: CpuCore, fixesAlways: boolean) => number;

/** Pointer in page 0; its high byte wraps there too. */
export function readPointer(cpu: CpuCore, at: number): number {
  const low = cpu.read(at);
  return low | (cpu.read((at + 1) & 0xff) << 8);
}

/** The address before the carry of the index reaches the high byte. */
export const uncorrected = (base: number, address: number): number => (base & 0xff00) | (address & 0xff);

function indexed(cpu: CpuCore, base: number, index: number, fixesAlways: boolean): number {
  const address = (base + index) & 0xffff;
  const early = uncorrected(base, address);
  if (fixesAlways || early !== address) cpu.read(early);
  return address;
}

function zeroPageIndexed(cpu: CpuCore, index: number): number {
  const base = cpu.readOperand();
  cpu.read(base);
  return (base + index) & 0xff;
}

function jumpPointer(cpu: CpuCore): number {
  const at = cpu.readOperandWord();
  const low = cpu.read(at);
  // No carry into the pointer's high byte: JMP ($12FF) takes its high byte from $1200 (wiki, page "Errata").
  return low | (cpu.read(uncorrected(at, at + 1)) << 8);
}

export const ADDRESS_FUNCTIONS: Readonly<Record<Exclude<AddressMode, 'implied' | 'accumulator'>, AddressFunction>> = {
  immediate: (cpu) => cpu.advance(),
  relative: (cpu) => cpu.advance(),
  zeroPage: (cpu) => cpu.readOperand(),
  zeroPageX: (cpu) => zeroPageIndexed(cpu, cpu.x),
  zeroPageY: (cpu) => zeroPageIndexed(cpu, cpu.y),
  absolute: (cpu) => cpu.readOperandWord(),
  absoluteX: (cpu, fixesAlways) => indexed(cpu, cpu.readOperandWord(), cpu.x, fixesAlways),
  absoluteY: (cpu, fixesAlways) => indexed(cpu, cpu.readOperandWord(), cpu.y, fixesAlways),
  indirect: jumpPointer,
  indexedIndirect: (cpu) => readPointer(cpu, zeroPageIndexed(cpu, cpu.x)),
  indirectIndexed: (cpu, fixesAlways) => indexed(cpu, readPointer(cpu, cpu.readOperand()), cpu.y, fixesAlways),
};
