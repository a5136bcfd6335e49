import type { ErrorCode } from '../../errors/catalogue.ts';
import { type ErrorDetails, LatelightError } from '../../errors/latelight-error.ts';
import type { SourcePlace } from '../source-map.ts';
import type { Origin, SourceLine } from './source-files.ts';
import type { Token } from './token.ts';

/** One error or warning of an assembly, plain data. `line` and `column` count from 1. */
export interface AssemblyMessage {
  readonly severity: 'error' | 'warning';
  readonly code: ErrorCode;
  /** What was found and what was expected. */
  readonly message: string;
  /** What to do. */
  readonly cure: string;
  readonly file: string;
  readonly line: number;
  readonly column: number;
  /** Characters that the message is about, at least 1. */
  readonly span: number;
  /** The line itself. */
  readonly text: string;
  /** The lines that called, repeated or included that line, innermost first. */
  readonly trail: readonly TrailPlace[];
}

/** `body`: the line of a macro's body that uses the argument; else the line that included, called or repeated. */
export interface TrailPlace extends SourcePlace {
  readonly via: 'include' | 'macro' | 'repeat' | 'body';
  /** How often in a row, when more than once: a macro that calls itself. */
  readonly times?: number;
}

/** Characters of a line that a message is about. Columns from 0. */
export interface Span {
  readonly source: SourceLine;
  readonly column: number;
  readonly length: number;
}

/** Thrown inside the assembler to give a statement up; caught where statements are read. */
export class Fault {
  readonly code: ErrorCode;
  readonly details: ErrorDetails;
  readonly span: Span;

  constructor(code: ErrorCode, details: ErrorDetails, span: Span) {
    this.code = code;
    this.details = details;
    this.span = span;
  }
}

/** Thrown when the same fault was reported before, for instance a symbol that is not defined anywhere. */
export class KnownFault {}

/** More errors than this are not listed, nor more warnings. */
const MOST_ERRORS = 100;
const MOST_WARNINGS = 100;
const LONGEST_TRAIL = 20;

/** Collects what is wrong, in the order of the source. */
export class Messages {
  readonly #list: { readonly order: number; readonly message: AssemblyMessage }[] = [];
  /** What was said already: the rounds of a repetition would say the same again. */
  readonly #said = new Set<string>();
  #errors = 0;
  #warnings = 0;

  get hasErrors(): boolean {
    return this.#errors > 0;
  }

  /** So many errors that going on helps nobody. */
  get isFull(): boolean {
    return this.#errors >= MOST_ERRORS;
  }

  error(code: ErrorCode, details: ErrorDetails, span: Span, origin: Origin): void {
    if (this.isFull) return;
    if (!this.#add('error', code, details, span, origin)) return;
    this.#errors++;
    if (this.isFull) this.#add('error', 'ASM_TOO_MANY', { count: MOST_ERRORS }, span, origin);
  }

  warning(code: ErrorCode, details: ErrorDetails, span: Span, origin: Origin): void {
    if (this.#warnings < MOST_WARNINGS && this.#add('warning', code, details, span, origin)) this.#warnings++;
  }

  /** Report what a statement threw; anything that is no fault of the source goes on as it is. */
  caught(thrown: unknown, origin: Origin): void {
    if (thrown instanceof KnownFault) return;
    if (!(thrown instanceof Fault)) throw thrown;
    this.error(thrown.code, thrown.details, thrown.span, origin);
  }

  list(severity: 'error' | 'warning'): AssemblyMessage[] {
    return this.#list
      .filter(({ message }) => message.severity === severity)
      .sort((a, b) => a.order - b.order)
      .map(({ message }) => message);
  }

  /** False: it was said already. */
  #add(severity: 'error' | 'warning', code: ErrorCode, details: ErrorDetails, span: Span, origin: Origin): boolean {
    const { message, hint } = new LatelightError(code, details);
    const { file, line, text } = span.source;
    const trail = trailOf(origin, span.source);
    const isRepeated = trail.some(({ via }) => via === 'repeat');
    const key = JSON.stringify([code, file, line, span.column, isRepeated ? '' : message, trail]);
    if (this.#said.has(key)) return false;
    this.#said.add(key);
    this.#list.push({
      order: origin.order,
      message: {
        severity,
        code,
        message,
        cure: hint,
        file,
        line,
        column: span.column + 1,
        span: Math.max(1, span.length),
        text,
        trail,
      },
    });
    return true;
  }
}

/** The way from a line back to the main file. An argument of a macro is written in a line that calls. */
function trailOf(origin: Origin, source: SourceLine): TrailPlace[] {
  const trail: TrailPlace[] = [];
  const writer = writerOf(origin, source);
  let at = origin;
  if (writer !== origin) {
    trail.push({ via: 'body', file: origin.source.file, line: origin.source.line });
    for (; at.caller !== null && at.caller !== writer; at = at.caller) pushCall(trail, at, at.caller);
    at = writer;
  }
  for (; at.caller !== null && at.via !== 'main'; at = at.caller) pushCall(trail, at, at.caller);
  return trail.slice(0, LONGEST_TRAIL);
}

function pushCall(trail: TrailPlace[], { via }: Origin, { source: { file, line } }: Origin): void {
  if (via === 'main') return;
  const last = trail[trail.length - 1];
  if (last?.via !== via || last.file !== file || last.line !== line) trail.push({ via, file, line });
  else trail[trail.length - 1] = { via, file, line, times: (last.times ?? 1) + 1 };
}

/** The line, of those that call, in which a token of a line is written; else the line itself. */
function writerOf(origin: Origin, source: SourceLine): Origin {
  if (source === origin.source) return origin;
  for (let at = origin; at.caller !== null && (at.via === 'macro' || at.via === 'repeat'); at = at.caller) {
    if (at.caller.source === source) return at.caller;
  }
  return origin;
}

/** From the first token to the last, when they stand on one line; else the first alone. */
export function spanOf(first: Token, last: Token = first): Span {
  const isOneLine = first.source === last.source && last.column >= first.column;
  const end = isOneLine ? last.column + last.length : first.column + first.length;
  return { source: first.source, column: first.column, length: end - first.column };
}

/** All of a line but the blanks around it. */
export function wholeLine(source: SourceLine): Span {
  const code = source.text.replace(/;.*$/, '').trimEnd();
  const column = Math.max(0, code.search(/\S/));
  return { source, column, length: Math.max(1, code.length - column) };
}
