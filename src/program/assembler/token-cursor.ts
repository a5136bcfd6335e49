import { Fault, type Span, spanOf } from './messages.ts';
import type { SourceLine } from './source-files.ts';
import { shown, type Token, type TokenKind } from './token.ts';

/** Reads the tokens of one statement from left to right. */
export class TokenCursor {
  readonly #tokens: readonly Token[];
  readonly #end: Token;
  #next = 0;

  /** `line` is where an error at the end of the statement points to. */
  constructor(tokens: readonly Token[], line: SourceLine) {
    this.#tokens = tokens;
    this.#end = endOf(tokens, line);
  }

  get isAtEnd(): boolean {
    return this.#next >= this.#tokens.length;
  }

  /** The token that comes next; of kind `end` when there is none. */
  peek(ahead = 0): Token {
    return this.#tokens[this.#next + ahead] ?? this.#end;
  }

  /** The token that was taken last. */
  get last(): Token {
    return this.#tokens[this.#next - 1] ?? this.#end;
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
    const { kind, text: found } = this.peek(ahead);
    return kind === 'sign' && found === text;
  }

  /** Take the sign if it comes next. */
  skipSign(text: string): boolean {
    if (!this.isSign(text)) return false;
    this.#next++;
    return true;
  }

  expectSign(text: string): void {
    if (!this.skipSign(text)) this.refuse(`"${text}"`);
  }

  expect(kind: TokenKind, what: string): Token {
    if (this.peek().kind !== kind) this.refuse(what);
    return this.take();
  }

  /** Nothing may follow. */
  expectEnd(expected = 'the end of the statement'): void {
    if (!this.isAtEnd) this.refuse(expected);
  }

  /** What comes next is not what is expected. */
  refuse(expected: string, cure = 'Correct the statement; a comment begins with ";".'): never {
    const token = this.peek();
    throw new Fault('ASM_SYNTAX', { found: shown(token), expected, cure }, spanOf(token));
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
