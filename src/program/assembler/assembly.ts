import type { ErrorCode } from '../../errors/catalogue.ts';
import type { ErrorDetails } from '../../errors/latelight-error.ts';
import { type ExpressionContext, parseExpression } from './expression-parser.ts';
import { constantOf, type Knowledge } from './expression-study.ts';
import { formsOf } from './instruction-forms.ts';
import type { LexedLine } from './lexer.ts';
import { type Line, LineReader } from './line-reader.ts';
import { MEMORY_MAP, Segment } from './memory-map.ts';
import { Fault, KnownFault, Messages, type Span, spanOf } from './messages.ts';
import type { Origin, SourceFiles, SourceLine } from './source-files.ts';
import { nearest } from './spelling.ts';
import {
  AssemblerSymbol,
  type Expression,
  findNearest,
  findScope,
  isBrokenName,
  resolve,
  Scope,
  writtenName,
} from './symbols.ts';
import type { Token } from './token.ts';
import { TokenCursor } from './token-cursor.ts';

/** Bytes whose value is computed when every address is known. */
export interface Fixup {
  /** `bigWord` = high byte first; `pointer` = word of an indirect jump; `branch` = distance from the next instruction. */
  readonly kind: 'byte' | 'word' | 'bigWord' | 'pointer' | 'long' | 'branch';
  readonly segment: Segment;
  readonly offset: number;
  readonly expression: Expression;
  readonly span: Span;
  readonly origin: Origin;
  /** An operand for which absolute addressing was chosen only because its size was not known. */
  readonly isGuess: boolean;
  /** The form of an instruction that has one for the zero page only, as it is written; null for all others. */
  readonly zeroPageForm: string | null;
}

/** What one line of the assembly did. */
export interface LineRecord {
  readonly origin: Origin;
  readonly segment: Segment;
  readonly offset: number;
  length: number;
  isInstruction: boolean;
  readonly isSkipped: boolean;
}

export interface Condition {
  readonly token: Token;
  readonly origin: Origin;
  /** Whether the lines around it are assembled. */
  readonly isOuterActive: boolean;
  isActive: boolean;
  /** A branch of it was taken already, or none may be. */
  isDecided: boolean;
  hasElse: boolean;
}

export interface Macro {
  readonly name: string;
  readonly parameters: readonly string[];
  /** Names that are new in every call, wherever its `.local` stands. */
  readonly locals: readonly Token[];
  readonly lines: readonly LexedLine[];
}

export interface Assertion {
  readonly expression: Expression;
  readonly isError: boolean;
  readonly text: string;
  readonly span: Span;
  readonly origin: Origin;
}

/** A stretch of code with a note of its cycles; see cycle-note.ts. */
export interface NotedStretch {
  readonly low: Expression;
  readonly high: Expression;
  readonly span: Span;
  readonly origin: Origin;
  readonly segment: Segment;
  readonly start: number;
  end: number | null;
}

const LATIN = 256;

/** The state of one assembly, shared by everything that reads statements. */
export class Assembly implements ExpressionContext, Knowledge {
  readonly files: SourceFiles;
  readonly messages = new Messages();
  readonly reader = new LineReader();
  readonly segments: ReadonlyMap<string, Segment>;
  segment: Segment;
  readonly segmentStack: { readonly segment: Segment; readonly span: Span; readonly origin: Origin }[] = [];
  readonly root = new Scope('', 'root', null, null);
  scope: Scope = this.root;
  /** Every symbol in the order of its first mention. */
  readonly symbols: AssemblerSymbol[] = [];
  readonly unnamed: { readonly segment: Segment; readonly offset: number }[] = [];
  readonly fixups: Fixup[] = [];
  readonly records: LineRecord[] = [];
  readonly conditions: Condition[] = [];
  readonly macros = new Map<string, Macro>();
  /** Names of macros and structures that were refused: their uses are not refused, too. */
  readonly brokenMacros = new Set<string>();
  readonly assertions: Assertion[] = [];
  readonly stretches: NotedStretch[] = [];
  readonly openStretches: NotedStretch[] = [];
  readonly characters = Uint8Array.from({ length: LATIN }, (_, code) => code);
  /** Whether undocumented instructions are known: `.setcpu "6502X"`. */
  isExtended = false;
  localCount = 0;
  isFinal = false;
  /** The line that is assembled. */
  origin: Origin;
  #cheapOwner: AssemblerSymbol | null = null;
  readonly #read = new Map<string, readonly SourceLine[]>();

