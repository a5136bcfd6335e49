import { Fault, type Span, spanOf } from './messages.ts';
import type { SourceLine } from './source-files.ts';
import { cureForSyntax } from './syntax-cure.ts';
import { shown, type Token, type TokenKind } from './token.ts';

/** Reads the tokens of one statement from left to right. */
export class TokenCursor {
  readonly #tokens: readonly Token[];
  readonly #line: SourceLine;
  #end: Token | null = null;
  #next = 0;

  /** `line` is where an error at the end of the statement points to. */
  constructor(tokens: readonly Token[], line: SourceLine) {
    this.#tokens = tokens;
    this.#line = line;
  }

  get isAtEnd(): boolean {
    return this.#next >= this.#tokens.length;
  }

  /** The token that comes next; of kind `end` when there is none. */
  peek(ahead = 0): Token {
    return this.#tokens[this.#next + ahead] ?? this.#endToken;
  }

  /** The token that was taken last. */
  get last(): Token {
    return this.#tokens[this.#next - 1] ?? this.#endToken;
  }

  get #endToken(): Token {
    this.#end ??= endOf(this.#tokens, this.#line);
    return this.#end;
  }

  take(): Token {
    const token = this.peek();
    if (!this.isAtEnd) this.#next++;
    return token;
  }

  /** Everything that is left. */
  takeRest(): readonly Token[] {
    const rest = this.#tokens.slice(this.#next);
    this.#next = this.#tokens.length;
    return rest;
  }

  isSign(text: string, ahead = 0): boolean {
    const token = this.#tokens[this.#next + ahead];
    return token !== undefined && token.kind === 'sign' && token.text === text;
  }

  /** Take the sign if it comes next. */
  skipSign(text: string): boolean {
    if (!this.isSign(text)) return false;
    this.#next++;
    return true;
  }

  expectSign(text: string, cure?: string): void {
    if (!this.skipSign(text)) this.refuse(`"${text}"`, cure);
  }

  expect(kind: TokenKind, what: string, cure?: string): Token {
    if (this.peek().kind !== kind) this.refuse(what, cure);
    return this.take();
  }

  /** Nothing may follow. */
  expectEnd(expected = 'the end of the statement'): void {
    if (!this.isAtEnd) this.refuse(expected);
  }

  /** What comes next is not what is expected. */
  refuse(expected: string, cure?: string): never {
    const token = this.peek();
    const details = {
      found: shown(token),
      expected,
      cure: cure ?? cureForSyntax(token, this.#tokens[this.#next - 1], expected),
    };
    throw new Fault('ASM_SYNTAX', details, spanOf(token));
  }

  /** From a token to the one that was taken last. */
  spanFrom(first: Token): Span {
    return spanOf(first, this.last);
  }
}

function endOf(tokens: readonly Token[], line: SourceLine): Token {
  const last = tokens[tokens.length - 1];
  const source = last?.source ?? line;
  const column = last === undefined ? 0 : last.column + last.length;
  return { kind: 'end', text: '', value: 0, source, column, length: 1, isCharacter: false };
}
