import type { Assembly } from './assembly.ts';
import type { Span } from './messages.ts';
import type { Expression } from './symbols.ts';
import type { TokenCursor } from './token-cursor.ts';

/** What stands behind a mnemonic, before the form of the instruction is chosen. */
export type Operand =
  | { readonly shape: 'none' | 'accumulator' }
  | {
      /** `direct`, `x`, `y` = an address of either size, alone or with an index. */
      readonly shape: 'immediate' | 'direct' | 'x' | 'y' | 'indirect' | 'indexedIndirect' | 'indirectIndexed';
      readonly expression: Expression;
      readonly span: Span;
      /** Size written before it: `z:` 1, `a:` 2, `f:` 3. */
      readonly forced: 1 | 2 | 3 | null;
      /** Whether it begins with `<` or `>` or `^`. */
      readonly isPart: boolean;
    };

type Addressed = Exclude<Operand, { shape: 'none' | 'accumulator' }>;

const FORCED = { 'z:': 1, 'a:': 2, 'f:': 3 } as const;
const INDEX_CURE = 'An index is written as ",x" or ",y"; a pointer in the zero page as "(pointer),y" or "(table,x)".';

/** Read an operand up to the end of the statement. Errors: a Fault. */
export function parseOperand(cursor: TokenCursor, assembly: Assembly): Operand {
  if (cursor.isAtEnd) return { shape: 'none' };
  const first = cursor.peek();
  if (first.kind === 'register') return registerOperand(cursor);
  if (cursor.skipSign('#')) {
    const operand = addressed('immediate', cursor, assembly);
    cursor.expectEnd();
    return operand;
  }
  if (cursor.isSign('(')) return bracketed(cursor, assembly);
  const forced = first.kind === 'size' ? FORCED[cursor.take().text as keyof typeof FORCED] : null;
  if (forced !== null && cursor.isSign('(')) cursor.refuse('an address', 'A size goes before a plain address only.');
  const operand = addressed('direct', cursor, assembly, forced);
  const shape = indexShape(cursor);
  cursor.expectEnd('"," or the end of the statement');
  return { ...operand, shape };
}

function registerOperand(cursor: TokenCursor): Operand {
  const cure = 'A, X and Y are the registers: only A alone is an operand, as in "asl a". Give the symbol another name.';
  if (cursor.peek().text !== 'A') cursor.refuse('an operand', cure);
  cursor.take();
  if (cursor.isSign(',')) cursor.refuse('the end of the statement', 'The mnemonic names the register: "cmp #5".');
  cursor.expectEnd();
  return { shape: 'accumulator' };
}

function addressed(
  shape: Addressed['shape'],
  cursor: TokenCursor,
  assembly: Assembly,
  forced: Addressed['forced'] = null,
): Addressed {
  const first = cursor.peek();
  const isPart = first.kind === 'sign' && (first.text === '<' || first.text === '>' || first.text === '^');
  const expression = assembly.expression(cursor);
  return { shape, expression, span: cursor.spanFrom(first), forced, isPart };
}

function indexShape(cursor: TokenCursor): 'direct' | 'x' | 'y' {
  if (!cursor.skipSign(',')) return 'direct';
  const { kind, text } = cursor.peek();
  if (kind !== 'register' || text === 'A') cursor.refuse('"x" or "y"', INDEX_CURE);
  cursor.take();
  return text === 'X' ? 'x' : 'y';
}

/** `(address)`, `(zeropage,x)` or `(zeropage),y`. */
function bracketed(cursor: TokenCursor, assembly: Assembly): Operand {
  cursor.expectSign('(');
  const inner = addressed('indirect', cursor, assembly);
  if (cursor.skipSign(',')) {
    if (cursor.peek().text !== 'X') cursor.refuse('"x"', INDEX_CURE);
    cursor.take();
    cursor.expectSign(')');
    cursor.expectEnd();
    return { ...inner, shape: 'indexedIndirect' };
  }
  cursor.expectSign(')');
  if (cursor.skipSign(',')) {
    if (cursor.peek().text !== 'Y') cursor.refuse('"y"', INDEX_CURE);
    cursor.take();
    cursor.expectEnd();
    return { ...inner, shape: 'indirectIndexed' };
  }
  if (!cursor.isAtEnd) {
    cursor.refuse(
      '",y" or the end of the statement',
      'Brackets at the beginning of an operand mean a pointer: to calculate, write "0+(a+b)*2".',
    );
  }
  return inner;
}
