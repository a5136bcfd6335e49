import type { Assembly, Macro } from './assembly.ts';
import type { Command } from './data-commands.ts';
import { ownCommand } from './foreign-words.ts';
import { isAnyMnemonic } from './instruction-forms.ts';
import type { LexedLine } from './lexer.ts';
import { type Line, LineReader } from './line-reader.ts';
import { Fault, spanOf } from './messages.ts';
import { candidatePaths } from './source-files.ts';
import { nearest } from './spelling.ts';
import type { Token } from './token.ts';
import type { TokenCursor } from './token-cursor.ts';
import { refuseDirective } from './unsupported.ts';

/** Commands that decide which lines are read: files, macros, repetitions, texts. */

const MACRO_BEGINS = ['.macro', '.mac'];
const MACRO_ENDS = ['.endmacro', '.endmac'];
const REPEAT_ENDS = ['.endrepeat', '.endrep'];
const MOST_ROUNDS = 0xffff;

/** `.include "file"` */
const include: Command = (cursor, assembly, token) => {
  const name = cursor.expect('string', 'the name of a file between double quotes');
  cursor.expectEnd();
  const { reader, origin } = assembly;
  if (origin.via === 'macro' || origin.via === 'repeat') throw new Fault('ASM_INCLUDE_INSIDE', {}, spanOf(token));
  const paths = candidatePaths(name.text, origin);
  for (const path of paths) {
    const lines = name.text === '' ? undefined : assembly.linesOf(path);
    if (lines === undefined) continue;
    checkLoop(path, name, assembly);
    enterable(assembly, token);
    return reader.enterFile(lines, origin, assembly.conditions.length);
  }
  throw new Fault('ASM_FILE', { name: name.text, tried: paths.join(', ') }, spanOf(name));
};

function checkLoop(path: string, name: Token, { origin }: Assembly): void {
  for (let at: Assembly['origin'] | null = origin; at !== null; at = at.caller) {
    if (at.source.file === path) throw new Fault('ASM_INCLUDE_LOOP', { name: name.text }, spanOf(name));
  }
}

/** One more file, macro or repetition. Beyond the limit nothing more is read: what follows would only repeat the error. */
function enterable({ reader }: Assembly, token: Token): void {
  if (!reader.isFull) return;
  reader.cutShort();
  throw new Fault(
    'ASM_LIMIT',
    { what: 'files, macros and repetitions inside each other', limit: `${LineReader.limits.frames}` },
    spanOf(token),
  );
}

/** `.macro name [parameter, ...]` up to `.endmacro` */
const defineMacro: Command = (cursor, assembly, token) => {
  const name = cursor.peek();
  try {
    readMacro(cursor, assembly, token);
  } catch (thrown) {
    if (name.kind === 'name') assembly.brokenMacros.add(name.text);
    throw thrown;
  }
};

const readMacro: Command = (cursor, assembly, token) => {
  const lines = collect(token, MACRO_BEGINS, MACRO_ENDS, assembly);
  const name = cursor.expect('name', 'a name for the macro');
  const parameters = readParameters(cursor);
  if (isAnyMnemonic(name.text.toUpperCase())) throw new Fault('ASM_MACRO_NAME', { name: name.text }, spanOf(name));
  if (assembly.macros.has(name.text)) throw new Fault('ASM_MACRO_TWICE', { name: name.text }, spanOf(name));
  const nested = lines.find(({ tokens }) => tokens[0]?.text === '.macro' || tokens[0]?.text === '.mac');
  if (nested !== undefined) throw new Fault('ASM_MACRO_INSIDE', {}, spanOf(nested.tokens[0]!));
  assembly.macros.set(name.text, { name: name.text, parameters, locals: localsOf(lines), lines });
};

/** `.local` reaches the whole body, the lines above it and those of other conditions, too (as in ca65). */
const localsOf = (lines: readonly LexedLine[]): Token[] =>
  lines
    .filter(({ tokens }) => tokens[0]?.kind === 'directive' && tokens[0].text === '.local')
    .flatMap(({ tokens }) => tokens.filter(({ kind }) => kind === 'name' || kind === 'cheap'));

