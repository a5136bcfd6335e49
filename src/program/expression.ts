import { LatelightError } from '../errors/latelight-error.ts';
import type { Symbols } from './labels.ts';
import { unknownName } from './symbol-file.ts';

/**
 * Expressions of probes: what a scenario says about the program's memory.
 *
 *   numbers      12  $0C  %1100        symbols      lampX  Player::x  @ is not allowed
 *   memory       byte(address)  word(address)  signed(address)
 *   operators    - ~ !   * / %   + -   << >>   < <= > >=   == !=   &   ^   |   &&   ||   (highest first)
 *
 * Division drops the fraction towards zero and gives 0 for a divisor of 0, so that a probe never throws in a run.
 */
export interface ExpressionNames {
  /** Value of a symbol; undefined when there is none of that name. */
  valueOf(name: string): number | undefined;
  /** All symbols, for what a message says of a name that is not known. */
  readonly symbols?: Symbols;
  /** Names that a run provides, for instance `i` or `value`. */
  readonly variables: readonly string[];
}

/** What an expression sees when it is evaluated. */
export interface ExpressionScene {
  peek(address: number): number;
  readonly variables: Readonly<Record<string, number>>;
}

export type Expression = (scene: ExpressionScene) => number;

const LONGEST = 500;
const DEEPEST = 40;
const BINARY: Readonly<Record<string, readonly [precedence: number, apply: (a: number, b: number) => number]>> = {
  '||': [1, (a, b) => (a !== 0 || b !== 0 ? 1 : 0)],
  '&&': [2, (a, b) => (a !== 0 && b !== 0 ? 1 : 0)],
  '|': [3, (a, b) => a | b],
  '^': [4, (a, b) => a ^ b],
  '&': [5, (a, b) => a & b],
  '==': [6, (a, b) => (a === b ? 1 : 0)],
  '!=': [6, (a, b) => (a !== b ? 1 : 0)],
  '<': [7, (a, b) => (a < b ? 1 : 0)],
  '<=': [7, (a, b) => (a <= b ? 1 : 0)],
  '>': [7, (a, b) => (a > b ? 1 : 0)],
  '>=': [7, (a, b) => (a >= b ? 1 : 0)],
  '<<': [8, (a, b) => a << b],
  '>>': [8, (a, b) => a >> b],
  '+': [9, (a, b) => a + b],
  '-': [9, (a, b) => a - b],
  '*': [10, (a, b) => a * b],
  '/': [10, (a, b) => (b === 0 ? 0 : Math.trunc(a / b))],
  '%': [10, (a, b) => (b === 0 ? 0 : a % b)],
};
const TOKEN =
  /\s*(?:(\$[0-9a-fA-F]+|%[01]+|[0-9]+)|([A-Za-z_][A-Za-z0-9_]*(?:::[A-Za-z_][A-Za-z0-9_]*)*)|(\|\||&&|==|!=|<=|>=|<<|>>|[-+*/%&|^~!<>()]))/y;

interface Token {
  readonly kind: 'number' | 'name' | 'sign' | 'end';
  readonly text: string;
  readonly column: number;
}

/** Compile an expression. Errors: EXPRESSION_SYNTAX, EXPRESSION_NAME, EXPRESSION_NAME_TWICE. */
export function compileExpression(text: string, names: ExpressionNames): Expression {
  return new Compiler(text, names).compile();
}

class Compiler {
  readonly #text: string;
  readonly #names: ExpressionNames;
  readonly #tokens: readonly Token[];
  #next = 0;

  constructor(text: string, names: ExpressionNames) {
    this.#text = text;
    this.#names = names;
    this.#tokens = tokenize(text);
  }

  compile(): Expression {
    const expression = this.#binary(1, 0);
    const { kind } = this.#peek();
    if (kind !== 'end') this.#fail('an operator or the end');
    return expression;
  }

