import { type LexedLine, type LexicalFault, type LineNote, lexLine } from './lexer.ts';
import type { Origin, SourceLine } from './source-files.ts';
import type { Token } from './token.ts';

/** A line ready to be assembled: arguments, counters and defined texts are put in. */
export interface Line {
  readonly tokens: readonly Token[];
  readonly note: LineNote | null;
  readonly origin: Origin;
  readonly fault: LexicalFault | null;
  /** The tokens end before a fault: only what they define and open counts. */
  readonly isBroken: boolean;
  /** Parameters in it for which the call of the macro gives nothing. */
  readonly missing: readonly string[];
}

/** Names that stand for other tokens: arguments of a macro, its local names, the counter of a repetition. */
export type Bindings = ReadonlyMap<string, readonly Token[]>;

interface Frame {
  readonly via: Origin['via'];
  /** Lines of a file are taken apart when they are read, those of macros and repetitions were before. */
  readonly lines: readonly (LexedLine | SourceLine)[];
  readonly caller: Origin | null;
  next: number;
  bindings: Map<string, readonly Token[]>;
  /** Repetitions only. */
  readonly counter: Token | null;
  readonly rounds: number;
  round: number;
  /** Macros only. */
  readonly call: MacroCall | null;
  /** Conditions that were open when the frame began. */
  readonly conditionDepth: number;
}

/** A call of a macro: arguments given, and what the macro wants. */
export interface MacroCall {
  readonly name: string;
  readonly argumentCount: number;
  /** Arguments that are not empty. */
  readonly filledCount: number;
  readonly parameterCount: number;
}

/** Most lines that one assembly reads, repetitions and macros counted: enough for every byte of the image many times. */
const MOST_LINES = 300_000;
const MOST_TOKENS = 4096;
const MOST_FRAMES = 200;

/** The stack of files, macros and repetitions from which lines are read. */
export class LineReader {
  readonly #frames: Frame[] = [];
  /** Texts of `.define`. */
  readonly defines = new Map<string, readonly Token[]>();
  #order = 0;
  #steps = 0;
  /** A part of the program was not read, or went into a block without an end: what is missing may stand there. */
  isCutShort = false;

  /** Lines read so far, which is also the order of the next one. */
  get count(): number {
    return this.#order;
  }

  get isExhausted(): boolean {
    return this.#order >= MOST_LINES;
  }

  static readonly limits = { lines: MOST_LINES, frames: MOST_FRAMES, tokens: MOST_TOKENS };

  /** How deep files, macros and repetitions lie in each other. */
  get depth(): number {
    return this.#frames.length;
  }

  get isFull(): boolean {
    return this.#frames.length >= MOST_FRAMES;
  }

  /** How the innermost frame came about. */
  get via(): Origin['via'] | undefined {
    return this.#frames[this.#frames.length - 1]?.via;
  }

  /** The macro whose body is read, or undefined. */
  get macro(): MacroCall | undefined {
    return this.#frames[this.#macroIndex()]?.call ?? undefined;
  }

  enterFile(lines: readonly SourceLine[], caller: Origin | null, conditionDepth: number): void {
    this.#enter({ via: caller === null ? 'main' : 'include', lines, caller, conditionDepth });
  }

  enterMacro(
    lines: readonly LexedLine[],
    caller: Origin,
    bindings: Bindings,
    call: MacroCall,
    conditionDepth: number,
  ): void {
    this.#enter({ via: 'macro', lines, caller, bindings: new Map(bindings), call, conditionDepth });
  }

  enterRepeat(
    lines: readonly LexedLine[],
    caller: Origin,
    rounds: number,
    counter: Token | null,
    conditionDepth: number,
  ): void {
    if (rounds > 0 && lines.length > 0) this.#enter({ via: 'repeat', lines, caller, rounds, counter, conditionDepth });
  }

  /** Names that are local to the macro that is read. */
  bindLocal(name: string, token: Token): void {
    this.#frames[this.#macroIndex()]?.bindings.set(name, [token]);
  }

  /** Stop reading the macro, and what lies inside it. Returns how many conditions were open when it began. */
  leaveMacro(): number | undefined {
    const index = this.#macroIndex();
    const depth = this.#frames[index]?.conditionDepth;
    if (index >= 0) this.#frames.length = index;
    return depth;
  }

  /** Read nothing more. */
  stop(): void {
    this.#frames.length = 0;
  }

  /** Read nothing more of a program whose rest would have counted. */
  cutShort(): void {
    this.isCutShort = true;
    this.stop();
  }