function readParameters(cursor: TokenCursor): string[] {
  const parameters: string[] = [];
  if (cursor.isAtEnd) return parameters;
  do {
    const { kind } = cursor.peek();
    const cure = kind === 'register' ? 'A, X and Y are the registers: give the parameter another name.' : undefined;
    if (kind !== 'name') cursor.refuse('a name for a parameter', cure);
    const name = cursor.take();
    if (parameters.includes(name.text)) throw new Fault('ASM_PARAMETER_TWICE', { name: name.text }, spanOf(name));
    parameters.push(name.text);
  } while (cursor.skipSign(','));
  cursor.expectEnd('"," or the end of the statement');
  return parameters;
}

/** `.repeat count [, counter]` up to `.endrepeat` */
const repeat: Command = (cursor, assembly, token) => {
  const { origin } = assembly;
  let rounds = 0;
  let counter: Token | null = null;
  try {
    rounds = assembly.constantWithin(cursor, 'the count of .repeat', 0, MOST_ROUNDS);
    counter = cursor.skipSign(',') ? cursor.expect('name', 'a name for the counter') : null;
    cursor.expectEnd('"," or the end of the statement');
  } catch (thrown) {
    rounds = 0;
    assembly.messages.caught(thrown, origin);
  }
  const lines = collect(token, ['.repeat'], REPEAT_ENDS, assembly);
  enterable(assembly, token);
  assembly.reader.enterRepeat(lines, origin, rounds, counter, assembly.conditions.length);
};

/** The lines up to the end of a block, blocks of its kind inside it included. Errors: it has no end. */
function collect(token: Token, begins: readonly string[], ends: readonly string[], assembly: Assembly): LexedLine[] {
  const { origin } = assembly;
  const depth = assembly.reader.depth;
  const lines: LexedLine[] = [];
  let open = 1;
  for (
    let line = assembly.nextLine();
    line !== undefined && assembly.reader.depth >= depth;
    line = assembly.nextLine()
  ) {
    const first = line.tokens[0];
    if (first?.kind === 'directive' && begins.includes(first.text)) open++;
    if (first?.kind === 'directive' && ends.includes(first.text) && --open === 0) {
      assembly.cursor(line.tokens.slice(1)).expectEnd();
      assembly.origin = origin;
      return lines;
    }
    lines.push(asLexed(line));
  }
  assembly.origin = origin;
  assembly.reader.isCutShort = true;
  throw new Fault(
    'ASM_BLOCK_OPEN',
    { name: token.text, end: ends[0]!, hint: likelyEnd(lines, ends[0]!) },
    spanOf(token),
  );
}

/** A line that was perhaps meant for the end of a block. */
function likelyEnd(lines: readonly LexedLine[], end: string): string {
  const isLikely = ({ kind, text }: Token): boolean =>
    kind === 'directive' && (ownCommand(text) === end || nearest(text, [end]) !== undefined);
  const line = lines.find(({ tokens }) => tokens[0] !== undefined && isLikely(tokens[0]));
  return line === undefined ? '' : `, for instance instead of "${line.tokens[0]!.text}" in line ${line.source.line}`;
}

/** A fault was reported when the line was read. */
const asLexed = ({ tokens, note, origin, isBroken }: Line): LexedLine => ({
  source: origin.source,
  tokens,
  note,
  fault: null,
  isBroken,
});

const STRUCTURES = ['.struct', '.union', '.enum'];

/** Blocks that cannot be assembled: what begins them, what ends them. */
const BLOCKS: readonly (readonly [begins: readonly string[], ends: readonly string[]])[] = [
  [MACRO_BEGINS, MACRO_ENDS],
  [['.repeat'], REPEAT_ENDS],
  [
    ['.struct', '.union'],
    ['.endstruct', '.endunion'],
  ],
  [['.enum'], ['.endenum']],
];

