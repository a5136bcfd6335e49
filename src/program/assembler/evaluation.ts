import { applyBinary, applyUnary } from './arithmetic.ts';
import { type Knowledge, refuseSize } from './expression-study.ts';
import { Fault, KnownFault, spanOf } from './messages.ts';
import { type AssemblerSymbol, type Expression, resolve } from './symbols.ts';
import type { Token } from './token.ts';

const DEEPEST = 1000;
const CODES = { division: 'ASM_DIVISION', large: 'ASM_RESULT_LARGE', shift: 'ASM_SHIFT' } as const;

/** ld65 keeps numbers of expressions with addresses in 32 bits with a sign. */
const LARGEST = 0x7fff_ffff;

/**
 * The final value of an expression, when every label has its address.
 *
 * Errors: a Fault for a division by zero, a result that is too large or a symbol defined by itself; a KnownFault when the
 * reason was given before, as for every symbol that is not defined (symbol-check.ts). Each symbol is computed once.
 */
export function evaluate(expression: Expression, knowledge: Knowledge, depth = 0): number {
  if (depth > DEEPEST) refuseSize(expression);
  switch (expression.kind) {
    case 'number':
      return expression.value;
    case 'place':
      return expression.segment.start + expression.offset;
    case 'unnamed': {
      const label = knowledge.unnamed[expression.index];
      if (label !== undefined) return label.segment.start + label.offset;
      throw new Fault('ASM_UNNAMED_LABEL', { found: expression.token.text }, spanOf(expression.token));
    }
    case 'symbol': {
      const symbol = resolve(expression.symbol, expression.isQualified);
      if (symbol === undefined) throw new KnownFault();
      return symbolValue(symbol, knowledge, depth + 1);
    }
    case 'unary':
      return applyUnary(expression.operator, partOf(expression, expression.operand, knowledge, depth));
    case 'binary': {
      const left = partOf(expression, expression.left, knowledge, depth);
      const right = partOf(expression, expression.right, knowledge, depth);
      return binaryOf(expression, left, right);
    }
  }
}

/** The value of an operand. */
function partOf(
  { token }: { readonly token: Token },
  operand: Expression,
  knowledge: Knowledge,
  depth: number,
): number {
  const value = evaluate(operand, knowledge, depth + 1);
  if (value <= LARGEST && value >= -LARGEST - 1) return value;
  throw new Fault('ASM_RESULT_LARGE', { found: `${value}, with an address` }, spanOf(token));
}

/** Compute an operation, or say why it has no result. */
export function binaryOf(
  { operator, token }: Pick<Extract<Expression, { kind: 'binary' }>, 'operator' | 'token'>,
  a: number,
  b: number,
): number {
  const value = applyBinary(operator, a, b);
  if (typeof value === 'number') return value;
  const code = CODES[value];
  throw new Fault(code, { found: `${a} ${operator} ${b}` }, spanOf(token));
}

/** The final value of a defined symbol. */
export function symbolValue(symbol: AssemblerSymbol, knowledge: Knowledge, depth = 0): number {
  const { definition } = symbol;
  if (definition === null) throw new KnownFault();
  if (definition.kind === 'label') return definition.segment.start + definition.offset;
  if (symbol.isKnownFault) throw new KnownFault();
  if (symbol.finalValue === 'busy') {
    symbol.isKnownFault = true;
    throw new Fault('ASM_SYMBOL_CIRCULAR', { name: symbol.name }, spanOf(symbol.token));
  }
  if (symbol.finalValue !== 'open') return symbol.finalValue;
  symbol.finalValue = 'busy';
  try {
    symbol.finalValue = evaluate(definition.value, knowledge, depth + 1);
  } catch (thrown) {
    symbol.finalValue = 'open';
    symbol.isKnownFault = true;
    throw thrown;
  }
  return symbol.finalValue;
}
