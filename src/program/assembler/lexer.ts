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
  /** The tokens end before a fault: the line cannot be assembled. */
  readonly isBroken: boolean;
}

/** A note of cycles with its numbers as tokens. */
export interface LineNote {
  readonly kind: 'open' | 'close' | 'misspelt';
  readonly low: readonly Token[];
  readonly high: readonly Token[];
  /** Where the comment begins. */
  readonly column: number;
}

/** Why a line cannot be taken apart; its tokens are those before the fault. */
export interface LexicalFault {
  readonly code: ErrorCode;
  readonly details: ErrorDetails;
  readonly column: number;
  readonly length: number;
}

/** Kinds of characters by their code; everything beyond ASCII has none. */
const LETTER = 1;
const DIGIT = 2;
const BLANK = 3;
const CLASSES = Uint8Array.from({ length: 128 }, (_, code) => {
  const character = String.fromCharCode(code);
  if (/[A-Za-z_]/.test(character)) return LETTER;
  if (/[0-9]/.test(character)) return DIGIT;
  return /[ \t\r\f]/.test(character) ? BLANK : 0;
});

const SIGNS_OF_TWO = new Set(['::', ':=', '<>', '<=', '>=', '<<', '>>', '&&', '||']);
const SIGNS = new Set('-+*/&|^~<>=!()[]{}#,:');
const SEMICOLON = 0x3b;

const BYTE_ORDER_MARK = 0xfeff;

const LARGEST_NUMBER = 0xffffffff;

/** Take one line apart. Never throws: a fault is part of the result. */
export function lexLine(source: SourceLine): LexedLine {
  const { text } = source;
  const tokens: Token[] = [];
  // A byte order mark is reported, but what follows it is a line like any other.
  const start = text.charCodeAt(0) === BYTE_ORDER_MARK ? 1 : 0;
  const fault = start === 0 ? null : strangeCharacter(text, 0);
  for (let column = start; column < text.length; ) {
    const code = text.charCodeAt(column);
    if (CLASSES[code] === BLANK) column++;
    else if (code === SEMICOLON)
      return { source, tokens, note: noteOf(text.slice(column + 1), source, column), fault, isBroken: false };
    else {
      const token = tokenAt(source, column, code);
      if ('code' in token) return { source, tokens, note: null, fault: fault ?? token, isBroken: true };
      tokens.push(token);
      column += token.length;
    }
  }
  return { source, tokens, note: null, fault, isBroken: false };
}

/** Where letters, digits and _ from a column on end. */
function wordEnd(text: string, column: number): number {
  let end = column;
  for (
    let kind = CLASSES[text.charCodeAt(end)];
    kind === LETTER || kind === DIGIT;
    kind = CLASSES[text.charCodeAt(end)]
  )
    end++;
  return end;
}

function tokenAt(source: SourceLine, column: number, code: number): Token | LexicalFault {
  const { text } = source;
  const kind = CLASSES[code];
  if (kind === LETTER) return nameAt(source, column, text.slice(column, wordEnd(text, column)));
  if (kind === DIGIT) return numberAt(source, column, wordEnd(text, column));
  const character = text[column]!;
  const next = CLASSES[text.charCodeAt(column + 1)];
  switch (character) {
    case '$':
      return numberAt(source, column, wordEnd(text, column + 1));
    case '%':
      if (next !== LETTER && next !== DIGIT) return strangeCharacter(text, column);
      return numberAt(source, column, wordEnd(text, column + 1));
    case '@':
      if (next !== LETTER && next !== DIGIT) return strangeCharacter(text, column);
      return make('cheap', text.slice(column, wordEnd(text, column + 1)), source, column);
    case '.':
      return next === LETTER ? directiveAt(source, column) : strangeCharacter(text, column);
    case "'":
      return characterAt(source, column);
    case '"':
      return stringAt(source, column);
    default:
      return signAt(source, column, character);
  }
}

const make = (kind: TokenKind, text: string, source: SourceLine, column: number, length = text.length): Token => ({
  kind,
  text,
  value: 0,
  source,
  column,
  length,
  isCharacter: false,
});

function nameAt(source: SourceLine, column: number, name: string): Token {
  if (name.length > 1) return make('name', name, source, column);
  if (/[afz]/i.test(name) && source.text[column + 1] === ':')
    return make('size', `${name.toLowerCase()}:`, source, column);
  return /[axy]/i.test(name)
    ? make('register', name.toUpperCase(), source, column)
    : make('name', name, source, column);
}

function directiveAt(source: SourceLine, column: number): Token {
  const { text } = source;
  return make('directive', text.slice(column, wordEnd(text, column + 1)).toLowerCase(), source, column);
}

