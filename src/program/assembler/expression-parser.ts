import { applyUnary, type BinaryOperator, type UnaryOperator } from './arithmetic.ts';
import { binaryOf } from './evaluation.ts';
import { Fault, spanOf } from './messages.ts';
import { type Expression, numberExpression } from './symbols.ts';
import type { Token } from './token.ts';
import type { TokenCursor } from './token-cursor.ts';
import { refuseDirective } from './unsupported.ts';

/** What an expression asks of the program around it. */
export interface ExpressionContext {
  /** The place of the next byte: `*`. */
  here(): Expression;
  /** A symbol by its name. `path` = the scopes before it, from the outermost; `isRooted` = written with `::` in front. */
  mention(name: Token, path: readonly Token[], isRooted: boolean): Expression;
  mentionCheap(name: Token): Expression;
  mentionUnnamed(reference: Token): Expression;
  isDefined(name: Token, path: readonly Token[], isRooted: boolean): boolean;
  isConstant(expression: Expression): boolean;
  /** The byte that `.charmap` gives to a character. */
  characterCode(code: number): number;
  parameterCount(token: Token): number;
}

/** Binary operators from the loosest to the tightest; those of one row bind alike, from left to right (ca65's table). */
// biome-ignore format: one row a level
const LEVELS: readonly Readonly<Record<string, BinaryOperator>>[] = [
  { '||': '||', '.or': '||' },
  { '&&': '&&', '.and': '&&', '.xor': 'xor' },
  { '=': '=', '<>': '<>', '<': '<', '>': '>', '<=': '<=', '>=': '>=' },
  { '+': '+', '-': '-', '|': '|', '.bitor': '|' },
  { '*': '*', '/': '/', '.mod': 'mod', '&': '&', '.bitand': '&', '^': '^', '.bitxor': '^', '<<': '<<', '.shl': '<<', '>>': '>>', '.shr': '>>' },
];
const LOOKUP = LEVELS.map((level) => new Map(Object.entries(level)));

const UNARY = new Map<string, UnaryOperator>(
  Object.entries({ '-': '-', '+': '+', '~': '~', '.bitnot': '~', '<': '<', '>': '>', '^': '^' } as const),
);

/** Functions of one expression in brackets. */
const FUNCTIONS = new Map<string, UnaryOperator>(
  Object.entries({
    '.lobyte': '<',
    '.hibyte': '>',
    '.bankbyte': '^',
    '.loword': 'loword',
    '.hiword': 'hiword',
  } as const),
);

/** Directives that stand in expressions: functions and operators. */
export const FUNCTION_NAMES: readonly string[] = [
  ...FUNCTIONS.keys(),
  '.max',
  '.min',
  '.strlen',
  '.def',
  '.defined',
  '.const',
  '.blank',
  '.paramcount',
  '.mod',
  '.bitand',
  '.bitor',
  '.bitxor',
  '.bitnot',
  '.shl',
  '.shr',
  '.and',
  '.or',
  '.xor',
  '.not',
];

const DEEPEST = 100;
const EXPECTED = 'a number, a name or "("';

/** Read one expression; the cursor stands behind it then. Errors: a Fault that points to what is wrong. */
export function parseExpression(cursor: TokenCursor, context: ExpressionContext): Expression {
  return new ExpressionParser(cursor, context).whole();
}

class ExpressionParser {
  readonly #cursor: TokenCursor;
  readonly #context: ExpressionContext;
  #depth = 0;

  constructor(cursor: TokenCursor, context: ExpressionContext) {
    this.#cursor = cursor;
    this.#context = context;
  }

  /** `!` binds loosest of all: it stands at the beginning of an expression or of a bracket. */
  whole(): Expression {
    const token = this.#cursor.peek();
    const isNot =
      (token.kind === 'sign' && token.text === '!') || (token.kind === 'directive' && token.text === '.not');
    if (!isNot) return this.#binary(0);
    this.#cursor.take();
    return unary(
      '!',
      this.#nested(() => this.whole()),
      token,
    );
  }

  #binary(level: number): Expression {
    const operators = LOOKUP[level];
    if (operators === undefined) return this.#factor();
    let left = this.#binary(level + 1);
    for (;;) {
      const token = this.#cursor.peek();
      const operator = token.kind === 'sign' || token.kind === 'directive' ? operators.get(token.text) : undefined;
      if (operator === undefined) return left;
      this.#cursor.take();
      // ca65 takes the pair for the beginning of a comment.
      if (token.text === '/' && this.#cursor.isSign('*') && this.#cursor.peek().column === token.column + 1)
        this.#cursor.refuse(EXPECTED, 'Put a blank between "/" and "*"; a comment begins with ";".');
      left = binary(operator, left, this.#binary(level + 1), token);
    }
  }

  #factor(): Expression {
    const token = this.#cursor.peek();
    switch (token.kind) {
      case 'number':
        this.#cursor.take();
        return numberExpression(token.isCharacter ? this.#context.characterCode(token.value) : token.value);
      case 'name':
        return this.#name(false);
      case 'cheap':
        return this.#context.mentionCheap(this.#cursor.take());
      case 'unnamed':
        return this.#context.mentionUnnamed(this.#cursor.take());
      case 'sign':
        return this.#sign(token);
      case 'directive':
        return this.#function(token);
      case 'register':
        return this.#cursor.refuse(EXPECTED, cureForRegister(token.text));
      case 'size':
        return this.#cursor.refuse(
          EXPECTED,
          `"${token.text}" chooses the size of a whole operand: write it first, as in "lda ${token.text}:name".`,
        );
      case 'string':
        return this.#cursor.refuse(EXPECTED, `A character stands between single quotes, 'a'; a string is for .byte.`);
      default:
        return this.#cursor.refuse(EXPECTED);
    }
  }

