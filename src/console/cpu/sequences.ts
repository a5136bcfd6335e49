import type { Mnemonic } from '../../references/opcodes.ts';
import type { CpuCore } from './cpu-core.ts';
import { FLAG_B, FLAG_C, FLAG_I, FLAG_N, FLAG_V, FLAG_Z, pullStatus, pushedStatus, setNZ } from './flags.ts';

/**
 * Instructions and interrupts with a bus sequence of their own. One access a cycle; the first cycle, the opcode, is past.
 * Source: hardware documentation wiki, pages "CPU interrupts" and "CPU power up state"; cycles as in the open
 * single-step vectors.
 */
type Sequence = (cpu: CpuCore) => void;

const NMI_VECTOR = 0xfffa;
const RESET_VECTOR = 0xfffc;
const IRQ_VECTOR = 0xfffe;

/** The flag that a branch looks at, and its value when the branch is taken. */
export const BRANCH_CONDITIONS: Partial<Readonly<Record<Mnemonic, readonly [flag: number, wanted: boolean]>>> = {
  BPL: [FLAG_N, false],
  BMI: [FLAG_N, true],
  BVC: [FLAG_V, false],
  BVS: [FLAG_V, true],
  BCC: [FLAG_C, false],
  BCS: [FLAG_C, true],
  BNE: [FLAG_Z, false],
  BEQ: [FLAG_Z, true],
};

/** A branch, or undefined when `mnemonic` is none. */
export function branchSequence(mnemonic: Mnemonic): Sequence | undefined {
  const condition = BRANCH_CONDITIONS[mnemonic];
  if (condition === undefined) return undefined;
  const [flag, wanted] = condition;
  return (cpu) => {
    const offset = cpu.readOperand();
    if (((cpu.p & flag) !== 0) === wanted) takeBranch(cpu, offset);
  };
}

/** Interrupts are polled before cycle 2 and before cycle 4 (the page fix), not before cycle 3. */
function takeBranch(cpu: CpuCore, offset: number): void {
  const polledBefore2 = cpu.polled;
  const target = (cpu.pc + offset - ((offset & 0x80) << 1)) & 0xffff;
  const early = (cpu.pc & 0xff00) | (target & 0xff);
  cpu.read(cpu.pc);
  cpu.polled = polledBefore2;
  if (early !== target) {
    cpu.read(early);
    cpu.polled |= polledBefore2;
  }
  cpu.pc = target;
}

function jumpToSubroutine(cpu: CpuCore): void {
  const low = cpu.readOperand();
  cpu.readStackTop();
  pushPc(cpu);
  cpu.pc = low | (cpu.read(cpu.pc) << 8);
}

function returnFromSubroutine(cpu: CpuCore): void {
  cpu.read(cpu.pc);
  cpu.readStackTop();
  pullPc(cpu);
  cpu.read(cpu.pc);
  cpu.advance();
}

/** I is back before the poll, unlike after PLP. */
function returnFromInterrupt(cpu: CpuCore): void {
  cpu.read(cpu.pc);
  cpu.readStackTop();
  pullStatus(cpu, cpu.pull());
  pullPc(cpu);
}

function pushPc(cpu: CpuCore): void {
  cpu.push(cpu.pc >> 8);
  cpu.push(cpu.pc & 0xff);
}

function pullPc(cpu: CpuCore): void {
  const low = cpu.pull();
  cpu.pc = low | (cpu.pull() << 8);
}

function pullA(cpu: CpuCore): void {
  cpu.read(cpu.pc);
  cpu.readStackTop();
  cpu.a = cpu.pull();
  setNZ(cpu, cpu.a);
}

function pullP(cpu: CpuCore): void {
  cpu.read(cpu.pc);
  cpu.readStackTop();
  pullStatus(cpu, cpu.pull());
}

/** PC stays on the opcode. The reads that follow are `idle`. */
function jam(cpu: CpuCore): void {
  cpu.read(cpu.pc);
  cpu.read(cpu.pc);
  cpu.pc = cpu.opcodePc;
  cpu.isJammed = true;
  cpu.idleReads = 0;
}

/** One cycle of a jammed processor: $FFFF, $FFFE, $FFFE, then $FFFF for ever (from memory). */
export function idle(cpu: CpuCore): void {
  const isAtTop = cpu.idleReads === 0 || cpu.idleReads === 3;
  cpu.read(isAtTop ? 0xffff : 0xfffe);
  if (cpu.idleReads < 3) cpu.idleReads++;
}

export const SEQUENCES: Partial<Readonly<Record<Mnemonic, Sequence>>> = {
  BRK: (cpu) => {
    cpu.readOperand();
    enterHandler(cpu, FLAG_B);
  },
  JSR: jumpToSubroutine,
  RTS: returnFromSubroutine,
  RTI: returnFromInterrupt,
  PHA: (cpu) => {
    cpu.read(cpu.pc);
    cpu.push(cpu.a);
  },
  PHP: (cpu) => {
    cpu.read(cpu.pc);
    cpu.push(pushedStatus(cpu, FLAG_B));
  },
  PLA: pullA,
  PLP: pullP,
  JAM: jam,
};

/** The 7 cycles of IRQ and NMI: the opcode that was fetched is dropped and PC stays. */
export function interruptSequence(cpu: CpuCore): void {
  cpu.opcodePc = cpu.pc;
  cpu.read(cpu.pc);
  cpu.read(cpu.pc);
  enterHandler(cpu, 0);
}

/**
 * Cycles 3 to 7 of BRK, IRQ and NMI. The vector is chosen after the push of PCL: an NMI that came in the first four cycles
 * takes over, with the B that the overtaken one pushes. The sequence polls nothing, so one instruction of the handler
 * always runs.
 */
function enterHandler(cpu: CpuCore, breakFlag: number): void {
  pushPc(cpu);
  const status = pushedStatus(cpu, breakFlag);
  const isNmi = cpu.takeNmi();
  cpu.push(status);
  if (isNmi) cpu.reportServed('nmi');
  else if (breakFlag === 0) cpu.reportServed('irq');
  jumpThrough(cpu, isNmi ? NMI_VECTOR : IRQ_VECTOR);
}

function jumpThrough(cpu: CpuCore, vector: number): void {
  const low = cpu.read(vector);
  cpu.p |= FLAG_I;
  cpu.pc = low | (cpu.read(vector + 1) << 8);
  cpu.polled = 0;
}

/**
 * The interrupt sequence with its three writes turned into reads; ends a jam. A, X, Y and the other flags stay.
 * Assumed: it drops an NMI edge from before, since the reset holds the raster unit's NMI output off.
 */
export function resetSequence(cpu: CpuCore): void {
  cpu.isJammed = false;
  cpu.idleReads = 0;
  cpu.opcodePc = cpu.pc;
  cpu.read(cpu.pc);
  cpu.read(cpu.pc);
  for (let push = 0; push < 3; push++) {
    cpu.readStackTop();
    cpu.s = (cpu.s - 1) & 0xff;
  }
  cpu.takeNmi();
  jumpThrough(cpu, RESET_VECTOR);
}
