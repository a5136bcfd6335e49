import type { CpuBus } from './cpu-bus.ts';
import { FLAG_1, FLAG_I, type Registers } from './flags.ts';

/** Bits of `pending` and `polled`. */
const PENDING_NMI = 1;
const PENDING_IRQ = 2;

/**
 * Registers, interrupt latches and bus cycles of the processor: what every instruction is made of.
 *
 *     cycle      | c-1 (last but one) | c (last)  | c+1
 *     access     | ........... endCycle           |
 *     pending    |            ^ set   |           |
 *     polled     |                    ^ = pending |^ decides: next instruction or interrupt
 *
 * Each access copies `pending` to `polled` before it starts, so after an instruction `polled` tells how the lines stood
 * at the end of its last cycle but one, however long a DMA stretched that cycle.
 * Source: hardware documentation wiki, page "CPU interrupts".
 */
export class CpuCore implements Registers {
  /** State at power-on; S becomes $FD through the reset (wiki, page "CPU power up state"). */
  a = 0;
  x = 0;
  y = 0;
  s = 0;
  p = FLAG_1 | FLAG_I;
  pc = 0;
  /** Address of the opcode of the instruction in progress; in an interrupt, of the instruction that it displaced. */
  opcodePc = 0;
  isJammed = false;
  /** Idle reads since the jam, counted to 3 only. */
  idleReads = 0;

  /** The NMI line at the last cycle's end, to see its edge. */
  nmiLine = false;
  /** NMI edge, latched until served; IRQ level of the last cycle's end, masked by the I of that cycle. */
  pending = 0;
  polled = 0;
  /** Cycles ended since this was last set to 0, modulo 2^16: tells a stalled access from an undelayed one. */
  endedCycles = 0;

  /** SHA, SHX, SHY and TAS as in the open single-step vectors instead of as measured. */
  readonly storesLikeVectors: boolean;
  readonly #bus: CpuBus;

  constructor(bus: CpuBus, storesLikeVectors: boolean) {
    this.#bus = bus;
    this.storesLikeVectors = storesLikeVectors;
  }

  /**
   * The bus calls this at the end of every cycle before `fetch`, `read` or `write` returns, once for each cycle in which
   * a DMA holds the processor and once for the access itself. Lines as sampled in that cycle, true = asserted.
   */
  endCycle(nmiLine: boolean, irqLine: boolean): void {
    let pending = this.pending & PENDING_NMI;
    if (nmiLine && !this.nmiLine) pending = PENDING_NMI;
    if (irqLine && (this.p & FLAG_I) === 0) pending |= PENDING_IRQ;
    this.nmiLine = nmiLine;
    this.pending = pending;
    this.endedCycles = (this.endedCycles + 1) & 0xffff;
  }

  fetchOpcode(): number {
    const { pc } = this;
    this.opcodePc = pc;
    this.pc = (pc + 1) & 0xffff;
    this.polled = this.pending;
    return this.#bus.fetch(pc);
  }

  read(address: number): number {
    this.polled = this.pending;
    return this.#bus.read(address);
  }

  write(address: number, value: number): void {
    this.polled = this.pending;
    this.#bus.write(address, value);
  }

  /** Read the byte at PC and advance. */
  readOperand(): number {
    return this.read(this.advance());
  }

  readOperandWord(): number {
    const low = this.readOperand();
    return low | (this.readOperand() << 8);
  }

  /** PC before it moves on by one. */
  advance(): number {
    const { pc } = this;
    this.pc = (pc + 1) & 0xffff;
    return pc;
  }

  push(value: number): void {
    this.write(0x100 | this.s, value);
    this.s = (this.s - 1) & 0xff;
  }

  /** The cycle in which S moves up: the byte under it is read and dropped. */
  readStackTop(): void {
    this.read(0x100 | this.s);
  }

  pull(): number {
    this.s = (this.s + 1) & 0xff;
    return this.read(0x100 | this.s);
  }

  /** Take the latched NMI edge, if there is one; tells whether there was. */
  takeNmi(): boolean {
    const isLatched = (this.pending & PENDING_NMI) !== 0;
    this.pending &= ~PENDING_NMI;
    return isLatched;
  }

  /** Tell the bus whose vector comes next. */
  reportServed(kind: 'nmi' | 'irq'): void {
    this.#bus.served(kind);
  }
}