  constructor(files: SourceFiles, main: string) {
    this.files = files;
    this.segments = new Map(MEMORY_MAP.map((spec) => [spec.name, new Segment(spec)]));
    this.segment = this.segments.get('CODE')!;
    this.origin = { source: { file: main, line: 1, text: '' }, caller: null, via: 'main', order: 0 };
  }

  get isActive(): boolean {
    return this.conditions[this.conditions.length - 1]?.isActive ?? true;
  }

  /** Names of the files that were read, the main file first. */
  get fileNames(): string[] {
    return [...this.#read.keys()];
  }

  /** Bytes put or reserved so far, in all segments. */
  get byteCount(): number {
    let count = 0;
    for (const { length } of this.segments.values()) count += length;
    return count;
  }

  error(code: ErrorCode, details: ErrorDetails, span: Span): void {
    this.messages.error(code, details, span, this.origin);
  }

  warning(code: ErrorCode, details: ErrorDetails, span: Span): void {
    this.messages.warning(code, details, span, this.origin);
  }

  /** The lines of a source file; undefined when there is no such file. */
  linesOf(path: string): readonly SourceLine[] | undefined {
    const known = this.#read.get(path);
    if (known !== undefined) return known;
    const text = this.files.readText(path);
    if (text === undefined) return undefined;
    const lines = this.#checkedText(text, path).split(/\r?\n/);
    if (lines[lines.length - 1] === '') lines.pop();
    const sources = lines.map((line, i) => ({ file: path, line: i + 1, text: line }));
    this.#read.set(path, sources);
    return sources;
  }

  /** A text without zero bytes, else nothing: every line of a binary file would be a fault of its own. */
  #checkedText(text: string, path: string): string {
    const at = text.indexOf('\0');
    if (at < 0) return text;
    const before = text.slice(0, at).split(/\r?\n/);
    const line = text.split(/\r?\n/)[before.length - 1]!;
    const column = before[before.length - 1]!.length;
    this.error(
      'ASM_NOT_TEXT',
      { name: path },
      { source: { file: path, line: before.length, text: line }, column, length: 1 },
    );
    return '';
  }

  /** Read one more line: every line that is read has a record, and its lexical fault is reported. */
  nextLine(): Line | undefined {
    const line = this.reader.next();
    if (line === undefined) return undefined;
    this.origin = line.origin;
    const { segment, isActive } = this;
    this.records.push({
      origin: line.origin,
      segment,
      offset: segment.length,
      length: 0,
      isInstruction: false,
      isSkipped: !isActive,
    });
    if (line.fault !== null) {
      const { code, details, column, length } = line.fault;
      this.error(code, details, { source: line.origin.source, column, length });
    }
    return line;
  }

  cursor(tokens: readonly Token[]): TokenCursor {
    return new TokenCursor(tokens, this.origin.source);
  }

  expression(cursor: TokenCursor): Expression {
    return parseExpression(cursor, this);
  }

  /** An expression whose value must be known now. */
  constant(cursor: TokenCursor, what: string): number {
    const first = cursor.peek();
    const expression = this.expression(cursor);
    const value = constantOf(expression, this);
    if (value === undefined) this.#refuseOpen(expression, what, cursor.spanFrom(first));
    return value;
  }

  /** A constant within limits. */
  constantWithin(cursor: TokenCursor, what: string, low: number, high: number): number {
    const first = cursor.peek();
    const value = this.constant(cursor, what);
    if (value >= low && value <= high) return value;
    const details = { what, found: value, low, high, cure: 'Write a number within these limits.' };
    throw new Fault('ASM_RANGE', details, cursor.spanFrom(first));
  }

  use(segment: Segment): void {
    this.segment = segment;
  }

  byte(value: number): void {
    this.segment.put(value, this.origin);
  }

  /** Room for a value that is computed at the end. */
  deferred(
    kind: Fixup['kind'],
    expression: Expression,
    span: Span,
    { isGuess = false, zeroPageForm = null }: Partial<Pick<Fixup, 'isGuess' | 'zeroPageForm'>> = {},
  ): void {
    const { segment, origin } = this;
    this.fixups.push({ kind, segment, offset: segment.length, expression, span, origin, isGuess, zeroPageForm });
    const count = kind === 'byte' || kind === 'branch' ? 1 : kind === 'long' ? 4 : 2;
    for (let i = 0; i < count; i++) this.byte(0);
  }

