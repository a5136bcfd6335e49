import type { Assembly, LineRecord } from './assembly.ts';
import { CONDITION_NAMES, isConditionCommand, readBrokenCondition, readCondition } from './conditions.ts';
import { DATA_COMMANDS } from './data-commands.ts';
import { encodeInstruction } from './encoder.ts';
import { FUNCTION_NAMES } from './expression-parser.ts';
import { cureForForeignName } from './foreign-words.ts';
import { formsOf, isAnyMnemonic, mnemonics, writtenName } from './instruction-forms.ts';
import type { LineNote } from './lexer.ts';
import type { Line } from './line-reader.ts';
import { callMacro, MACRO_COMMANDS, REFUSED_BLOCKS, skipBlock } from './macro-commands.ts';
import { Fault, KnownFault, type Span, spanOf } from './messages.ts';
import { nearest } from './spelling.ts';
import { defineValue, SYMBOL_COMMANDS, setVariable } from './symbol-commands.ts';
import { shown, type Token } from './token.ts';
import type { TokenCursor } from './token-cursor.ts';
import { isUnsupported, refuseDirective } from './unsupported.ts';

const COMMANDS = new Map(Object.entries({ ...DATA_COMMANDS, ...SYMBOL_COMMANDS, ...MACRO_COMMANDS }));
export const COMMAND_NAMES: readonly string[] = [...COMMANDS.keys(), ...CONDITION_NAMES];

/** Assemble one line. What is wrong with it is reported; it never throws for the sake of the source. */
export function assembleLine(line: Line, assembly: Assembly): void {
  const record = assembly.records[assembly.records.length - 1]!;
  const { segment } = assembly;
  const start = segment.length;
  const depth = assembly.reader.depth;
  if (assembly.isActive && line.note !== null) openStretch(line.note, line, assembly);
  try {
    assembleStatement(line, assembly);
  } catch (thrown) {
    assembly.messages.caught(withMissing(thrown, line, assembly), line.origin);
  }
  finishRecord(record, assembly, start);
  if (assembly.isActive && line.note?.kind === 'close')
    closeStretch(line.note, line, assembly.reader.depth > depth, assembly);
}

/** A line of a macro that lacks an argument: the call is what has to be corrected. */
function withMissing(thrown: unknown, { missing }: Line, { reader }: Assembly): unknown {
  const [parameter] = missing;
  const isAbout = thrown instanceof Fault && (thrown.code === 'ASM_SYNTAX' || thrown.code === 'ASM_FORM');
  if (parameter === undefined || reader.macro === undefined || !isAbout) return thrown;
  const { name, filledCount: count, parameterCount: wanted } = reader.macro;
  return new Fault('ASM_ARGUMENT_MISSING', { name, count, wanted, parameter }, thrown.span);
}

function finishRecord(record: LineRecord, assembly: Assembly, start: number): void {
  if (assembly.segment === record.segment) record.length = record.segment.length - start;
}

function assembleStatement(line: Line, assembly: Assembly): void {
  const { tokens, origin } = line;
  const first = tokens[0];
  if (first === undefined) return;
  if (line.isBroken) {
    readBrokenLine(tokens, assembly);
    return;
  }
  if (isConditionCommand(first)) {
    const cursor = assembly.cursor(tokens);
    cursor.take();
    readCondition(first, cursor, assembly);
    return;
  }
  if (!assembly.isActive) {
    checkSkipped(tokens, assembly);
    return;
  }
  const cursor = assembly.cursor(tokens);
  const isLabelled = readLabel(cursor, assembly);
  const token = cursor.peek();
  if (isLabelled && isDefinition(cursor))
    cursor.refuse('an instruction or a command behind the label', 'Put the definition on a line of its own.');
  if (token.kind === 'directive') readCommand(token, cursor, assembly);
  else if (token.kind === 'name') readNamed(token, cursor, assembly);
  else if (token.kind === 'cheap') readCheapValue(cursor, assembly);
  else if (token.kind !== 'end') refuseBeginning(token, cursor, origin.source.text);
}

/**
 * A line with a lexical fault, which is reported: its label, the name that it defines and the block that it opens count,
 * so that the lines about them are not refused, too.
 */
function readBrokenLine(tokens: readonly Token[], assembly: Assembly): void {
  const cursor = assembly.cursor(tokens);
  if (assembly.isActive) readLabel(cursor, assembly);
  const token = cursor.take();
  const { kind, text } = cursor.peek();
  if (isConditionCommand(token)) readBrokenCondition(token, assembly);
  else if (!assembly.isActive) return;
  else if (token.kind === 'directive') skipBlock(token, cursor, assembly);
  else if (token.kind === 'name' && (text === '=' || text === ':=' || text === '.set') && kind !== 'string')
    assembly.breakName(token);
}

