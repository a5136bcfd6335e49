import type { AddressMode, OpcodeSpec } from '../../references/opcodes.ts';
import type { Assembly, Fixup } from './assembly.ts';
import { constantOf, study } from './expression-study.ts';
import { cureForForm } from './form-cure.ts';
import { type Forms, syntaxOf } from './instruction-forms.ts';
import { Fault, spanOf } from './messages.ts';
import { type Operand, parseOperand } from './operand.ts';
import type { Expression } from './symbols.ts';
import type { Token } from './token.ts';
import type { TokenCursor } from './token-cursor.ts';

type Addressed = Extract<Operand, { expression: Expression }>;

/** Forms of an address: with one byte, with two. */
const ADDRESS_MODES: Readonly<Record<'direct' | 'x' | 'y', readonly [AddressMode, AddressMode]>> = {
  direct: ['zeroPage', 'absolute'],
  x: ['zeroPageX', 'absoluteX'],
  y: ['zeroPageY', 'absoluteY'],
};

const NAMES: Readonly<Record<Operand['shape'], string>> = {
  none: 'form without an operand',
  accumulator: 'form for the accumulator',
  immediate: 'immediate form (#)',
  direct: 'form for an address',
  x: 'form for an address with ",x"',
  y: 'form for an address with ",y"',
  indirect: 'form for a pointer "(address)"',
  indexedIndirect: 'form "(zeropage,x)"',
  indirectIndexed: 'form "(zeropage),y"',
};

/** Assemble one instruction; the cursor stands behind the mnemonic. Errors: a Fault. */
export function encodeInstruction(mnemonic: Token, forms: Forms, cursor: TokenCursor, assembly: Assembly): void {
  if (cursor.isSign('=') || cursor.isSign(':=') || cursor.isSign(':'))
    cursor.refuse('an operand', `"${mnemonic.text}" is an instruction: give the symbol another name.`);
  if (forms.has('relative')) {
    encodeBranch(mnemonic, forms, cursor, assembly);
    return;
  }
  const operand = parseOperand(cursor, assembly);
  if (!('expression' in operand)) {
    const implied = operand.shape === 'none' ? forms.get('implied') : undefined;
    putOpcode(implied ?? forms.get('accumulator') ?? refuseForm(mnemonic, forms, operand), assembly);
  } else if (operand.shape === 'direct' || operand.shape === 'x' || operand.shape === 'y') {
    encodeAddress(mnemonic, forms, operand, operand.shape, assembly);
  } else {
    const form = forms.get(operand.shape) ?? refuseForm(mnemonic, forms, operand);
    const isTable = operand.shape === 'indexedIndirect';
    if (isTable && study(operand.expression, assembly).size > 1) refuseAddress(mnemonic, forms, operand, 2, form);
    putOpcode(form, assembly);
    const zeroPageForm = form.mode === 'immediate' ? null : syntaxOf(mnemonic.text, forms, [form.mode]);
    if (operand.shape === 'indirect') assembly.deferred('pointer', operand.expression, operand.span);
    else putValue('byte', operand, assembly, { zeroPageForm });
  }
}

/** The operand of a branch is a plain expression: brackets around it mean no pointer. */
function encodeBranch(mnemonic: Token, forms: Forms, cursor: TokenCursor, assembly: Assembly): void {
  const first = cursor.peek();
  const isPlain = first.kind !== 'register' && first.kind !== 'size' && !cursor.isSign('#') && !cursor.isAtEnd;
  if (!isPlain) refuseForm(mnemonic, forms, parseOperand(cursor, assembly));
  const expression = assembly.expression(cursor);
  const span = cursor.spanFrom(first);
  cursor.expectEnd();
  putOpcode(forms.get('relative')!, assembly);
  assembly.deferred('branch', expression, span);
}