  here(): Expression {
    return { kind: 'place', segment: this.segment, offset: this.segment.length };
  }

  mention(name: Token, path: readonly Token[], isRooted: boolean): Expression {
    if (formsOf(name.text.toUpperCase(), this.isExtended) !== undefined) {
      const cure = 'Put each instruction on a line of its own; an instruction cannot be the name of a symbol.';
      throw new Fault(
        'ASM_SYNTAX',
        { found: `the instruction "${name.text}"`, expected: 'a number or a name', cure },
        spanOf(name),
      );
    }
    const scope = this.#scopeOf(path, isRooted);
    const isQualified = isRooted || path.length > 0;
    const symbol = scope.symbols.get(name.text) ?? this.#create(name, scope);
    if (symbol.definition?.kind === 'value' && symbol.definition.value.kind === 'number')
      return symbol.definition.value;
    if (isQualified) symbol.isMentionedQualified = true;
    else symbol.isMentionedAlone = true;
    return { kind: 'symbol', symbol, isQualified, token: name };
  }

  mentionCheap(name: Token): Expression {
    const symbol = this.#local(name);
    symbol.isMentionedAlone = true;
    if (symbol.definition?.kind === 'value' && symbol.definition.value.kind === 'number')
      return symbol.definition.value;
    return { kind: 'symbol', symbol, isQualified: false, token: name };
  }

  mentionUnnamed(reference: Token): Expression {
    const { value } = reference;
    const index = value < 0 ? this.unnamed.length + value : this.unnamed.length + value - 1;
    if (index < 0) throw new Fault('ASM_UNNAMED_LABEL', { found: reference.text }, spanOf(reference));
    return { kind: 'unnamed', index, token: reference };
  }

  isDefined(name: Token, path: readonly Token[], isRooted: boolean): boolean {
    if (name.kind === 'cheap') return this.#cheapOwner?.locals.get(name.text)?.definition != null;
    const scope = this.#scopeOf(path, isRooted);
    if (isRooted || path.length > 0) return scope.symbols.get(name.text)?.definition != null;
    return findNearest(scope, name.text)?.definition != null;
  }

  isConstant(expression: Expression): boolean {
    return constantOf(expression, this) !== undefined;
  }

  characterCode(code: number): number {
    return this.characters[code] ?? code;
  }

  parameterCount(token: Token): number {
    const { macro } = this.reader;
    if (macro === undefined) throw new Fault('ASM_ONLY_IN_MACRO', { name: token.text }, spanOf(token));
    return macro.argumentCount;
  }

  /** Give a name its meaning. Errors: the name is taken. */
  define(name: Token, kind: AssemblerSymbol['kind'], value: Expression | null): AssemblerSymbol {
    const symbol =
      name.kind === 'cheap' ? this.#local(name) : (this.scope.symbols.get(name.text) ?? this.#create(name, this.scope));
    if (name.kind === 'name') this.#cheapOwner = symbol;
    if (symbol.definition !== null && !(kind === 'variable' && symbol.kind === 'variable'))
      this.#refuseTwice(symbol, name);
    if (symbol.definition === null) {
      symbol.token = name;
      symbol.origin = this.origin;
    }
    symbol.kind = kind;
    const place = { segment: this.segment, offset: this.segment.length };
    symbol.definition = value === null ? { kind: 'label', ...place } : { kind: 'value', value };
    return symbol;
  }

  /** A name whose definition was refused: its uses are not refused, too. */
  breakName(name: Token): void {
    this.declare(name).isBroken = true;
  }

  /** A name that a command is about, found or made in the scope that is open. */
  declare(name: Token): AssemblerSymbol {
    return this.scope.symbols.get(name.text) ?? this.#create(name, this.scope);
  }

  openScope(name: Token | null, kind: 'scope' | 'proc', token: Token): void {
    const own = name?.text ?? '';
    const known = this.scope.children.get(own);
    if (name !== null && known !== undefined) {
      const details = { name: own, line: known.token?.source.line ?? 1, file: known.token?.source.file ?? '' };
      throw new Fault('ASM_SCOPE_TWICE', details, spanOf(name));
    }
    const scope = new Scope(own, kind, this.scope, { token, origin: this.origin }, this.byteCount);
    if (name !== null) this.scope.children.set(own, scope);
    this.scope = scope;
  }

