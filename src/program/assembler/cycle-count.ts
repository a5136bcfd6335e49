import type { ErrorCode } from '../../errors/catalogue.ts';
import type { ErrorDetails } from '../../errors/latelight-error.ts';
import { type Mnemonic, OPCODES, OPERAND_BYTES, type OpcodeSpec } from '../../references/opcodes.ts';
import { hexAddress } from '../labels.ts';
import { afterBranch, follow, isTaken, type KnownRegisters, NOTHING_KNOWN } from './constant-flow.ts';

/** What the count sees of a program. */
export interface CodeView {
  /** The byte of the program at an address; undefined where there is none. */
  byteAt(address: number): number | undefined;
  /** First and last address of the data that the label in an instruction's operand names; undefined without a label. */
  blockOf(instruction: number): readonly [first: number, last: number] | undefined;
  /** Address of the instruction whose last byte lies before an address. */
  instructionBefore(address: number): number | undefined;
}

/**
 * Cycles of a stretch of code, counted without running it.
 *
 * Followed: straight code, jumps, subroutines (to their end), branches. A branch whose flag is known (from numbers that
 * were loaded inside the stretch) goes one way, any other goes both ways, and then the count is the range of both. A way
 * that leaves the stretch is not counted. A stretch whose last instruction jumps back to its first is one round of a
 * loop: then only the way back counts. Interrupts and the DMA of samples are not seen; a store to $4014 counts the sprite DMA.
 *
 * One cycle more for a page crossing: a branch is known; an index is known, or it is taken to stay inside the data that
 * the operand's label names (`assumptions`), or the count is a range (`uncertain`).
 */
export interface CycleCount {
  readonly low: number;
  readonly high: number;
  /** One round of a loop: it ends where it begins. */
  readonly isRound: boolean;
  /** Branches that go to another page when taken: one cycle more, and it changes when code is moved. */
  readonly crossings: readonly number[];
  /** Instructions whose index is taken to stay inside the data that their label names. */
  readonly assumptions: readonly number[];
  /** Instructions whose page crossing is not known. */
  readonly uncertain: readonly number[];
}

/** Why there is no count. */
export interface CycleFault {
  readonly code: ErrorCode;
  readonly details: ErrorDetails;
  /** The instruction. */
  readonly address: number;
}

/** Cycles more that an indexed read takes because its address lies in another page than its base. */
export interface PageCrossing {
  readonly low: number;
  readonly high: number;
  /** Holds as long as the index stays inside the data that the operand's label names. */
  readonly isInside: boolean;
  /** That data itself lies in more than one page. */
  readonly isSplit: boolean;
}

/** `pc` = address of the instruction; `base` = its operand; `index` = -1 when it is not known. */
export function pageCrossing(view: CodeView, pc: number, base: number, index: number): PageCrossing {
  const crossing = (low: number, high: number, isInside = false, isSplit = false): PageCrossing => ({
    low,
    high,
    isInside,
    isSplit,
  });
  if (index !== -1) return (base & 0xff) + index > 0xff ? crossing(1, 1) : crossing(0, 0);
  if ((base & 0xff) === 0) return crossing(0, 0);
  const block = view.blockOf(pc);
  if (block === undefined) return crossing(0, 1);
  const page = base >> 8;
  const pages = block.map((address) => address >> 8);
  if (pages.every((other) => other === page)) return crossing(0, 0, true);
  if (pages.every((other) => other !== page) && block[0] > base) return crossing(1, 1, true);
  return crossing(0, 1, false, true);
}

const MOST_STEPS = 200_000;
const MOST_CALLS = 50;

/**
 * Sprite DMA after a store to $4014: 513 cycles after a write on a get cycle, 514 after one on a put cycle.
 * Source: hardware documentation wiki, page "DMA".
 */
const SPRITE_DMA_REGISTER = 0x4014;
const SPRITE_DMA_CYCLES = [513, 514] as const;

