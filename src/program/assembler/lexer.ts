import type { ErrorCode } from '../../errors/catalogue.ts';
import type { ErrorDetails } from '../../errors/latelight-error.ts';
import { readCycleNote, type TextRange } from './cycle-note.ts';
import type { SourceLine } from './source-files.ts';
import type { Token, TokenKind } from './token.ts';

/** A line taken apart. */
export interface LexedLine {
  readonly source: SourceLine;
  readonly tokens: readonly Token[];
  /** The note of cycles in its comment, see cycle-note.ts. */
  readonly note: LineNote | null;
  readonly fault: LexicalFault | null;
}

/** A note of cycles with its numbers as tokens. */
export interface LineNote {
  readonly kind: 'open' | 'close' | 'misspelt';
  readonly low: readonly Token[];
  readonly high: readonly Token[];
  /** Where the comment begins. */
  readonly column: number;
}

/** Why a line cannot be taken apart; the line has no tokens then. */
export interface LexicalFault {
  readonly code: ErrorCode;
  readonly details: ErrorDetails;
  readonly column: number;
  readonly length: number;
}

const PATTERN = new RegExp(
  [
    /[ \t\r\f]+/,
    /;(?<comment>.*)/,
    /(?<size>[AaFfZz]):/,
    /(?<name>[A-Za-z_]\w*)/,
    /(?<cheap>@\w+)/,
    /(?<directive>\.[A-Za-z_]\w*)/,
    /\$(?<hexadecimal>\w*)/,
    /%(?<binary>\w+)/,
    /(?<decimal>\d\w*)/,
    /'(?<character>[\x20-\x7e\t])'/,
    /"(?<string>[^"]*)"/,
    /(?<unnamed>:(?:\++|-+))/,
    /(?<sign>::|:=|<>|<=|>=|<<|>>|&&|\|\||[-+*/&|^~<>=!()[\]{}#,:])/,
  ]
    .map(({ source }) => source)
    .join('|'),
  'y',
);

const LARGEST_NUMBER = 0xffffffff;

/** Take one line apart. Never throws: a fault is part of the result. */
export function lexLine(source: SourceLine): LexedLine {
  const tokens: Token[] = [];
  let note: LineNote | null = null;
  PATTERN.lastIndex = 0;
  while (PATTERN.lastIndex < source.text.length) {
    const column = PATTERN.lastIndex;
    const groups = PATTERN.exec(source.text)?.groups;
    if (groups === undefined) return broken(source, strangeCharacter(source.text, column));
    const length = PATTERN.lastIndex - column;
    if (groups['comment'] !== undefined) {
      note = noteOf(groups['comment'], source, column);
      break;
    }
    const token = tokenOf(groups, source, column, length);
    if (token === null) continue;
    if ('code' in token) return broken(source, token);
    tokens.push(token);
  }
  return { source, tokens, note, fault: null };
}

/** A note whose numbers cannot be read is misspelt. */
function noteOf(comment: string, source: SourceLine, column: number): LineNote | null {
  const note = readCycleNote(comment, column + 1);
  if (note === null) return null;
  if (note.kind !== 'open') return { kind: note.kind, low: [], high: [], column };
  const [low, high] = [note.low, note.high].map((range) => tokensWithin(range, source)) as [Token[], Token[]];
  return { kind: low.length === 0 || high.length === 0 ? 'misspelt' : 'open', low, high, column };
}

function tokensWithin({ column, length }: TextRange, source: SourceLine): Token[] {
  const text = ' '.repeat(column) + source.text.slice(column, column + length);
  return lexLine({ ...source, text }).tokens.map((token) => ({ ...token, source }));
}

const broken = (source: SourceLine, fault: LexicalFault): LexedLine => ({
  source,
  tokens: [],
  note: null,
  fault,
});

type Groups = Record<string, string | undefined>;

function tokenOf(groups: Groups, source: SourceLine, column: number, length: number): Token | LexicalFault | null {
  const make = (kind: TokenKind, text: string, value = 0, isCharacter = false): Token => ({
    kind,
    text,
    value,
    source,
    column,
    length,
    isCharacter,
  });
  const { name, sign, directive, cheap, character, string, unnamed, size } = groups;
  if (name !== undefined) return /^[AXYaxy]$/.test(name) ? make('register', name.toUpperCase()) : make('name', name);
  if (sign !== undefined) return make('sign', sign);
  if (directive !== undefined) return make('directive', directive.toLowerCase());
  if (cheap !== undefined) return make('cheap', cheap);
  if (character !== undefined) return make('number', `'${character}'`, character.charCodeAt(0), true);
  if (string !== undefined) return stringToken(string, make, column, length);
  if (unnamed !== undefined)
    return make('unnamed', unnamed, unnamed[1] === '+' ? unnamed.length - 1 : 1 - unnamed.length);
  if (size !== undefined) return make('size', `${size.toLowerCase()}:`);
  const value = numberOf(groups);
  if (value === undefined) return null;
  const written = source.text.slice(column, column + length);
  if (Number.isNaN(value)) return { code: 'ASM_NUMBER', details: { found: `"${written}"` }, column, length };
  if (value > LARGEST_NUMBER) return { code: 'ASM_NUMBER_LARGE', details: { found: written }, column, length };
  return make('number', written, value);
}

function stringToken(
  text: string,
  make: (kind: TokenKind, text: string) => Token,
  column: number,
  length: number,
): Token | LexicalFault {
  const strange = /[^\x20-\x7e\t]/.exec(text);
  if (strange === null) return make('string', text);
  return { code: 'ASM_STRING_CHARACTER', details: { found: `"${strange[0]}"` }, column, length };
}

/** Value of a number; NaN when its digits are wrong; undefined when there is no number (blank space). */
function numberOf({ hexadecimal, binary, decimal }: Groups): number | undefined {
  if (hexadecimal !== undefined)
    return /^[0-9A-Fa-f]+$/.test(hexadecimal) ? Number.parseInt(hexadecimal, 16) : Number.NaN;
  if (binary !== undefined) return /^[01]+$/.test(binary) ? Number.parseInt(binary, 2) : Number.NaN;
  if (decimal === undefined) return undefined;
  if (/^[0-9A-Fa-f]+[hH]$/.test(decimal)) return Number.parseInt(decimal, 16);
  return /^\d+$/.test(decimal) ? Number.parseInt(decimal, 10) : Number.NaN;
}

function strangeCharacter(text: string, column: number): LexicalFault {
  const found = text[column]!;
  const rest = text.length - column;
  if (found === '"') return { code: 'ASM_STRING_OPEN', details: {}, column, length: rest };
  if (found === "'") {
    const written = /^'[^']{0,20}'?/.exec(text.slice(column))?.[0] ?? found;
    return { code: 'ASM_CHARACTER_CONSTANT', details: { found: written }, column, length: written.length };
  }
  const code = text.codePointAt(column)!;
  const length = code > 0xffff ? 2 : 1;
  const what = code < 0x20 ? `code ${code}` : `"${String.fromCodePoint(code)}"`;
  return { code: 'ASM_CHARACTER', details: { found: what }, column, length };
}