/**
 * A line that is left out. ca65 takes a condition's command for one wherever it stands in it, and refuses a command that
 * it does not know: a misspelt .endif would leave out the rest of the program.
 */
function checkSkipped(tokens: readonly Token[], assembly: Assembly): void {
  const inside = tokens.findIndex(isConditionCommand);
  if (inside >= 0) {
    readMisplacedCondition(tokens[inside]!, assembly.cursor(tokens.slice(inside + 1)), assembly);
    return;
  }
  const strange = tokens.find(({ kind, text }) => kind === 'directive' && !isKnownDirective(text));
  if (strange !== undefined) refuseDirective(strange, COMMAND_NAMES);
}

const isKnownDirective = (text: string): boolean =>
  COMMANDS.has(text) || text === '.set' || FUNCTION_NAMES.includes(text) || isUnsupported(text);

/** Whether `name =` and the like come next. */
function isDefinition(cursor: TokenCursor): boolean {
  const { kind } = cursor.peek();
  const isSet = cursor.peek(1).kind === 'directive' && cursor.peek(1).text === '.set';
  return (kind === 'name' || kind === 'cheap') && (cursor.isSign('=', 1) || cursor.isSign(':=', 1) || isSet);
}

/** `:` and `name:` or `@name:` at the beginning of a statement. True: there was a name. */
function readLabel(cursor: TokenCursor, assembly: Assembly): boolean {
  if (cursor.skipSign(':')) assembly.unnamed.push({ segment: assembly.segment, offset: assembly.segment.length });
  const first = cursor.peek();
  const isName = first.kind === 'cheap' || (first.kind === 'name' && !isReserved(first, assembly));
  if (!isName || !cursor.isSign(':', 1)) return false;
  cursor.take();
  cursor.take();
  assembly.define(first, 'label', null);
  return true;
}

/** Names that begin an instruction or a call of a macro cannot be labels. */
const isReserved = ({ text }: Token, assembly: Assembly): boolean =>
  formsOf(text.toUpperCase(), assembly.isExtended) !== undefined || assembly.macros.has(text);

function readCommand(token: Token, cursor: TokenCursor, assembly: Assembly): void {
  cursor.take();
  if (isConditionCommand(token)) {
    readMisplacedCondition(token, cursor, assembly);
    return;
  }
  const command = COMMANDS.get(token.text) ?? REFUSED_BLOCKS[token.text];
  if (command === undefined) refuseDirective(token, COMMAND_NAMES);
  command(cursor, assembly, token);
}

/** Refused, but followed: what closes the condition is not refused, too. */
function readMisplacedCondition(token: Token, cursor: TokenCursor, assembly: Assembly): void {
  const cure = `Put ${token.text} on a line of its own.`;
  const details = { found: shown(token), expected: 'it at the beginning of a line', cure };
  assembly.error('ASM_SYNTAX', details, spanOf(token));
  readCondition(token, cursor, assembly);
}

function readNamed(name: Token, cursor: TokenCursor, assembly: Assembly): void {
  const forms = formsOf(name.text.toUpperCase(), assembly.isExtended);
  const macro = assembly.macros.get(name.text);
  cursor.take();
  if (forms !== undefined) encodeInstruction(name, forms, cursor, assembly);
  else if (macro !== undefined) callMacro(macro, name, cursor, assembly);
  else readDefinition(name, cursor, assembly);
}

/** `name = value`, `name := value`, `name .set value` */
function readDefinition(name: Token, cursor: TokenCursor, assembly: Assembly): void {
  const { kind, text } = cursor.peek();
  if (kind === 'sign' && (text === '=' || text === ':=')) defineValue(name, cursor, assembly);
  else if (kind === 'directive' && text === '.set') setVariable(name, cursor, assembly);
  else refuseName(name, cursor, assembly);
  cursor.expectEnd();
}

/** `@name = value` */
function readCheapValue(cursor: TokenCursor, assembly: Assembly): void {
  const name = cursor.take();
  if (!cursor.isSign('=') && !cursor.isSign(':='))
    cursor.refuse('":" or "="', `A label needs a colon: "${name.text}:".`);
  defineValue(name, cursor, assembly);
  cursor.expectEnd();
}

