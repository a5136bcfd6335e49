import { type Mnemonic, OPCODES, type OpcodeSpec } from '../../../references/opcodes.ts';
import type { Registers } from '../flags.ts';
import { IMPLIED_OPERATIONS, MODIFY_OPERATIONS, READ_OPERATIONS } from '../operations.ts';
import { BRANCH_CONDITIONS } from '../sequences.ts';

/** What an instruction does with an index register and with the flags; bits of `LoopStep.uses`. */
export const USES_X = 1;
export const USES_Y = 2;
export const COUNTS_X = 4;
export const COUNTS_Y = 8;
export const SETS_NZ = 16;
export const SETS_C = 32;
export const USES_C = 64;

/**
 * An instruction that a waiting loop may consist of. `spec` tells mode and cycles; of the operations it has the one that
 * belongs to its mode: a read one has the operand, an implied one nothing, an accumulator one gives the new A.
 */
export interface LoopStep {
  readonly spec: OpcodeSpec;
  readonly uses: number;
  readonly read?: (r: Registers, value: number) => void;
  readonly implied?: (r: Registers) => void;
  readonly accumulator?: (r: Registers, value: number) => number;
  /** A branch: the flag that it looks at, and whether it is taken when the flag is set. */
  readonly flag?: number;
  readonly isTakenIfSet?: boolean;
}

/** Without an operand, and not by way of I or the stack pointer. */
const IMPLIED: readonly Mnemonic[] = [
  'CLC',
  'CLD',
  'CLV',
  'DEX',
  'DEY',
  'INX',
  'INY',
  'NOP',
  'SEC',
  'SED',
  'TAX',
  'TAY',
  'TXA',
  'TYA',
];

const usedWithX: readonly Mnemonic[] = ['LDX', 'TAX', 'TXA'];
const usedWithY: readonly Mnemonic[] = ['LDY', 'TAY', 'TYA'];
const withoutNz: readonly Mnemonic[] = ['CLC', 'CLD', 'CLV', 'NOP', 'SEC', 'SED'];
const settingC: readonly Mnemonic[] = ['ADC', 'ASL', 'CLC', 'CMP', 'CPX', 'CPY', 'LSR', 'ROL', 'ROR', 'SBC', 'SEC'];
const usingC: readonly Mnemonic[] = ['ADC', 'ROL', 'ROR', 'SBC'];
const INDEXED_BY_X = ['zeroPageX', 'absoluteX', 'indexedIndirect'];
const INDEXED_BY_Y = ['zeroPageY', 'absoluteY', 'indirectIndexed'];

/** By opcode; undefined = a loop with it is never skipped. Documented opcodes that store nothing and call nothing. */
export const LOOP_STEPS: readonly (LoopStep | undefined)[] = OPCODES.map(stepOf);

function stepOf(spec: OpcodeSpec): LoopStep | undefined {
  const { mnemonic, mode, access, documented } = spec;
  if (!documented) return undefined;
  const branch = BRANCH_CONDITIONS[mnemonic];
  if (branch !== undefined) return { spec, uses: 0, flag: branch[0], isTakenIfSet: branch[1] };
  if (mnemonic === 'JMP') return mode === 'absolute' ? { spec, uses: 0 } : undefined;
  const uses = usesOf(spec);
  const accumulator = MODIFY_OPERATIONS[mnemonic];
  if (mode === 'accumulator' && accumulator !== undefined) return { spec, uses, accumulator };
  const implied = IMPLIED_OPERATIONS[mnemonic];
  if (mode === 'implied' && implied !== undefined && IMPLIED.includes(mnemonic)) return { spec, uses, implied };
  const read = READ_OPERATIONS[mnemonic];
  return access === 'read' && read !== undefined ? { spec, uses, read } : undefined;
}

function usesOf({ mnemonic, mode }: OpcodeSpec): number {
  let uses = 0;
  if (usedWithX.includes(mnemonic) || INDEXED_BY_X.includes(mode)) uses |= USES_X;
  if (usedWithY.includes(mnemonic) || INDEXED_BY_Y.includes(mode)) uses |= USES_Y;
  if (mnemonic === 'INX' || mnemonic === 'DEX') uses |= COUNTS_X;
  if (mnemonic === 'INY' || mnemonic === 'DEY') uses |= COUNTS_Y;
  if (!withoutNz.includes(mnemonic)) uses |= SETS_NZ;
  if (settingC.includes(mnemonic)) uses |= SETS_C;
  if (usingC.includes(mnemonic)) uses |= USES_C;
  return uses;
}