/** The stack, and where the same bytes show again. Source: hardware documentation wiki, page "CPU memory map". */
const STACK_PAGES = [0x100, 0x900, 0x1100, 0x1900] as const;

/** Bytes that instructions push; a moved stack cannot be followed. */
const STACKED: Readonly<Partial<Record<Mnemonic, number>>> = {
  PHA: 1,
  PHP: 1,
  PLA: -1,
  PLP: -1,
  TXS: Number.NaN,
  TAS: Number.NaN,
};

/** Whether an instruction writes to an address that its operand gives; through a pointer it is not known. */
const writes = ({ access, mode }: OpcodeSpec): boolean =>
  (access === 'write' || access === 'rmw') && (mode === 'absolute' || mode === 'absoluteX' || mode === 'absoluteY');

interface Path {
  pc: number;
  returns: readonly number[];
  /** Bytes that each of the subroutines has pushed and not pulled. */
  pushed: readonly number[];
  known: KnownRegisters;
  low: number;
  high: number;
}

/** Count from `start` up to `end` (the address behind the last byte). */
export function countCycles(view: CodeView, start: number, end: number): CycleCount | CycleFault {
  return new Counter(view, start, end).count();
}

class Counter {
  readonly #view: CodeView;
  readonly #start: number;
  readonly #end: number;
  /** The last instruction goes back to the first. */
  readonly #isRound: boolean;
  readonly #open: Path[] = [];
  readonly #seen = new Set<string>();
  readonly #crossings = new Set<number>();
  readonly #assumptions = new Set<number>();
  readonly #uncertain = new Set<number>();
  #low = Number.POSITIVE_INFINITY;
  #high = 0;
  #steps = 0;
  #fault: CycleFault | undefined;

  constructor(view: CodeView, start: number, end: number) {
    this.#view = view;
    this.#start = start;
    this.#end = end;
    this.#isRound = goesBack(view, start, end);
  }