  /** ca65 gives a scope that holds bytes a size, and that is a name of its own: cheap local labels end there. */
  closeScope(): void {
    if (this.byteCount !== this.scope.bytesBefore) this.#cheapOwner = null;
    this.scope = this.scope.parent ?? this.root;
  }

  #scopeOf(path: readonly Token[], isRooted: boolean): Scope {
    let scope: Scope | undefined = isRooted ? this.root : this.scope;
    path.forEach((part, i) => {
      const isFree = i === 0 && !isRooted;
      const inner: Scope | undefined = isFree ? findScope(this.scope, part.text) : scope?.children.get(part.text);
      if (inner === undefined) this.#refuseScope(part, isFree ? this.scope : scope!);
      scope = inner;
    });
    return scope!;
  }

  #refuseScope(part: Token, scope: Scope): never {
    const names: string[] = [];
    for (let at: Scope | null = scope; at !== null; at = at.parent) names.push(...at.children.keys());
    const near = nearest(part.text, names);
    const cure = near === undefined ? 'A scope must stand before the lines that use it.' : `Did you mean "${near}"?`;
    throw new Fault('ASM_SCOPE_UNKNOWN', { name: part.text, cure }, spanOf(part));
  }

  #create(name: Token, scope: Scope): AssemblerSymbol {
    const symbol = new AssemblerSymbol(name.text, scope, null, name, this.origin);
    scope.symbols.set(name.text, symbol);
    this.symbols.push(symbol);
    return symbol;
  }

  #local(name: Token): AssemblerSymbol {
    this.#cheapOwner ??= new AssemblerSymbol('', this.scope, null, name, this.origin);
    const owner = this.#cheapOwner;
    const known = owner.locals.get(name.text);
    if (known !== undefined) return known;
    const symbol = new AssemblerSymbol(name.text, this.scope, owner, name, this.origin);
    owner.locals.set(name.text, symbol);
    this.symbols.push(symbol);
    return symbol;
  }

  #refuseTwice(symbol: AssemblerSymbol, name: Token): never {
    const { file, line } = symbol.token.source;
    const details = { name: writtenName(name.text), file, line, cure: this.#cureForTwice(symbol, name) };
    throw new Fault('ASM_SYMBOL_TWICE', details, spanOf(name));
  }

  #cureForTwice({ kind, token }: AssemblerSymbol, name: Token): string {
    const isSameLine = token.source === name.source;
    if (isSameLine && this.origin.via === 'macro')
      return `Every call of the macro makes it: write ".local ${name.text}" at the beginning of the macro.`;
    if (isSameLine && this.origin.via === 'repeat')
      return 'Every round makes it: put ".scope" and ".endscope" around the lines, or use a label without a name, ":".';
    if (kind === 'constant')
      return `A constant has one value: give one of them another name, or write both as "${name.text} .set value".`;
    return 'Give one of them another name, put it into a .scope, or call it "@name" if only the lines near it use it.';
  }

  /** Say why an expression has no value yet, and mark its symbol so that it is not reported again. */
  #refuseOpen(expression: Expression, what: string, span: Span): never {
    const symbol = openSymbol(expression);
    if (symbol === undefined) throw new Fault('ASM_CONSTANT', { what }, span);
    if (isBrokenName(symbol)) throw new KnownFault();
    const outer = resolve(symbol, false);
    if (outer !== undefined && outer !== symbol) {
      const details = { what, name: symbol.name, path: `${outer.scope.path}::${symbol.name}` };
      throw new Fault('ASM_CONSTANT_OUTER', details, span);
    }
    if (symbol.definition !== null) throw new Fault('ASM_CONSTANT', { what }, span);
    symbol.isKnownFault = true;
    throw new Fault('ASM_CONSTANT_LATER', { what, name: symbol.name }, span);
  }
}

/** The first symbol of an expression that has no definition where it is written; else the first symbol. */
function openSymbol(expression: Expression): AssemblerSymbol | undefined {
  const found: AssemblerSymbol[] = [];
  const open: Expression[] = [expression];
  for (let steps = 0; open.length > 0 && steps < 1000; steps++) {
    const at = open.pop()!;
    if (at.kind === 'symbol') found.push(at.symbol);
    else if (at.kind === 'unary') open.push(at.operand);
    else if (at.kind === 'binary') open.push(at.right, at.left);
  }
  return found.find(({ definition }) => definition === null) ?? found[0];
}