  /** The next line, or undefined at the end of the main file. */
  next(): Line | undefined {
    for (;;) {
      const frame = this.#frames[this.#frames.length - 1];
      if (frame === undefined) return undefined;
      const line = frame.lines[frame.next++];
      if (line !== undefined) return this.#prepare('tokens' in line ? line : lexLine(line), frame);
      this.#endOfLines(frame);
    }
  }

  #enter(frame: Pick<Frame, 'via' | 'lines' | 'caller' | 'conditionDepth'> & Partial<Frame>): void {
    const blank = { next: 0, counter: null, rounds: 1, round: 0, call: null, bindings: new Map() };
    const entered: Frame = { ...blank, ...frame };
    this.#frames.push(entered);
    this.#count(entered);
  }

  #endOfLines(frame: Frame): void {
    frame.round++;
    if (frame.via !== 'repeat' || frame.round >= frame.rounds) {
      this.#frames.pop();
      return;
    }
    frame.next = 0;
    this.#count(frame);
  }

  /** Put the number of the round where the counter stands. */
  #count({ counter, round, bindings }: Frame): void {
    if (counter !== null)
      bindings.set(counter.text, [{ ...counter, kind: 'number', text: String(round), value: round, isMade: true }]);
  }

  #prepare({ source, tokens, note, fault, isBroken }: LexedLine, frame: Frame): Line {
    const origin: Origin = { source, caller: frame.caller, via: frame.via, order: this.#order++ };
    const ready = this.#substitute(tokens, frame);
    const readyNote =
      note === null
        ? null
        : { ...note, low: this.#substitute(note.low, frame), high: this.#substitute(note.high, frame) };
    const missing = missingOf(tokens, frame.bindings);
    if (ready === tokens || ready.length <= MOST_TOKENS)
      return { tokens: ready, note: readyNote, origin, fault, isBroken, missing };
    const details = { what: 'a line with its arguments', limit: `${MOST_TOKENS} words` };
    const limit: LexicalFault = { code: 'ASM_LIMIT', details, column: 0, length: 1 };
    return { tokens: [], note: null, origin, fault: limit, isBroken: true, missing };
  }

  #substitute(tokens: readonly Token[], { bindings }: Frame): readonly Token[] {
    const bound = bindings.size === 0 ? tokens : substitute(tokens, bindings);
    return this.defines.size === 0 ? bound : this.#expand(bound);
  }

  #expand(tokens: readonly Token[]): readonly Token[] {
    const [first, second] = tokens;
    const isAboutName = first?.kind === 'directive' && /^\.(define|undef|undefine)$/.test(first.text);
    if (isAboutName && second !== undefined) return [first, second, ...this.#expand(tokens.slice(2))];
    if (!tokens.some((token) => token.kind === 'name' && this.defines.has(token.text))) return tokens;
    const result: Token[] = [];
    this.#steps = 0;
    for (const token of tokens) this.#expandToken(token, [], result);
    return result;
  }

  /** A text that holds its own name is left as it is: then the name is not defined, and that is reported. */
  #expandToken(token: Token, open: readonly string[], result: Token[]): void {
    const text = token.kind === 'name' && !open.includes(token.text) ? this.defines.get(token.text) : undefined;
    if (result.length > MOST_TOKENS) return;
    if (this.#steps++ > 10 * MOST_TOKENS) result.length = MOST_TOKENS + 1;
    else if (text === undefined) result.push(token);
    else for (const inner of text) this.#expandToken(inner, [...open, token.text], result);
  }

  #macroIndex(): number {
    for (let index = this.#frames.length - 1; index >= 0; index--) {
      const { via } = this.#frames[index]!;
      if (via === 'macro') return index;
      if (via !== 'repeat') return -1;
    }
    return -1;
  }
}

const NONE: readonly string[] = [];

function missingOf(tokens: readonly Token[], bindings: Bindings): readonly string[] {
  if (bindings.size === 0) return NONE;
  return tokens.filter(({ kind, text }) => kind === 'name' && bindings.get(text)?.length === 0).map(({ text }) => text);
}

function substitute(tokens: readonly Token[], bindings: Bindings): readonly Token[] {
  const isBound = ({ kind, text }: Token): boolean => (kind === 'name' || kind === 'cheap') && bindings.has(text);
  if (!tokens.some(isBound)) return tokens;
  return tokens.flatMap((token) => (isBound(token) ? textFor(token, bindings.get(token.text)!) : [token]));
}

/** An argument keeps the place where it is written; a counter or a local name has the place where it is used. */
function textFor(token: Token, text: readonly Token[]): readonly Token[] {
  const [only] = text;
  const { source, column, length } = token;
  return only?.isMade ? [{ ...only, source, column, length }] : text;
}