/**
 * Read over a block whose first line is refused; the cursor stands behind its command. Names that it would define are
 * known to be broken, so that the lines that use them are not refused, too.
 */
export function skipBlock(token: Token, cursor: TokenCursor, assembly: Assembly): void {
  const name = cursor.peek();
  if (token.text === '.scope' || token.text === '.proc') {
    if (name.kind === 'name') assembly.breakName(name);
    assembly.openScope(null, token.text === '.proc' ? 'proc' : 'scope', token);
    return;
  }
  const block = BLOCKS.find(([begins]) => begins.includes(token.text));
  if (block === undefined) return;
  const lines = collect(token, ...block, assembly);
  if (token.text === '.repeat') return;
  if (name.kind === 'name') assembly.brokenMacros.add(name.text);
  if (STRUCTURES.includes(token.text)) breakMembers(name, lines, assembly);
}

/** Members of a structure: names of a scope, or of the scope around it when it has no name. */
function breakMembers(structure: Token, lines: readonly LexedLine[], assembly: Assembly): void {
  const isNamed = structure.kind === 'name' && !assembly.scope.children.has(structure.text);
  if (isNamed) assembly.openScope(structure, 'scope', structure);
  for (const { tokens } of lines) if (tokens[0]?.kind === 'name') assembly.breakName(tokens[0]);
  if (isNamed) assembly.closeScope();
}

/** `.struct`, `.union`, `.enum`: refused once, with all of its lines. */
const refuseStructure: Command = (cursor, assembly, token) => {
  const { origin } = assembly;
  try {
    skipBlock(token, cursor, assembly);
  } catch (thrown) {
    assembly.messages.caught(thrown, origin);
  }
  refuseDirective(token, []);
};

const unexpectedEnd =
  (begin: string): Command =>
  (_cursor, _assembly, token) => {
    throw new Fault('ASM_BLOCK_CLOSE', { name: token.text, begin }, spanOf(token));
  };

/** `.exitmacro`: conditions that the macro opened end with it. Inside a repetition ca65 goes on to the end of that first. */
const exitMacro: Command = (cursor, assembly, token) => {
  cursor.expectEnd();
  if (assembly.reader.via === 'repeat' && assembly.reader.macro !== undefined) {
    const cure = 'Put .if and .endif around the lines of the repetition that are meant.';
    throw new Fault('ASM_UNSUPPORTED', { name: '.exitmacro inside a .repeat', cure }, spanOf(token));
  }
  const depth = assembly.reader.leaveMacro();
  if (depth === undefined) throw new Fault('ASM_ONLY_IN_MACRO', { name: token.text }, spanOf(token));
  assembly.conditions.length = Math.min(assembly.conditions.length, depth);
};

const localName = (name: Token, assembly: Assembly): Token => ({
  ...name,
  text: `${name.text}~${++assembly.localCount}`,
  isMade: true,
});

/** `.local name, ...`: names that are new in every call of the macro. */
const local: Command = (cursor, assembly, token) => {
  if (assembly.reader.macro === undefined) throw new Fault('ASM_ONLY_IN_MACRO', { name: token.text }, spanOf(token));
  do {
    const name = cursor.peek();
    if (name.kind !== 'name' && name.kind !== 'cheap') cursor.refuse('a name');
    cursor.take();
    // The call has bound those of the body's own lines.
    if (!name.isMade) assembly.reader.bindLocal(name.text, localName(name, assembly));
  } while (cursor.skipSign(','));
  cursor.expectEnd('"," or the end of the statement');
};

