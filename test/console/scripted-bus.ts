import type { CpuBus } from '../../src/console/cpu/cpu-bus.ts';
import { ReferenceCpu, type ReferenceCpuOptions } from '../../src/console/cpu/reference-cpu.ts';

/** A line is asserted in a cycle; cycles count from 0 at the bus's making. */
type Line = (cycle: number) => boolean;

/**
 * 64 KiB of plain memory that writes down every access, with interrupt lines and stalls that follow a script.
 *
 * Notation of the log: `F 8000` opcode, `R 0010` other read, `W 01FD=80` write, `nmi` or `irq` served.
 */
export class ScriptedBus implements CpuBus {
  readonly memory = new Uint8Array(0x10000);
  readonly log: string[] = [];
  readonly cpu: ReferenceCpu;
  /** Cycles ended so far. */
  cycle = 0;
  nmi: Line = () => false;
  irq: Line = () => false;
  /** Cycles for which a DMA holds the read that starts in `cycle` at `address`. */
  stall: (cycle: number, address: number) => number = () => 0;

  constructor(options: ReferenceCpuOptions = {}) {
    this.cpu = new ReferenceCpu(this, options);
  }

  fetch(address: number): number {
    return this.#answer('F', address);
  }

  read(address: number): number {
    return this.#answer('R', address);
  }

  write(address: number, value: number): void {
    this.log.push(`W ${hex(address, 4)}=${hex(value, 2)}`);
    this.memory[address] = value;
    this.#endCycle();
  }

  served(kind: 'nmi' | 'irq'): void {
    this.log.push(kind);
  }

  /** Put bytes into memory; they may be given as text, `A9 01`. */
  place(address: number, bytes: string): void {
    this.memory.set(
      bytes.split(' ').map((byte) => Number.parseInt(byte, 16)),
      address,
    );
  }

  #answer(kind: string, address: number): number {
    for (let held = this.stall(this.cycle, address); held > 0; held--) this.#endCycle();
    this.log.push(`${kind} ${hex(address, 4)}`);
    const value = this.memory[address]!;
    this.#endCycle();
    return value;
  }

  #endCycle(): void {
    this.cpu.endCycle(this.nmi(this.cycle), this.irq(this.cycle));
    this.cycle++;
  }
}

/** Upper-case hexadecimal of a fixed width. */
export const hex = (value: number, digits: number): string => value.toString(16).toUpperCase().padStart(digits, '0');
