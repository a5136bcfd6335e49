import { type AddressMode, type Mnemonic, OPCODES } from '../../src/references/opcodes.ts';
import { hashNoise } from '../../src/units/noise.ts';
import { encodeLines, type Line, type Operand } from './program-lines.ts';

/**
 * Random programs that end: nested loops, branches, subroutines, stack pairs and jumps around random instructions.
 * Documented opcodes without SED and BRK; D is never set, so a processor with a decimal adder runs them alike.
 * Two faults of the outside counter, sim65 V2.18 (Debian cc65 2.19-1), are kept out (measured): it goes on two bytes
 * after a ROL absolute,X ($3E), and it counts a branch's page cross from the branch instead of from the instruction
 * after it. The single-step vectors cover both.
 *
 *     $0001-$007F  scratch       $0080-$00BF, $00FF/$0000  pointers into the data, never stored to
 *     $00C0-$00EF  loop counters $0100-$01FF  stack
 *     $0200-       code          $1800-$1FFF  data, the only other place stored to
 */
export interface GeneratedProgram {
  /** The whole memory from $0000. */
  readonly image: Uint8Array;
  readonly start: number;
  readonly lines: readonly Line[];
}

export const IMAGE_BYTES = 0x2000;
/** A jump here ends the run under the outside counter, which does not count the jump's 3 cycles. */
export const EXIT = 0xfff9;

const DATA = 0x1800;
const COUNTERS = 0xc0;
const COUNTER_COUNT = 0x30;
const BIT_6 = 0xf0;
const POINTERS = [...Array.from({ length: 32 }, (_, i) => 0x80 + 2 * i), 0xff];

const opcodeOf = (mnemonic: Mnemonic, mode: AddressMode): number =>
  OPCODES.findIndex((spec) => spec.documented && spec.mnemonic === mnemonic && spec.mode === mode);

const ROL_ABSOLUTE_X = 0x3e;

/** Documented opcodes that no generated program holds. */
export const isLeftOut = (opcode: number): boolean =>
  opcode === ROL_ABSOLUTE_X || ['SED', 'BRK'].includes(OPCODES[opcode]!.mnemonic);

const isFree = (opcode: number): boolean => {
  const { documented, access, mnemonic } = OPCODES[opcode]!;
  return documented && !isLeftOut(opcode) && access !== 'branch' && access !== 'sequence' && mnemonic !== 'TXS';
};

const FREE_OPCODES = OPCODES.map(({ opcode }) => opcode).filter(isFree);
const BRANCHES: readonly Mnemonic[] = ['BPL', 'BMI', 'BVC', 'BVS', 'BCC', 'BCS', 'BNE', 'BEQ'];

/** Ways to make a backward branch be taken in any case. */
const CERTAIN_BRANCHES: readonly (readonly [Mnemonic, AddressMode, number, Mnemonic])[] = [
  ['CLC', 'implied', 0, 'BCC'],
  ['SEC', 'implied', 0, 'BCS'],
  ['CLV', 'implied', 0, 'BVC'],
  ['BIT', 'zeroPage', BIT_6, 'BVS'],
  ['LDA', 'immediate', 0x80, 'BMI'],
  ['LDX', 'immediate', 0x7f, 'BPL'],
  ['LDY', 'immediate', 0x00, 'BEQ'],
];

class Generator {
  readonly lines: Line[] = [];
  readonly #seed: number;
  readonly #subroutines: number[] = [];
  #draws = 0;
  #labels = 0;
  #counters = 0;

  constructor(seed: number) {
    this.#seed = seed;
  }

  /** A whole number from `low` to `high`. */
  draw(low: number, high: number): number {
    return low + Math.floor(hashNoise(this.#seed, 0, this.#draws++) * (high - low + 1));
  }

  pick<T>(choices: readonly T[]): T {
    return choices[this.draw(0, choices.length - 1)]!;
  }

  program(): void {
    const count = this.draw(0, 3);
    for (let i = 0; i < count; i++) this.#subroutines.push(this.#newLabel());
    this.#code('LDX', 'immediate', 0xff);
    this.#code('TXS', 'implied');
    this.#block(this.draw(8, 20), 0, this.#subroutines);
    this.#code('JMP', 'absolute', EXIT);
    this.#subroutines.forEach((label, i) => {
      this.lines.push({ kind: 'label', label });
      this.#block(this.draw(2, 6), 1, this.#subroutines.slice(i + 1));
      this.#code('RTS', 'implied');
    });
  }

  /** Every loop has a counter of its own. */
  get hasCounters(): boolean {
    return this.#counters <= COUNTER_COUNT;
  }