function encodeAddress(
  mnemonic: Token,
  forms: Forms,
  operand: Addressed,
  shape: 'direct' | 'x' | 'y',
  assembly: Assembly,
): void {
  const [short, long] = ADDRESS_MODES[shape].map((mode) => forms.get(mode));
  const { size } = study(operand.expression, assembly);
  const chosen = chooseForm(short, long, operand, size);
  if (chosen === undefined) refuseAddress(mnemonic, forms, operand, size, short);
  putOpcode(chosen, assembly);
  const isShort = chosen === short;
  if (isShort && operand.isPart && constantOf(operand.expression, assembly) === undefined) {
    assembly.warning('ASM_MISSING_HASH', {}, operand.span);
  }
  if (isShort && shape === 'direct' && forms.has('immediate')) checkPlainNumber(operand, assembly);
  putValue(isShort ? 'byte' : 'word', operand, assembly, {
    isGuess: !isShort && short !== undefined && size === 0 && operand.forced === null,
  });
}

/** A decimal number alone is seldom meant for an address: `lda 5`. */
function checkPlainNumber({ expression, span, forced }: Addressed, assembly: Assembly): void {
  const { source, column, length } = span;
  const written = source.text.slice(column, column + length);
  const isPlain = expression.kind === 'number' && forced === null && /^\d+$/.test(written);
  if (isPlain && source === assembly.origin.source) assembly.warning('ASM_PLAIN_ADDRESS', { found: written }, span);
}

/** Zero page if the address is known to lie there, or nothing else exists; absolute if it is not known yet. */
function chooseForm(
  short: OpcodeSpec | undefined,
  long: OpcodeSpec | undefined,
  { forced }: Addressed,
  size: number,
): OpcodeSpec | undefined {
  if (forced === 3 || size === 3) return undefined;
  if (forced === 2) return long;
  if (forced === 1) return size === 2 ? undefined : short;
  if (size === 1) return short ?? long;
  return size === 0 ? (long ?? short) : long;
}

function putOpcode({ opcode }: OpcodeSpec, assembly: Assembly): void {
  assembly.byte(opcode);
  const record = assembly.records[assembly.records.length - 1];
  if (record !== undefined) record.isInstruction = true;
}

/** Numbers that fit are put at once, all others when every address is known. */
function putValue(
  kind: 'byte' | 'word',
  { expression, span }: Addressed,
  assembly: Assembly,
  kept: Partial<Pick<Fixup, 'isGuess' | 'zeroPageForm'>> = {},
): void {
  if (expression.kind === 'number' && expression.value >= 0 && expression.value <= (kind === 'byte' ? 0xff : 0xffff)) {
    assembly.byte(expression.value & 0xff);
    if (kind === 'word') assembly.byte(expression.value >> 8);
    return;
  }
  assembly.deferred(kind, expression, span, kept);
}

function refuseForm(mnemonic: Token, forms: Forms, operand: Operand): never {
  const name = mnemonic.text.toUpperCase();
  const span = 'span' in operand ? operand.span : spanOf(mnemonic);
  const cure = cureForForm(name, forms, operand.shape);
  throw new Fault('ASM_FORM', { name, form: NAMES[operand.shape], forms: syntaxOf(name, forms), cure }, span);
}

function refuseAddress(
  mnemonic: Token,
  forms: Forms,
  operand: Addressed,
  size: number,
  short: OpcodeSpec | undefined,
): never {
  if (size === 3)
    throw new Fault(
      'ASM_RANGE',
      {
        what: 'the address',
        found: 'more than 16 bits',
        low: 0,
        high: 0xffff,
        cure: 'Write an address of the memory.',
      },
      operand.span,
    );
  const isTooLarge = size === 2 && short !== undefined;
  if (!isTooLarge) refuseForm(mnemonic, forms, operand);
  const form = syntaxOf(mnemonic.text, forms, [short!.mode]);
  const other = operand.forced === 1 ? ', or take "z:" out' : '';
  throw new Fault('ASM_NOT_ZERO_PAGE', { form, other }, operand.span);
}