  #sign(token: Token): Expression {
    if (token.text === '*') {
      this.#cursor.take();
      return this.#context.here();
    }
    if (token.text === '::') return this.#name(true);
    if (token.text === '(') {
      this.#cursor.take();
      const inner = this.#nested(() => this.whole());
      this.#cursor.expectSign(')');
      return inner;
    }
    const operator = UNARY.get(token.text);
    if (operator === undefined) {
      const cure = token.text === '!' ? 'Write brackets around it: "(!a)".' : undefined;
      return this.#cursor.refuse(EXPECTED, cure);
    }
    this.#cursor.take();
    return unary(
      operator,
      this.#nested(() => this.#factor()),
      token,
    );
  }

  #name(isRooted: boolean): Expression {
    const { name, path } = readName(this.#cursor, isRooted);
    return this.#context.mention(name, path, isRooted);
  }

  #function(token: Token): Expression {
    const operator = FUNCTIONS.get(token.text);
    if (operator !== undefined) {
      this.#cursor.take();
      return unary(operator, this.#bracketed(), token);
    }
    switch (token.text) {
      case '.bitnot':
        this.#cursor.take();
        return unary(
          '~',
          this.#nested(() => this.#factor()),
          token,
        );
      case '.max':
      case '.min':
        return this.#extreme(token, token.text === '.max' ? 'max' : 'min');
      case '.strlen':
        return this.#stringLength();
      case '.def':
      case '.defined':
        return this.#isDefined();
      case '.const':
        this.#cursor.take();
        return numberExpression(this.#context.isConstant(this.#bracketed()) ? 1 : 0);
      case '.blank':
        return this.#isBlank();
      case '.paramcount':
        return numberExpression(this.#context.parameterCount(this.#cursor.take()));
      case '.not':
        return this.#cursor.refuse(EXPECTED, 'Write brackets around it: "(.not a)".');
      default:
        return refuseDirective(token, FUNCTION_NAMES);
    }
  }

  #bracketed(): Expression {
    this.#cursor.expectSign('(');
    const inner = this.#nested(() => this.whole());
    this.#cursor.expectSign(')');
    return inner;
  }

  #extreme(token: Token, operator: 'max' | 'min'): Expression {
    this.#cursor.take();
    this.#cursor.expectSign('(');
    const left = this.#nested(() => this.whole());
    this.#cursor.expectSign(',');
    const right = this.#nested(() => this.whole());
    this.#cursor.expectSign(')');
    return binary(operator, left, right, token);
  }

  #stringLength(): Expression {
    this.#cursor.take();
    this.#cursor.expectSign('(');
    const { text } = this.#cursor.expect('string', 'a string');
    this.#cursor.expectSign(')');
    return numberExpression(text.length);
  }

  #isDefined(): Expression {
    this.#cursor.take();
    this.#cursor.expectSign('(');
    const isRooted = this.#cursor.isSign('::');
    const { name, path } = readName(this.#cursor, isRooted);
    this.#cursor.expectSign(')');
    return numberExpression(this.#context.isDefined(name, path, isRooted) ? 1 : 0);
  }

  /** `.blank(argument)` and `.blank({argument})`: whether nothing stands between the brackets. */
  #isBlank(): Expression {
    this.#cursor.take();
    this.#cursor.expectSign('(');
    const isBraced = this.#cursor.skipSign('{');
    const closing = isBraced ? '}' : ')';
    let count = 0;
    for (let depth = 0; depth > 0 || !this.#cursor.isSign(closing); count++) {
      if (this.#cursor.isAtEnd) this.#cursor.refuse(`"${closing}"`);
      const { kind, text } = this.#cursor.take();
      if (kind === 'sign' && text === '(') depth++;
      if (kind === 'sign' && text === ')') depth--;
    }
    if (isBraced) this.#cursor.expectSign('}');
    this.#cursor.expectSign(')');
    return numberExpression(count === 0 ? 1 : 0);
  }

  #nested<T>(parse: () => T): T {
    if (++this.#depth > DEEPEST) {
      throw new Fault(
        'ASM_LIMIT',
        { what: 'brackets and signs inside each other', limit: `${DEEPEST} levels` },
        spanOf(this.#cursor.last),
      );
    }
    const result = parse();
    this.#depth--;
    return result;
  }
}

/** A name with its scopes, `a::b::c` or `::a`; cheap local labels may be asked for too. */
export function readName(
  cursor: TokenCursor,
  isRooted: boolean,
): { readonly name: Token; readonly path: readonly Token[] } {
  if (isRooted) cursor.expectSign('::');
  if (!isRooted && cursor.peek().kind === 'cheap') return { name: cursor.take(), path: [] };
  const path: Token[] = [];
  let name = cursor.expect('name', 'a name');
  while (cursor.skipSign('::')) {
    path.push(name);
    name = cursor.expect('name', 'a name');
  }
  return { name, path };
}

const cureForRegister = (name: string): string =>
  name === 'A'
    ? 'A is a register: write "$A" for ten, or give the symbol another name.'
    : 'A, X and Y are the registers: give the symbol another name.';

/** An operation; computed at once when its operand is a number. */
function unary(operator: UnaryOperator, operand: Expression, token: Token): Expression {
  if (operand.kind === 'number') return numberExpression(applyUnary(operator, operand.value));
  return { kind: 'unary', operator, operand, token };
}

function binary(operator: BinaryOperator, left: Expression, right: Expression, token: Token): Expression {
  if (left.kind === 'number' && right.kind === 'number') {
    return numberExpression(binaryOf({ operator, token }, left.value, right.value));
  }
  return { kind: 'binary', operator, left, right, token };
}
