import type { Registers } from '../flags.ts';
import { CounterWatch } from './counter-watch.ts';
import { LOOP_STEPS, type LoopStep } from './loop-steps.ts';
import type { PageTable } from './page-table.ts';
import type { SteadyPorts } from './steady-ports.ts';

/** Instructions of a round, at most. */
const LONGEST_BODY = 16;
const NONE = -1;

/**
 * One round of a loop, played on a copy of the registers from its head to its head: nothing outside changes.
 *
 * A round may read plain memory, and once a claimed address that is steady; the bytes that it reads are those that the
 * processor will read. What it does with X and Y is noted, so that the rounds after it can be told ahead.
 */
export class LoopRound implements Registers {
  a = 0;
  x = 0;
  y = 0;
  s = 0;
  p = 0;
  /** Address of the claimed read, -1 = none; cycles from the head to it; its opcode's address; what it gave. */
  readAddress = NONE;
  readOffset = 0;
  readPc = 0;
  readValue = 0;
  /** What the round does with X and Y. */
  readonly counters = new CounterWatch();
  readonly #memory: Uint8Array;
  readonly #pages: PageTable;
  readonly #ports: SteadyPorts;
  /** Next instruction, cycles since the head, cycles that the processor's loop has left at the head. */
  #pc = 0;
  #cycles = 0;
  #room = 0;
  #headCycle = 0;

  constructor(memory: Uint8Array, pages: PageTable, ports: SteadyPorts) {
    this.#memory = memory;
    this.#pages = pages;
    this.#ports = ports;
  }

  /**
   * Play from the head at `pc`, which the processor reaches with these registers in `cycle`; no event comes before
   * `cycle + room`. Returns the round's cycles; 0 = the processor does not come back to the head in a way that can be told.
   */
  play(registers: Registers, pc: number, cycle: number, room: number): number {
    this.#begin(pc, cycle, room);
    this.a = registers.a;
    this.x = registers.x;
    this.y = registers.y;
    this.s = registers.s;
    this.p = registers.p;
    for (let count = 0; count < LONGEST_BODY; count++) {
      if (!this.#step()) return 0;
      if (this.#pc === pc) return this.#cycles;
    }
    return 0;
  }

  #begin(pc: number, cycle: number, room: number): void {
    this.#pc = pc;
    this.#headCycle = cycle;
    this.#room = room;
    this.#cycles = 0;
    this.readAddress = NONE;
    this.counters.begin();
  }

  /** One instruction; false = the round cannot be told ahead. */
  #step(): boolean {
    const pc = this.#pc;
    const place = this.#pages.placeOfOpcode(pc);
    if (place < 0 || (this.#pages.isWatched(pc >> 8) && this.#ports.isFetchTold(pc))) return false;
    const step = LOOP_STEPS[this.#memory[place]!];
    if (step === undefined) return false;
    if (step.flag !== undefined) return this.#branch(step, place);
    if (step.spec.access === 'sequence') return this.#jump(step, place);
    this.counters.noteCarry(step);
    if (step.read !== undefined) return this.#read(step, place);
    if (step.accumulator !== undefined) this.a = step.accumulator(this, this.a);
    else step.implied!(this);
    this.counters.note(step, this, NONE);
    this.#pass(1, step.spec.cycles);
    return true;
  }

  #pass(bytes: number, cycles: number): void {
    this.#pc = (this.#pc + bytes) & 0xffff;
    this.#cycles += cycles;
  }

  #jump({ spec }: LoopStep, place: number): boolean {
    this.#pc = this.#memory[place + 1]! | (this.#memory[place + 2]! << 8);
    this.#cycles += spec.cycles;
    return true;
  }

  #branch(step: LoopStep, place: number): boolean {
    const flag = step.flag!;
    const isSet = (this.p & flag) !== 0;
    this.counters.noteBranch(flag, isSet);
    this.#pass(2, step.spec.cycles);
    if (isSet !== step.isTakenIfSet) return true;
    const target = (this.#pc + ((this.#memory[place + 1]! << 24) >> 24)) & 0xffff;
    this.#cycles += ((target ^ this.#pc) & 0xff00) === 0 ? 1 : 2;
    this.#pc = target;
    return true;
  }

  #read(step: LoopStep, place: number): boolean {
    const { mode, cycles } = step.spec;
    const value = this.#operand(step, place);
    if (value < 0) return false;
    step.read!(this, value);
    this.counters.note(step, this, value);
    this.#pass(mode === 'absolute' || mode === 'absoluteX' || mode === 'absoluteY' ? 3 : 2, cycles);
    return true;
  }

  /** The byte that the instruction reads; -1 = it cannot be said. A carry of the index adds its cycle. */
  #operand({ spec }: LoopStep, place: number): number {
    const memory = this.#memory;
    const byte = memory[place + 1]!;
    switch (spec.mode) {
      case 'immediate':
        return byte;
      case 'zeroPage':
        return memory[byte]!;
      case 'zeroPageX':
        return memory[(byte + this.x) & 0xff]!;
      case 'zeroPageY':
        return memory[(byte + this.y) & 0xff]!;
      case 'absolute':
        return this.#byteAt(byte | (memory[place + 2]! << 8), spec.cycles - 1);
      case 'absoluteX':
        return this.#indexedByte(byte | (memory[place + 2]! << 8), this.x);
      case 'absoluteY':
        return this.#indexedByte(byte | (memory[place + 2]! << 8), this.y);
      case 'indexedIndirect':
        return this.#plainByte(this.#pointer((byte + this.x) & 0xff));
      case 'indirectIndexed':
        return this.#indexedByte(this.#pointer(byte), this.y);
      default:
        return NONE;
    }
  }

  #pointer(low: number): number {
    return this.#memory[low]! | (this.#memory[(low + 1) & 0xff]! << 8);
  }

  #plainByte(address: number): number {
    const base = this.#pages.readBase[address >> 8]!;
    return base < 0 ? NONE : this.#memory[base + (address & 0xff)]!;
  }

  /** A carry costs a cycle and a read in the page before it. */
  #indexedByte(operand: number, index: number): number {
    const address = (operand + index) & 0xffff;
    if (((address ^ operand) & 0xff00) === 0) return this.#plainByte(address);
    this.#cycles++;
    return this.#plainByte(operand) < 0 ? NONE : this.#plainByte(address);
  }

  /** Plain, or the one claimed read of the round, `offset` cycles after the start of the instruction. */
  #byteAt(address: number, offset: number): number {
    const plain = this.#plainByte(address);
    if (plain >= 0) return plain;
    if (this.readAddress >= 0 || this.#cycles >= this.#room) return NONE;
    this.readAddress = address;
    this.readPc = this.#pc;
    this.readOffset = this.#cycles + offset;
    this.readValue = this.#ports.steadyRead(address, address >> 8, this.#headCycle + this.readOffset);
    return this.readValue;
  }

  /** Whether the registers after the round are these. */
  endsLike({ a, x, y, s, p }: Registers): boolean {
    return this.a === a && this.x === x && this.y === y && this.s === s && this.p === p;
  }
}
