import { compare, FLAG_C, FLAG_N, FLAG_Z, type Registers, setNZ } from '../flags.ts';
import { COUNTS_X, COUNTS_Y, type LoopStep, SETS_C, SETS_NZ, USES_C, USES_X, USES_Y } from './loop-steps.ts';

const NO_OPERAND = -1;
/** Values of a counter. */
const VALUES = 256;

/** Where a flag comes from: from before the round, from something constant, or from a register that may be a counter. */
const FROM_BEFORE = 0;
const FROM_CONSTANT = 1;
const FROM_X = 2;
const FROM_Y = 3;

/** Flags that were set together, and by what. */
interface FlagSource {
  from: number;
  /** The index register then. */
  value: number;
  /** What it was compared with; -1 = the flags are those of the register itself. */
  operand: number;
}

/** A branch whose flag comes from an index register. */
interface CounterBranch extends Readonly<FlagSource> {
  readonly flag: number;
  readonly isSet: boolean;
}

/**
 * What one round of a loop does with X and Y: whether they are counters, and which branches look at them. From that
 * follows for how many rounds the loop goes the same way.
 */
export class CounterWatch {
  /** What one round adds. */
  stepX = 0;
  stepY = 0;
  #countsOfX = 0;
  #countsOfY = 0;
  #uses = 0;
  /** A branch has looked at N or Z from before the round; something has used C from before it. */
  #usesNzFromBefore = false;
  #usesCFromBefore = false;
  /** C of a comparison of an index register has gone into A. */
  #mixesCounter = false;
  readonly #branches: CounterBranch[] = [];
  readonly #nz: FlagSource = { from: FROM_BEFORE, value: 0, operand: NO_OPERAND };
  readonly #carry: FlagSource = { from: FROM_BEFORE, value: 0, operand: NO_OPERAND };
  readonly #scratch: Registers = { a: 0, x: 0, y: 0, s: 0, p: 0 };

  /** A round begins. */
  begin(): void {
    this.stepX = 0;
    this.stepY = 0;
    this.#countsOfX = 0;
    this.#countsOfY = 0;
    this.#uses = 0;
    this.#usesNzFromBefore = false;
    this.#usesCFromBefore = false;
    this.#mixesCounter = false;
    this.#branches.length = 0;
    this.#nz.from = FROM_BEFORE;
    this.#carry.from = FROM_BEFORE;
  }

  /** A branch looks at a flag. */
  noteBranch(flag: number, isSet: boolean): void {
    const isNz = flag === FLAG_N || flag === FLAG_Z;
    if (!isNz && flag !== FLAG_C) return;
    const source = isNz ? this.#nz : this.#carry;
    if (source.from === FROM_BEFORE && isNz) this.#usesNzFromBefore = true;
    else if (source.from === FROM_BEFORE) this.#usesCFromBefore = true;
    if (source.from >= FROM_X) this.#branches.push({ ...source, flag, isSet });
  }

  /** Any other instruction is about to be carried out. */
  noteCarry({ uses }: LoopStep): void {
    if ((uses & USES_C) === 0) return;
    if (this.#carry.from === FROM_BEFORE) this.#usesCFromBefore = true;
    if (this.#carry.from >= FROM_X) this.#mixesCounter = true;
  }

  /** It has been carried out, with these index registers after it; `operand` is the byte that it has read, or anything. */
  note({ spec, uses }: LoopStep, { x, y }: Registers, operand: number): void {
    const { mnemonic } = spec;
    this.#uses |= uses;
    if ((uses & COUNTS_X) !== 0) {
      this.#countsOfX++;
      this.stepX = mnemonic === 'INX' ? 1 : -1;
    }
    if ((uses & COUNTS_Y) !== 0) {
      this.#countsOfY++;
      this.stepY = mnemonic === 'INY' ? 1 : -1;
    }
    const isX = mnemonic === 'CPX' || (uses & COUNTS_X) !== 0;
    const isY = mnemonic === 'CPY' || (uses & COUNTS_Y) !== 0;
    const from = isX ? FROM_X : isY ? FROM_Y : FROM_CONSTANT;
    const value = isX ? x : y;
    const compared = mnemonic === 'CPX' || mnemonic === 'CPY' ? operand : NO_OPERAND;
    if ((uses & SETS_NZ) !== 0) setSource(this.#nz, from, value, compared);
    if ((uses & SETS_C) !== 0) setSource(this.#carry, from, value, compared);
  }

  /**
   * Whether X or Y, or both, count from `before` to `after` the round, and nothing else depends on them but the branches
   * that were noted. A register that is as before is no counter: by the same conditions it stays so.
   */
  isCounting(before: Registers, after: Registers): boolean {
    if (after.a !== before.a || after.s !== before.s || this.#mixesCounter || this.#usesNzFromBefore) return false;
    if (after.x === before.x) this.stepX = 0;
    else if (this.#countsOfX !== 1 || (this.#uses & USES_X) !== 0) return false;
    if (after.y === before.y) this.stepY = 0;
    else if (this.#countsOfY !== 1 || (this.#uses & USES_Y) !== 0) return false;
    const isCarryOfCounter = this.#carry.from >= FROM_X;
    if (isCarryOfCounter && this.#usesCFromBefore) return false;
    const free = FLAG_N | FLAG_Z | (isCarryOfCounter ? FLAG_C : 0);
    return ((after.p ^ before.p) & ~free) === 0;
  }

  /** For how many rounds, the one noted included, all branches go as in it; `limit` if for more. */
  roundsAlike(limit: number): number {
    let rounds = limit;
    for (const branch of this.#branches) {
      const step = branch.from === FROM_X ? this.stepX : this.stepY;
      if (step === 0) continue;
      let k = 1;
      while (k < VALUES && this.#isSetAt(branch, (branch.value + k * step) & 0xff) === branch.isSet) k++;
      if (k < VALUES) rounds = Math.min(rounds, k);
    }
    return rounds;
  }

  #isSetAt({ operand, flag }: CounterBranch, value: number): boolean {
    if (operand < 0) setNZ(this.#scratch, value);
    else compare(this.#scratch, value, operand);
    return (this.#scratch.p & flag) !== 0;
  }
}

function setSource(source: FlagSource, from: number, value: number, operand: number): void {
  source.from = from;
  source.value = value;
  source.operand = operand;
}