  count(): CycleCount | CycleFault {
    this.#open.push({ pc: this.#start, returns: [], pushed: [], known: NOTHING_KNOWN, low: 0, high: 0 });
    for (let path = this.#open.pop(); path !== undefined && this.#fault === undefined; path = this.#open.pop())
      this.#followPath(path);
    if (this.#fault !== undefined) return this.#fault;
    if (this.#high === 0 && this.#low !== 0) return { code: 'ASM_CYCLES_NO_END', details: {}, address: this.#start };
    return {
      low: this.#low,
      high: this.#high,
      isRound: this.#isRound,
      crossings: [...this.#crossings],
      assumptions: [...this.#assumptions],
      uncertain: [...this.#uncertain],
    };
  }

  #followPath(path: Path): void {
    let goesOn = true;
    while (goesOn) {
      const isAtEnd = path.pc === this.#end && path.returns.length === 0;
      const opcode = this.#view.byteAt(path.pc);
      if (isAtEnd) this.#arrive(path);
      else if (++this.#steps > MOST_STEPS) this.#refuse('ASM_CYCLES_LONG', path.pc, { limit: MOST_STEPS });
      else if (opcode === undefined) this.#refuse('ASM_CYCLES_NO_CODE', path.pc, { address: hexAddress(path.pc) });
      goesOn = !isAtEnd && this.#fault === undefined && this.#step(path, OPCODES[opcode!]!);
    }
  }

  #arrive({ low, high }: Path): void {
    this.#low = Math.min(this.#low, low);
    this.#high = Math.max(this.#high, high);
  }

  /** One instruction. False: the path ends here. */
  #step(path: Path, spec: OpcodeSpec): boolean {
    const { pc } = path;
    const operand = this.#view.byteAt(pc + 1) ?? 0;
    const word = operand | ((this.#view.byteAt(pc + 2) ?? 0) << 8);
    const next = pc + 1 + OPERAND_BYTES[spec.mode];
    path.low += spec.cycles;
    path.high += spec.cycles;
    if (path.returns.length > 0 && !this.#moveStack(path, spec)) return false;
    if (spec.access === 'branch') return this.#branch(path, spec, next, (next + ((operand ^ 0x80) - 0x80)) & 0xffff);
    if (spec.access === 'sequence') return this.#sequence(path, spec, next, word);
    if (spec.pageCross) this.#addCrossing(path, spec, operand, word);
    const refused = writes(spec) ? this.#write(path, spec, word) : undefined;
    if (refused !== undefined) return this.#refuse('ASM_CYCLES_UNKNOWN', pc, { what: refused });
    path.known = follow(spec, operand, path.known);
    path.pc = next;
    return true;
  }

  /** A store to $4014 starts the sprite DMA; a store into the stack may change where a subroutine returns to. */
  #write(path: Path, { access, mode, mnemonic }: OpcodeSpec, word: number): string | undefined {
    const index = mode === 'absoluteX' ? path.known.x : mode === 'absoluteY' ? path.known.y : 0;
    const [first, last] = index === -1 ? [word, word + 0xff] : [word + index, word + index];
    const isStack = STACK_PAGES.some((page) => first <= page + 0xff && last >= page);
    if (isStack && path.returns.length > 0) return `a store into the stack by ${mnemonic}`;
    if (SPRITE_DMA_REGISTER < first || SPRITE_DMA_REGISTER > last) return undefined;
    if (index === -1) return `${mnemonic}, which may start the sprite DMA,`;
    if (access !== 'write') return `the sprite DMA started by ${mnemonic}`;
    path.low += SPRITE_DMA_CYCLES[0];
    path.high += SPRITE_DMA_CYCLES[1];
    return undefined;
  }

  #addCrossing(path: Path, spec: OpcodeSpec, operand: number, word: number): void {
    const isPointer = spec.mode === 'indirectIndexed';
    const index = spec.mode === 'absoluteX' ? path.known.x : path.known.y;
    const base = isPointer ? operand : word;
    const { low, high, isInside } = isPointer
      ? { low: 0, high: index === 0 ? 0 : 1, isInside: false }
      : pageCrossing(this.#view, path.pc, base, index);
    if (isInside) this.#assumptions.add(path.pc);
    if (low !== high) this.#uncertain.add(path.pc);
    path.low += low;
    path.high += high;
  }

  #branch(path: Path, { mnemonic }: OpcodeSpec, next: number, target: number): boolean {
    const { pc, known } = path;
    const taken = isTaken(mnemonic, known);
    const crosses = next >> 8 !== target >> 8;
    const isBack = this.#isBack(path, target, next);
    const isOutside = this.#isOutside(path, target);
    if (crosses && taken !== 0 && !isOutside) this.#crossings.add(pc);
    if (taken === -1 && target <= pc && !isOutside && !isBack) return this.#refuse('ASM_CYCLES_LOOP', pc, {});
    if (taken !== 0 && !isOutside) this.#take({ ...path }, mnemonic, target, crosses ? 2 : 1, isBack);
    if (taken === 1 || this.#isOutside(path, next) || !this.#isNew(path, next)) return false;
    path.pc = next;
    path.known = afterBranch(mnemonic, false, known);
    return true;
  }

  /** Whether an address lies outside of the stretch; the end of a loop's round does. */
  #isOutside({ returns }: Path, address: number): boolean {
    if (returns.length > 0) return false;
    return address < this.#start || address > this.#end || (this.#isRound && address === this.#end);
  }

  /** Whether the last instruction goes back to the first: the end of a round. */
  #isBack({ returns }: Path, target: number, next: number): boolean {
    return returns.length === 0 && this.#isRound && target === this.#start && next === this.#end;
  }

  /** The way of a branch that is taken. */
  #take(path: Path, mnemonic: OpcodeSpec['mnemonic'], target: number, extra: number, isBack: boolean): void {
    path.low += extra;
    path.high += extra;
    path.known = afterBranch(mnemonic, true, path.known);
    if (isBack) this.#arrive(path);
    else if (this.#isNew(path, target)) this.#open.push({ ...path, pc: target });
  }

  /** Whether a way with the same past was not followed yet. */
  #isNew({ returns, pushed, known, low, high }: Path, pc: number): boolean {
    const { a, x, y, n, z, c, v } = known;
    const key = [pc, low, high, a, x, y, n, z, c, v, ...returns, ...pushed].join();
    if (this.#seen.has(key)) return false;
    this.#seen.add(key);
    return true;
  }

  /** JMP, JSR, RTS and the stack; BRK and JAM have no count. */
  #sequence(path: Path, spec: OpcodeSpec, next: number, word: number): boolean {
    switch (spec.mnemonic) {
      case 'JMP':
        return spec.mode === 'absolute' ? this.#jump(path, word, next) : this.#leave(path, next, 'an indirect jump');
      case 'JSR':
        if (path.returns.length >= MOST_CALLS)
          return this.#refuse('ASM_CYCLES_NO_CODE', path.pc, { address: 'subroutines without an end' });
        path.returns = [...path.returns, next];
        path.pushed = [...path.pushed, 0];
        path.pc = word;
        return true;
      case 'RTS':
        if (path.returns.length === 0) return this.#leave(path, next);
        if (path.pushed[path.pushed.length - 1] !== 0)
          return this.#refuse('ASM_CYCLES_UNKNOWN', path.pc, { what: 'RTS to what the subroutine pushed' });
        path.pc = path.returns[path.returns.length - 1]!;
        path.returns = path.returns.slice(0, -1);
        path.pushed = path.pushed.slice(0, -1);
        return true;
      case 'RTI':
        return path.returns.length === 0
          ? this.#leave(path, next)
          : this.#refuse('ASM_CYCLES_UNKNOWN', path.pc, { what: 'RTI in a subroutine' });
      case 'BRK':
      case 'JAM':
        return this.#refuse('ASM_CYCLES_UNKNOWN', path.pc, { what: spec.mnemonic });
      default:
        path.known = follow(spec, 0, path.known);
        path.pc = next;
        return true;
    }
  }

  /** Pushes and pulls of a subroutine; it must not take its return address off, nor move the stack. */
  #moveStack(path: Path, { mnemonic }: OpcodeSpec): boolean {
    const bytes = STACKED[mnemonic];
    if (bytes === undefined) return true;
    const count = path.pushed[path.pushed.length - 1]! + bytes;
    if (count < 0 || Number.isNaN(bytes))
      return this.#refuse('ASM_CYCLES_UNKNOWN', path.pc, {
        what: `${mnemonic} that changes where a subroutine returns to`,
      });
    path.pushed = [...path.pushed.slice(0, -1), count];
    return true;
  }