function characterAt(source: SourceLine, column: number): Token | LexicalFault {
  const code = source.text.charCodeAt(column + 1);
  const isCharacter = (code >= 0x20 && code <= 0x7e) || code === 0x09;
  if (!isCharacter || source.text[column + 2] !== "'") return strangeCharacter(source.text, column);
  const written = source.text.slice(column, column + 3);
  return { ...make('number', written, source, column), value: code, isCharacter: true };
}

function stringAt(source: SourceLine, column: number): Token | LexicalFault {
  const end = source.text.indexOf('"', column + 1);
  if (end < 0) return strangeCharacter(source.text, column);
  const text = source.text.slice(column + 1, end);
  const length = text.length + 2;
  const strange = /[^\x20-\x7e\t]/.exec(text);
  if (strange === null) return make('string', text, source, column, length);
  return { code: 'ASM_STRING_CHARACTER', details: { found: `"${strange[0]}"` }, column, length };
}

function signAt(source: SourceLine, column: number, character: string): Token | LexicalFault {
  const { text } = source;
  const second = text[column + 1];
  if (character === ':' && (second === '+' || second === '-')) return unnamedAt(source, column, second);
  const pair = `${character}${second}`;
  if (SIGNS_OF_TWO.has(pair)) return make('sign', pair, source, column);
  return SIGNS.has(character) ? make('sign', character, source, column) : strangeCharacter(text, column);
}

/** A reference to a label without a name: `:+`, `:--`. */
function unnamedAt(source: SourceLine, column: number, sign: string): Token {
  let count = 0;
  while (source.text[column + 1 + count] === sign) count++;
  const written = source.text.slice(column, column + 1 + count);
  return { ...make('unnamed', written, source, column), value: sign === '+' ? count : -count };
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
  const { tokens, isBroken } = lexLine({ ...source, text });
  return isBroken ? [] : tokens.map((token) => ({ ...token, source }));
}

function numberAt(source: SourceLine, column: number, end: number): Token | LexicalFault {
  const written = source.text.slice(column, end);
  const { length } = written;
  const value = numberOf(written);
  if (Number.isNaN(value))
    return { code: 'ASM_NUMBER', details: { found: `"${written}"`, cure: cureForNumber(written) }, column, length };
  if (value > LARGEST_NUMBER) return { code: 'ASM_NUMBER_LARGE', details: { found: written }, column, length };
  return { ...make('number', written, source, column), value };
}

/** Value of a number; NaN when its digits are wrong. */
function numberOf(written: string): number {
  if (written[0] === '$') return digitsOf(written.slice(1), /^[0-9A-Fa-f]+$/, 16);
  if (written[0] === '%') return digitsOf(written.slice(1), /^[01]+$/, 2);
  if (/[hH]$/.test(written)) return digitsOf(written.slice(0, -1), /^[0-9A-Fa-f]+$/, 16);
  return digitsOf(written, /^\d+$/, 10);
}

const digitsOf = (digits: string, pattern: RegExp, base: number): number =>
  pattern.test(digits) ? Number.parseInt(digits, base) : Number.NaN;

/** A number as other languages write it. */
function cureForNumber(written: string): string {
  const digits = written.slice(2);
  if (/^0x[0-9a-f]+$/i.test(written)) return `Write $${digits}.`;
  if (/^0b[01]+$/i.test(written)) return `Write %${digits}, a binary number.`;
  if (/^[01]+b$/i.test(written)) return `Write %${written.slice(0, -1)}, a binary number.`;
  if (/^[0-9a-f]+$/i.test(written)) return `Write $${written}.`;
  if (written.length === 1) return `Write the digits behind ${written} without a blank.`;
  if (/^\d/.test(written)) return 'A name begins with a letter or "_"; 26 is written 26, $1A or %11010.';
  return 'Write 26 as 26, $1A or %11010.';
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
  const what =
    code < 0x20 || code === 0x7f || code === BYTE_ORDER_MARK ? `the code ${code}` : `"${String.fromCodePoint(code)}"`;
  return { code: 'ASM_CHARACTER', details: { found: what, cure: cureForCharacter(found, rest === 1) }, column, length };
}

const QUOTES = /[\u2018\u2019\u201a-\u201f\u0060\u00b4]/;

function cureForCharacter(character: string, isLast: boolean): string {
  if (character === '%' && isLast) return 'Write the binary digits behind %.';
  if (character === '%') return 'The rest of a division is written "a .mod b"; % stands before binary digits.';
  if (character === '\\' && isLast) return 'A statement ends with its line: write it on one line.';
  if (character === '@') return 'A local label has letters or digits behind @: "@loop:".';
  if (character === '?') return 'Choose with .if, .else and .endif.';
  if (character.charCodeAt(0) === BYTE_ORDER_MARK)
    return 'Save the file as UTF-8 without a byte order mark: ca65 refuses one, too.';
  if (/\s/.test(character)) return 'Replace it with a plain blank.';
  if (QUOTES.test(character)) return 'Write plain quotes: "text" or \'a\'.';
  return 'Take it out, or put ";" before a comment.';
}