  #binary(lowest: number, depth: number): Expression {
    let left = this.#unary(depth);
    for (;;) {
      const operator = this.#peek().kind === 'sign' ? BINARY[this.#peek().text] : undefined;
      if (operator === undefined || operator[0] < lowest) return left;
      this.#next++;
      const [precedence, apply] = operator;
      const a = left;
      const b = this.#binary(precedence + 1, depth + 1);
      left = (scene) => apply(a(scene), b(scene));
    }
  }

  #unary(depth: number): Expression {
    if (depth > DEEPEST) this.#fail(`at most ${DEEPEST} levels of nesting`);
    const token = this.#peek();
    this.#next++;
    if (token.kind === 'number') return constant(numberOf(token.text));
    if (token.kind === 'name') return this.#name(token, depth);
    if (token.text === '(') return this.#closed(depth);
    const inner = token.text === '-' || token.text === '~' || token.text === '!' ? this.#unary(depth + 1) : undefined;
    if (inner === undefined) {
      this.#next--;
      return this.#fail('a number, a symbol, byte(...) or "("');
    }
    if (token.text === '-') return (scene) => -inner(scene);
    if (token.text === '~') return (scene) => ~inner(scene);
    return (scene) => (inner(scene) === 0 ? 1 : 0);
  }

  /** An expression followed by the closing bracket. */
  #closed(depth: number): Expression {
    const inner = this.#binary(1, depth + 1);
    if (this.#peek().text !== ')') this.#fail('")"');
    this.#next++;
    return inner;
  }

  #name({ text }: Token, depth: number): Expression {
    if (this.#peek().text === '(' && (text === 'byte' || text === 'word' || text === 'signed')) {
      this.#next++;
      return memory(text, this.#closed(depth));
    }
    if (this.#names.variables.includes(text)) return (scene) => scene.variables[text] ?? 0;
    const value = this.#names.valueOf(text);
    if (value !== undefined) return constant(value);
    const { symbols = new Map(), variables } = this.#names;
    throw unknownName(this.#text, text, symbols, variables);
  }

  #peek(): Token {
    return this.#tokens[this.#next] ?? this.#tokens[this.#tokens.length - 1]!;
  }

  #fail(expected: string): never {
    const token = this.#peek();
    const found = token.kind === 'end' ? 'nothing more' : `"${token.text}"`;
    throw new LatelightError('EXPRESSION_SYNTAX', { text: this.#text, found, column: token.column, expected });
  }
}

const constant =
  (value: number): Expression =>
  () =>
    value;

function memory(what: 'byte' | 'word' | 'signed', address: Expression): Expression {
  const at = (scene: ExpressionScene, offset: number): number => scene.peek((address(scene) + offset) & 0xffff);
  if (what === 'byte') return (scene) => at(scene, 0);
  if (what === 'word') return (scene) => at(scene, 0) + 256 * at(scene, 1);
  return (scene) => ((at(scene, 0) + 128) & 0xff) - 128;
}

const numberOf = (text: string): number =>
  text.startsWith('$')
    ? Number.parseInt(text.slice(1), 16)
    : text.startsWith('%')
      ? Number.parseInt(text.slice(1), 2)
      : Number(text);

function tokenize(text: string): Token[] {
  if (text.length > LONGEST) {
    throw new LatelightError('EXPRESSION_SYNTAX', {
      text: `${text.slice(0, 20)}...`,
      found: `${text.length} characters`,
      column: LONGEST + 1,
      expected: `at most ${LONGEST}`,
    });
  }
  const tokens: Token[] = [];
  const end = text.trimEnd().length;
  TOKEN.lastIndex = 0;
  while (TOKEN.lastIndex < end) {
    const start = TOKEN.lastIndex;
    const match = TOKEN.exec(text);
    if (match === null) {
      const column = start + (text.slice(start).length - text.slice(start).trimStart().length) + 1;
      throw new LatelightError('EXPRESSION_SYNTAX', {
        text,
        found: `"${text[column - 1]}"`,
        column,
        expected: 'a number, a symbol or an operator',
      });
    }
    const [whole, number, name, sign] = match;
    if (number?.startsWith('%') && endsOperand(tokens[tokens.length - 1])) {
      // Behind an operand `%1` is no binary number but a remainder.
      const column = start + whole.length - number.length + 1;
      tokens.push({ kind: 'sign', text: '%', column });
      TOKEN.lastIndex = column;
      continue;
    }
    const token = number ?? name ?? sign!;
    const kind = number !== undefined ? 'number' : name !== undefined ? 'name' : 'sign';
    tokens.push({ kind, text: token, column: start + whole.length - token.length + 1 });
  }
  tokens.push({ kind: 'end', text: '', column: end + 1 });
  return tokens;
}

const endsOperand = (token: Token | undefined): boolean =>
  token !== undefined && (token.kind === 'number' || token.kind === 'name' || token.text === ')');
