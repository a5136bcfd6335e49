import type { CpuBus } from '../cpu-bus.ts';
import { FLAG_I } from '../flags.ts';
import type { ReferenceCpu } from '../reference-cpu.ts';
import type { CpuEvents, FastCpuPorts } from './fast-cpu-ports.ts';
import type { LoopSkipper } from './loop-skipper.ts';
import type { PageTable } from './page-table.ts';
import type { SteadyPorts } from './steady-ports.ts';

const PENDING_NMI = 1;
const PENDING_IRQ = 2;

/** Cycles of the longest instruction. */
const LONGEST = 8;
/** Largest number of cycles that the loop counts before it starts again from 0. */
const LONGEST_STRETCH = 0x2000_0000;

/** Skips waiting loops, and carries out the reads in them. */
export interface Skipping {
  readonly skipper: LoopSkipper;
  readonly ports: SteadyPorts;
}

/**
 * Memory, claimed pages and interrupt lines as the two halves of the fast processor see them.
 *
 * The reference processor comes through `CpuBus`, an access and a cycle a call. The loop comes through the methods below
 * it, only for accesses that meet a claimed page, with the cycle counted from `origin`. In the loop no interrupt is
 * pending when an instruction starts, and none can become so before it ends, but by an access to a claimed page.
 */
export class FastBus implements CpuBus {
  readonly memory: Uint8Array;
  readonly pages: PageTable;
  readonly events: CpuEvents = { nmiCycle: Infinity, irqCycle: Infinity, limitCycle: 0, holdCycle: Infinity };
  /** Set once, by the processor that owns this bus. */
  core!: ReferenceCpu;
  /** Start of the next cycle, from power-on. */
  cycle = 0;
  /** The loop's cycles count from here. */
  origin = 0;
  /** Cycle of the loop in which it may start no further instruction; it may have moved after each call. */
  stop = 0;
  /** By place in memory: 0 = ask `skipLoop` when a backward branch goes there. */
  readonly rests: Uint8Array;
  readonly #ports: FastCpuPorts;
  readonly #skipping: Skipping | undefined;
  /** The latest claimed access of the loop, and what was pending before it. */
  #accessCycle = -1;
  #pendingBefore = 0;
  /** Cycle of the latest fetch that the loop reported. */
  #fetchedCycle = -1;

  constructor(memory: Uint8Array, pages: PageTable, ports: FastCpuPorts, skipping?: Skipping) {
    this.memory = memory;
    this.pages = pages;
    this.#ports = ports;
    this.#skipping = skipping;
    this.rests = skipping === undefined ? new Uint8Array(memory.length).fill(1) : skipping.skipper.rests;
  }

  // The reference processor's side.

  fetch(address: number): number {
    this.#waitForHold(address);
    if (this.pages.isWatched(address >> 8) && this.#fetchedCycle !== this.cycle) {
      this.#ports.fetched(address, this.cycle);
    }
    const value = this.#readByte(address, this.cycle);
    this.#endCycles(1);
    return value;
  }

  read(address: number): number {
    this.#waitForHold(address);
    const value = this.#readByte(address, this.cycle);
    this.#endCycles(1);
    return value;
  }

  write(address: number, value: number): void {
    this.#writeByte(address, value, this.cycle);
    this.#endCycles(1);
  }

  served(kind: 'nmi' | 'irq'): void {
    this.#ports.served(kind, this.cycle);
  }

  // The loop's side. `cycle` counts from `origin`; `pc` is the address of the opcode.

  /** First access of an instruction to a claimed page; `dataBus` = the byte before it on the bus. */
  readAt(address: number, dataBus: number, cycle: number, pc: number): number {
    this.core.opcodePc = pc;
    this.#ports.dataBus = dataBus;
    return this.#readInLoop(address, cycle);
  }

  /** The read at the uncorrected address, when the index carries, in the cycle before. */
  readIndexed(operand: number, index: number, cycle: number, pc: number): number {
    const address = (operand + index) & 0xffff;
    const early = (operand & 0xff00) | (address & 0xff);
    if (early === address) return this.readAt(address, operand >> 8, cycle, pc);
    this.readAt(early, operand >> 8, cycle - 1, pc);
    return this.#readInLoop(address, cycle);
  }

  /** The read at the uncorrected address in any case, then the read in `cycle`. */
  readForModify(operand: number, index: number, cycle: number, pc: number): number {
    const address = (operand + index) & 0xffff;
    this.readAt((operand & 0xff00) | (address & 0xff), operand >> 8, cycle - 1, pc);
    return this.#readInLoop(address, cycle);
  }

  writeAt(address: number, value: number, cycle: number, pc: number): void {
    this.core.opcodePc = pc;
    this.#writeInLoop(address, value, cycle);
  }

  /** The read at the uncorrected address, then the write in `cycle`. */
  writeIndexed(operand: number, index: number, value: number, cycle: number, pc: number): void {
    const address = (operand + index) & 0xffff;
    this.readAt((operand & 0xff00) | (address & 0xff), operand >> 8, cycle - 1, pc);
    this.#writeInLoop(address, value, cycle);
  }

  /** The old value in `cycle`, the new one in the cycle after. */
  modifyAt(address: number, old: number, value: number, cycle: number, pc: number): void {
    this.core.opcodePc = pc;
    this.#writeInLoop(address, old, cycle);
    this.#writeInLoop(address, value, cycle + 1);
  }

  /** Place in memory of the opcode at `pc`, its fetch reported where that is asked; -1 = the loop must leave. */
  enterPage(pc: number, cycle: number): number {
    const place = this.pages.placeOfOpcode(pc);
    if (place >= 0 && this.pages.isWatched(pc >> 8)) {
      this.#fetchedCycle = this.origin + cycle;
      this.#ports.fetched(pc, this.#fetchedCycle);
    }
    return place;
  }