  #jump(path: Path, target: number, next: number): boolean {
    if (this.#isOutside(path, target) || this.#isBack(path, target, next)) return this.#leave(path, next);
    path.pc = target;
    return this.#isNew(path, target);
  }

  /** The stretch is left: that counts if it is its last instruction that leaves. */
  #leave(path: Path, next: number, unless?: string): false {
    if (unless !== undefined && (path.returns.length > 0 || next !== this.#end))
      return this.#refuse('ASM_CYCLES_UNKNOWN', path.pc, { what: unless });
    if (next === this.#end) this.#arrive(path);
    return false;
  }

  #refuse(code: ErrorCode, address: number, details: ErrorDetails): false {
    this.#fault = { code, details, address };
    return false;
  }
}

function goesBack(view: CodeView, start: number, end: number): boolean {
  const last = view.instructionBefore(end);
  if (last === undefined) return false;
  const [opcode, low, high] = [0, 1, 2].map((offset) => view.byteAt(last + offset) ?? 0) as [number, number, number];
  const { access, mnemonic, mode } = OPCODES[opcode]!;
  if (access === 'branch') return last + 2 + ((low ^ 0x80) - 0x80) === start;
  return mnemonic === 'JMP' && mode === 'absolute' && (low | (high << 8)) === start;
}