/** `.define name text`: the text stands wherever the name is written from here on. */
const defineText: Command = (cursor, assembly) => {
  const name = cursor.expect('name', 'a name for the text');
  const cure =
    'A .define has no parameters here, and its text cannot begin with a bracket: write a .macro, or the text itself.';
  if (cursor.isSign('(')) cursor.refuse('a text', cure);
  if (assembly.reader.defines.has(name.text)) throw new Fault('ASM_DEFINE_TWICE', { name: name.text }, spanOf(name));
  if (assembly.macros.has(name.text)) throw new Fault('ASM_MACRO_TWICE', { name: name.text }, spanOf(name));
  const text = cursor.takeRest();
  if (text.some((token) => token.kind === 'name' && token.text === name.text))
    throw new Fault('ASM_DEFINE_SELF', { name: name.text }, spanOf(name));
  assembly.reader.defines.set(name.text, text);
};

const undefineText: Command = (cursor, assembly) => {
  const name = cursor.expect('name', 'the name of a text');
  cursor.expectEnd();
  if (!assembly.reader.defines.delete(name.text))
    throw new Fault('ASM_DEFINE_UNKNOWN', { name: name.text }, spanOf(name));
};

/** Call a macro; the cursor stands behind its name. */
export function callMacro(macro: Macro, name: Token, cursor: TokenCursor, assembly: Assembly): void {
  const given = readArguments(macro, cursor);
  enterable(assembly, name);
  const bindings = new Map(macro.parameters.map((parameter, i) => [parameter, given[i] ?? []]));
  for (const own of macro.locals) bindings.set(own.text, [localName(own, assembly)]);
  const { name: own, parameters } = macro;
  const filledCount = given.filter(({ length }) => length > 0).length;
  const call = { name: own, argumentCount: given.length, filledCount, parameterCount: parameters.length };
  assembly.reader.enterMacro(macro.lines, assembly.origin, bindings, call, assembly.conditions.length);
}

/** Tokens between commas; braces keep commas together and are taken away. */
function readArguments(macro: Macro, cursor: TokenCursor): (readonly Token[])[] {
  const given: (readonly Token[])[] = [];
  while (!cursor.isAtEnd || given.length > 0) {
    if (given.length >= macro.parameters.length) {
      const details = {
        name: macro.name,
        count: macro.parameters.length,
        parameters: macro.parameters.join(', ') || 'none',
      };
      throw new Fault('ASM_ARGUMENTS', details, spanOf(cursor.isAtEnd ? cursor.last : cursor.peek()));
    }
    given.push(cursor.isSign('{') ? bracedArgument(cursor) : plainArgument(cursor));
    if (!cursor.skipSign(',')) break;
  }
  cursor.expectEnd('"," or the end of the statement');
  return given;
}

function plainArgument(cursor: TokenCursor): Token[] {
  const tokens: Token[] = [];
  while (!cursor.isAtEnd && !cursor.isSign(',')) {
    if (cursor.isSign('{') || cursor.isSign('}')) cursor.refuse('","', 'Braces go around a whole argument: "{a,b}".');
    tokens.push(cursor.take());
  }
  return tokens;
}

function bracedArgument(cursor: TokenCursor): Token[] {
  const tokens: Token[] = [];
  cursor.expectSign('{');
  for (let depth = 1; ; ) {
    if (cursor.isAtEnd) cursor.refuse('"}"');
    if (cursor.isSign('{')) depth++;
    if (cursor.isSign('}') && --depth === 0) break;
    tokens.push(cursor.take());
  }
  cursor.take();
  return tokens;
}

/** Blocks that are refused with all of their lines. */
export const REFUSED_BLOCKS: Readonly<Record<string, Command>> = Object.fromEntries(
  STRUCTURES.map((name) => [name, refuseStructure]),
);

export const MACRO_COMMANDS: Readonly<Record<string, Command>> = {
  '.include': include,
  '.macro': defineMacro,
  '.mac': defineMacro,
  '.endmacro': unexpectedEnd('.macro'),
  '.endmac': unexpectedEnd('.macro'),
  '.exitmacro': exitMacro,
  '.exitmac': exitMacro,
  '.local': local,
  '.repeat': repeat,
  '.endrepeat': unexpectedEnd('.repeat'),
  '.endrep': unexpectedEnd('.repeat'),
  '.define': defineText,
  '.undef': undefineText,
  '.undefine': undefineText,
};