  /**
   * At the head of a loop, the registers in the core: leave out rounds that change nothing else. Returns their cycles; the
   * core has the registers after them.
   */
  skipLoop(pc: number, place: number, cycle: number): number {
    const { core } = this;
    const { skipper, ports } = this.#skipping!;
    const leap = skipper.find(core, pc, place, this.origin + cycle, this.stop - cycle);
    const cycles = leap.rounds * leap.cycles;
    if (cycles === 0 || leap.readAddress < 0) return cycles;
    core.opcodePc = leap.readPc;
    this.#accessCycle = leap.readCycle + cycles - leap.cycles;
    ports.readSteadily(leap.readAddress, leap.readValue, leap.readCycle, leap.cycles, leap.rounds);
    this.#findStop();
    return cycles;
  }

  get isIrqFar(): boolean {
    return this.events.irqCycle === Infinity;
  }

  /** Ready for the loop from `cycle` on; false when the reference processor must go first. */
  beginLoop(): boolean {
    const { core, pages } = this;
    if (core.isJammed || core.polled !== 0 || core.pending !== 0 || !pages.isLoopPossible) return false;
    this.origin = this.cycle;
    this.#skipping?.skipper.wake(this.cycle);
    this.#accessCycle = -1;
    this.#pendingBefore = 0;
    pages.isChanged = false;
    this.#findStop();
    return this.stop > 0;
  }

  /** The loop has left after `cycles`: set the clock, and what its last instruction's poll has found. */
  endLoop(cycles: number): void {
    const { core } = this;
    this.cycle = this.origin + cycles;
    core.polled = this.#accessCycle === this.cycle - 1 ? this.#pendingBefore : 0;
    core.pending = this.#pendingAt(this.cycle);
    this.#forgetEdges(this.cycle);
  }

  /** The owner may have left an edge that is past. */
  beginRun(): void {
    this.#forgetEdges(this.cycle);
  }

  /** Nothing but the clock moves: the caller has seen to it. */
  setClock(cycle: number): void {
    this.cycle = cycle;
    this.#fetchedCycle = -1;
  }

  #readInLoop(address: number, cycle: number): number {
    const now = this.#beginAccess(cycle);
    const value = this.#readByte(address, now);
    this.#findStop();
    return value;
  }

  #writeInLoop(address: number, value: number, cycle: number): void {
    const now = this.#beginAccess(cycle);
    this.#writeByte(address, value, now);
    this.#findStop();
  }

  /** The cycles before this one have been sampled. */
  #beginAccess(cycle: number): number {
    const now = this.origin + cycle;
    this.#accessCycle = now;
    this.#pendingBefore = this.#pendingAt(now);
    this.core.pending = this.#pendingBefore & PENDING_NMI;
    return now;
  }

  /** `pending` of the processor at the end of the cycle before `cycle`. */
  #pendingAt(cycle: number): number {
    const { core, events } = this;
    const nmi = events.nmiCycle < cycle ? PENDING_NMI : core.pending & PENDING_NMI;
    return nmi | (events.irqCycle < cycle && (core.p & FLAG_I) === 0 ? PENDING_IRQ : 0);
  }

  /**
   * An instruction of the loop ends before the NMI edge and before the IRQ line. The reference processor runs at least
   * one more before the limit and before a hold: it keeps the address of the opcode and the byte on the bus.
   */
  #findStop(): void {
    const { core, events } = this;
    const irqCycle = (core.p & FLAG_I) === 0 ? events.irqCycle : Infinity;
    const isHeldUp = core.pending !== 0 || this.#pendingBefore !== 0 || this.pages.isChanged;
    const event = Math.min(events.limitCycle - 1, events.holdCycle - 1, events.nmiCycle, irqCycle);
    const first = event - LONGEST + 1;
    this.stop = isHeldUp ? -1 : Math.max(-1, Math.min(first - this.origin, LONGEST_STRETCH));
  }

  /** Edges before `cycle` are latched, or the owner has left them behind. */
  #forgetEdges(cycle: number): void {
    if (this.events.nmiCycle < cycle) this.events.nmiCycle = Infinity;
  }

  #readByte(address: number, cycle: number): number {
    const ports = this.#ports;
    const base = this.pages.readBase[address >> 8]!;
    if (base >= 0) {
      ports.dataBus = this.memory[base + (address & 0xff)]!;
      return ports.dataBus;
    }
    const value = ports.read(address, cycle);
    this.#forgetEdges(cycle);
    return value;
  }

  #writeByte(address: number, value: number, cycle: number): void {
    this.#ports.dataBus = value;
    const base = this.pages.writeBase[address >> 8]!;
    if (base >= 0) {
      this.memory[base + (address & 0xff)] = value;
      return;
    }
    this.#ports.write(address, value, cycle);
    this.#forgetEdges(cycle);
  }

  /** Samples of the lines in the next `count` cycles, in which they do not change but for one edge. */
  #endCycles(count: number): void {
    const { core } = this;
    this.cycle += count;
    core.pending = this.#pendingAt(this.cycle);
    core.endedCycles = (core.endedCycles + count) & 0xffff;
    this.#forgetEdges(this.cycle);
  }

  #waitForHold(address: number): void {
    if (this.cycle < this.events.holdCycle) return;
    this.events.holdCycle = Infinity;
    for (;;) {
      const cycles = this.#ports.hold(address, this.cycle);
      if (cycles === 0) return;
      this.#forgetEdges(this.cycle);
      this.#endCycles(cycles);
    }
  }
}