/** A word that is neither instruction nor macro nor the beginning of a definition. */
function refuseName(name: Token, cursor: TokenCursor, assembly: Assembly): never {
  const mnemonic = name.text.toUpperCase();
  const span = spanOf(name);
  if (assembly.brokenMacros.has(name.text)) throw new KnownFault();
  assembly.breakName(name);
  const other = writtenName(mnemonic);
  if (other !== undefined) throw new Fault('ASM_OTHER_NAME', { name: mnemonic, other }, span);
  if (isAnyMnemonic(mnemonic)) throw new Fault('ASM_UNDOCUMENTED', { name: mnemonic }, span);
  if (cursor.isSign('::')) cursor.refuse('an instruction, a command or a label', 'Define a name inside its own scope.');
  if (/^equ$/i.test(cursor.peek().text) || cursor.peek().text === '.equ')
    cursor.refuse('"=", ":=" or ".set"', `A constant is written "${name.text} = value".`);
  throw new Fault('ASM_UNKNOWN_INSTRUCTION', { name: name.text, cure: cureForName(name, cursor, assembly) }, span);
}

function cureForName(name: Token, cursor: TokenCursor, assembly: Assembly): string {
  const colon = `A label needs a colon: "${name.text}:".`;
  const command = `.${name.text.toLowerCase()}`;
  if (COMMAND_NAMES.includes(command)) return `Commands begin with a dot: "${command}".`;
  const foreign = cureForForeignName(name.text);
  if (foreign !== undefined) return foreign;
  const near = nearestInstruction(name.text, assembly);
  if (near !== undefined) return `Did you mean "${near}"?${cursor.isAtEnd ? ` ${colon}` : ''}`;
  return cursor.isAtEnd ? colon : `${colon.slice(0, -1)}; a macro must be defined above the line that calls it.`;
}

/** Written in the letters that the author uses. */
function nearestInstruction(name: string, { isExtended, macros }: Assembly): string | undefined {
  const near = nearest(name, [...mnemonics(isExtended), ...macros.keys()]);
  return near !== undefined && name === name.toLowerCase() && !macros.has(near) ? near.toLowerCase() : near;
}

function refuseBeginning(token: Token, cursor: TokenCursor, text: string): never {
  if (token.kind === 'sign' && token.text === '*') {
    cursor.refuse(
      'a label, an instruction or a command',
      'The memory map is fixed: choose a segment with .segment; use .res or .align to leave bytes out.',
    );
  }
  if (token.kind === 'register' || token.kind === 'size') {
    const cure = /^[afz]:$/.test(token.text)
      ? `"${token.text}" chooses the size of an operand: give the label another name, or put a blank before the colon.`
      : 'A, X and Y are the registers: give the symbol another name.';
    cursor.refuse('a label, an instruction or a command', cure);
  }
  if (token.kind === 'number' && /^\d/.test(token.text)) {
    const cure = 'A label begins with a letter or "_"; a label without a name is ":", reached by ":-" and ":+".';
    cursor.refuse('a label, an instruction or a command', cure);
  }
  const isComment = text.trimStart().startsWith('//') || text.trimStart().startsWith('#');
  cursor.refuse('a label, an instruction or a command', isComment ? 'A comment begins with ";".' : undefined);
}

function openStretch(note: LineNote, { origin }: Line, assembly: Assembly): void {
  const span = noteSpan(note, origin.source);
  if (note.kind === 'misspelt') assembly.warning('ASM_NOTE_MISSPELT', {}, span);
  if (note.kind !== 'open') return;
  try {
    const [low, high] = [note.low, note.high].map((tokens) => {
      const cursor = assembly.cursor(tokens);
      const expression = assembly.expression(cursor);
      cursor.expectEnd('a number of cycles');
      return expression;
    });
    const { segment } = assembly;
    const stretch = { low: low!, high: high!, span, origin, segment, start: segment.length, end: null };
    assembly.stretches.push(stretch);
    assembly.openStretches.push(stretch);
  } catch (thrown) {
    assembly.messages.caught(thrown, origin);
  }
}

function closeStretch(note: LineNote, { origin }: Line, isCall: boolean, assembly: Assembly): void {
  const span = noteSpan(note, origin.source);
  const stretch = assembly.openStretches.pop();
  if (stretch === undefined) assembly.warning('ASM_NOTE_CLOSE', {}, span);
  else if (isCall) assembly.error('ASM_NOTE_CALL', {}, span);
  else if (stretch.segment !== assembly.segment)
    assembly.error('ASM_NOTE_SEGMENT', { from: stretch.segment.name, to: assembly.segment.name }, span);
  else stretch.end = assembly.segment.length;
}

const noteSpan = ({ column }: LineNote, source: Span['source']): Span => ({
  source,
  column,
  length: source.text.trimEnd().length - column,
});
