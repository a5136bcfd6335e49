import type { SourceLine } from './source-files.ts';

/**
 * What a token is. `register` = A, X or Y alone; `size` = a: z: or f: before an operand; `unnamed` = a reference to a
 * label without a name, `:-` or `:++`; `sign` = operators and punctuation.
 */
export type TokenKind =
  | 'name'
  | 'cheap'
  | 'directive'
  | 'register'
  | 'size'
  | 'number'
  | 'string'
  | 'unnamed'
  | 'sign'
  | 'end';

export interface Token {
  readonly kind: TokenKind;
  /** As it is written; strings without their quotes, directives in lower case with their dot, registers in upper case. */
  readonly text: string;
  /** Number and character: its value. Unnamed label: how many labels forward, negative for backward. Else 0. */
  readonly value: number;
  /** Where it is written; for an argument of a macro that is the calling line. */
  readonly source: SourceLine;
  /** From 0. */
  readonly column: number;
  readonly length: number;
  /** Whether it was written between single quotes, so that `.charmap` applies. */
  readonly isCharacter: boolean;
  /** Made by the assembler for what is written there: the counter of a repetition, a local name of a macro. */
  readonly isMade?: boolean;
}

/** A token as an error message shows it. */
export function shown({ kind, text, source, column, length }: Token): string {
  if (kind === 'end') return 'the end of the line';
  const written = source.text.slice(column, column + length) || text;
  return kind === 'string' ? `the string ${written}` : `"${written}"`;
}