  #newLabel(): number {
    return this.#labels++;
  }

  #place(label: number): void {
    this.lines.push({ kind: 'label', label });
  }

  #code(mnemonic: Mnemonic, mode: AddressMode, operand: Operand = 0): void {
    this.lines.push({ kind: 'code', opcode: opcodeOf(mnemonic, mode), operand });
  }

  /** `items` pieces; `callable` = subroutines that may be called from here, later ones only, so no call returns here. */
  #block(items: number, depth: number, callable: readonly number[]): void {
    for (let i = 0; i < items; i++) {
      const kind = this.draw(0, 15);
      if (kind === 0 && depth < 3) this.#loop(depth, callable);
      else if (kind === 1 && depth < 4) this.#skip(depth, callable);
      else if (kind === 2 && depth < 4) this.#stackPair(depth, callable);
      else if (kind === 3 && callable.length > 0) this.#code('JSR', 'absolute', { label: this.pick(callable) });
      else if (kind === 4) this.#jump();
      else if (kind === 5) this.#loadIndex();
      else this.#instruction(this.pick(FREE_OPCODES));
    }
  }

  #loadIndex(): void {
    this.#code(this.pick(['LDX', 'LDY']), 'immediate', this.draw(0, 0xff));
  }

  /** Counts down a byte that nothing else touches, so it ends. */
  #loop(depth: number, callable: readonly number[]): void {
    const counter = COUNTERS + this.#counters++;
    const top = this.#newLabel();
    this.#code('LDA', 'immediate', this.draw(1, depth === 0 ? 7 : 3));
    this.#code('STA', 'zeroPage', counter);
    this.#place(top);
    this.#block(this.draw(1, 5), depth + 1, callable);
    this.#code('DEC', 'zeroPage', counter);
    if (this.draw(0, 1) === 0) {
      this.#code('BNE', 'relative', { label: top });
      return;
    }
    const out = this.#newLabel();
    this.#code('BEQ', 'relative', { label: out });
    const [mnemonic, mode, operand, branch] = this.pick(CERTAIN_BRANCHES);
    this.#code(mnemonic, mode, operand);
    this.#code(branch, 'relative', { label: top });
    this.#place(out);
  }

  /** A forward branch on whatever the flags are. */
  #skip(depth: number, callable: readonly number[]): void {
    const target = this.#newLabel();
    this.#code(this.pick(BRANCHES), 'relative', { label: target });
    this.#block(this.draw(0, 4), depth + 1, callable);
    this.#place(target);
  }

  #stackPair(depth: number, callable: readonly number[]): void {
    const [push, pull] = this.pick([['PHA', 'PLA'] as const, ['PHP', 'PLP'] as const]);
    this.#code(push, 'implied');
    this.#block(this.draw(0, 3), depth + 1, callable);
    this.#code(pull, 'implied');
  }

  /** JMP, JMP (), RTI, PLP of a random status, or S through X and back. */
  #jump(): void {
    const target = this.#newLabel();
    const kind = this.draw(0, 4);
    if (kind === 0) {
      this.#code('JMP', 'absolute', { label: target });
      this.#garbage();
    } else if (kind === 1) {
      const pointer = this.#newLabel();
      this.#code('JMP', 'indirect', { label: pointer });
      this.#garbage();
      this.#place(pointer);
      this.lines.push({ kind: 'word', label: target });
    } else if (kind === 2) {
      this.#pushImmediate({ label: target, part: 'high' });
      this.#pushImmediate({ label: target, part: 'low' });
      this.#pushImmediate(this.#statusWithoutD());
      this.#code('RTI', 'implied');
      this.#garbage();
    } else if (kind === 3) {
      this.#pushImmediate(this.#statusWithoutD());
      this.#code('PLP', 'implied');
    } else {
      this.#code('TSX', 'implied');
      this.#code('TXS', 'implied');
    }
    this.#place(target);
  }

  #statusWithoutD(): number {
    return this.draw(0, 0xff) & 0xf7;
  }

  #pushImmediate(operand: Operand): void {
    this.#code('LDA', 'immediate', operand);
    this.#code('PHA', 'implied');
  }

  /** Bytes that stop the processor if they are ever run. */
  #garbage(): void {
    this.lines.push({ kind: 'bytes', bytes: Array.from({ length: this.draw(0, 12) }, () => 0x02) });
  }

  #instruction(opcode: number): void {
    const { mode, access } = OPCODES[opcode]!;
    const isRead = access === 'read';
    this.lines.push({ kind: 'code', opcode, operand: this.#operand(mode, isRead) });
  }

  #operand(mode: AddressMode, isRead: boolean): number {
    if (mode === 'immediate') return this.draw(0, 0xff);
    if (mode === 'zeroPage') return this.draw(1, isRead ? 0xff : 0x7f);
    if (mode === 'zeroPageX' || mode === 'zeroPageY') {
      return isRead ? this.draw(0, 0xff) : this.#baseFor(mode, this.draw(1, 0x7f));
    }
    if (mode === 'absolute') return this.draw(isRead ? 0 : DATA, IMAGE_BYTES - 1);
    if (mode === 'absoluteX' || mode === 'absoluteY') return this.draw(DATA, IMAGE_BYTES - 0x100);
    if (mode === 'indexedIndirect') return this.#baseFor(mode, this.pick(POINTERS));
    if (mode === 'indirectIndexed') return this.pick(POINTERS);
    return 0;
  }

  /** Set the index first, so that the address in page 0 is `target`, with a wrap or without. */
  #baseFor(mode: AddressMode, target: number): number {
    const index = this.draw(0, 0xff);
    this.#code(mode === 'zeroPageY' ? 'LDY' : 'LDX', 'immediate', index);
    return (target - index) & 0xff;
  }
}

/** The program of a seed, or undefined when it does not fit or a branch of it does not reach. */
export function generateProgram(seed: number): GeneratedProgram | undefined {
  const generator = new Generator(seed);
  generator.program();
  const { lines } = generator;
  const image = Uint8Array.from({ length: IMAGE_BYTES }, (_, i) => Math.floor(hashNoise(seed, 1, i) * 256));
  for (const pointer of POINTERS) {
    const high = (pointer + 1) & 0xff;
    image[high] = (DATA >> 8) + Math.floor(hashNoise(seed, 2, pointer) * 7);
  }
  image[BIT_6] = 0x40;
  const start = 0x200 + generator.draw(0, 0xff);
  return generator.hasCounters && encodeLines(lines, start, DATA, image) ? { image, start, lines } : undefined;
}
