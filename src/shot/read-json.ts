/**
 * JSON as data; a byte order mark is left out. Errors: SyntaxError with the line, what was found there and what is expected,
 * also for a name that is given twice, of which JSON keeps one.
 */
export function readJson(text: string): unknown {
  const json = text.replace(/^\uFEFF/, '');
  checkJson(json);
  return JSON.parse(json);
}

/** A string, a number or one of three words, or a mark. Source: RFC 8259, sections 2, 3, 6 and 7. */
const TOKEN =
  /("(?:[^"\\\p{Cc}]|[\x7f-\x9f]|\\(?:["\\/bfnrt]|u[\da-fA-F]{4}))*")|(-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][+-]?\d+)?|true|false|null)|[{}[\],:]/uy;
const SPACE = /[ \t\n\r]*/y;
/** What cannot be a token is told up to where the next one may begin. */
const OTHER = /[^\s{}[\],:]*/y;

type State = 'value' | 'first value' | 'first name' | 'name' | 'colon' | 'in object' | 'in list' | 'end';

/** What may come in a state, and the state behind it; `after`: behind a value, as where it stands. */
interface Expected {
  readonly expected: string;
  readonly next: Readonly<Record<string, State | 'after'>>;
}

const STATES: Readonly<Record<State, Expected>> = {
  value: { expected: 'a value', next: { string: 'after', word: 'after', '{': 'first name', '[': 'first value' } },
  'first value': {
    expected: 'a value or ]',
    next: { string: 'after', word: 'after', '{': 'first name', '[': 'first value', ']': 'after' },
  },
  'first name': { expected: 'a name in double quotes or }', next: { string: 'colon', '}': 'after' } },
  name: { expected: 'a name in double quotes', next: { string: 'colon' } },
  colon: { expected: ':', next: { ':': 'value' } },
  'in object': { expected: 'a comma or }', next: { ',': 'name', '}': 'after' } },
  'in list': { expected: 'a comma or ]', next: { ',': 'value', ']': 'after' } },
  end: { expected: 'the end', next: {} },
};

function checkJson(json: string): void {
  /** Names of the objects that are open; undefined stands for a list. */
  const open: (Set<string> | undefined)[] = [];
  let state: State = 'value';
  let at = 0;
  for (;;) {
    at = endOf(SPACE, json, at);
    if (at === json.length && state === 'end') return;
    TOKEN.lastIndex = at;
    const [token = '', string, word] = TOKEN.exec(json) ?? [];
    const kind = string === undefined ? (word === undefined ? token : 'word') : 'string';
    const { expected, next }: Expected = STATES[state];
    const then: State | 'after' | undefined = next[kind];
    if (then === undefined) throw faultAt(json, at, `found ${foundAt(json, at, token)}, expected ${expected}`);
    if (then === 'colon') addName(open[open.length - 1]!, token, () => lineOf(json, at));
    if (kind === '{') open.push(new Set());
    if (kind === '[') open.push(undefined);
    if (kind === '}' || kind === ']') open.pop();
    state = then === 'after' ? behindValue(open) : then;
    at += token.length;
  }
}

function behindValue(open: readonly (Set<string> | undefined)[]): State {
  if (open.length === 0) return 'end';
  return open[open.length - 1] === undefined ? 'in list' : 'in object';
}

function addName(names: Set<string>, token: string, line: () => number): void {
  const name = JSON.parse(token) as string;
  if (names.has(name)) throw new SyntaxError(`line ${line()}: ${token} is given twice, expected once`);
  names.add(name);
}

function endOf(pattern: RegExp, json: string, at: number): number {
  pattern.lastIndex = at;
  pattern.test(json);
  return pattern.lastIndex;
}

/** Longest piece of a file that is told. Our choice. */
const MOST_TOLD = 24;

function foundAt(json: string, at: number, token: string): string {
  if (at === json.length) return 'the end';
  if (token === ',') return 'a comma';
  const found = token === '' ? json.slice(at, Math.max(at + 1, endOf(OTHER, json, at))) : token;
  return found.length > MOST_TOLD ? `${found.slice(0, MOST_TOLD)}...` : found;
}

const faultAt = (json: string, at: number, what: string): SyntaxError =>
  new SyntaxError(`line ${lineOf(json, at)}: ${what}`);

const lineOf = (text: string, index: number): number => text.slice(0, index).split('\n').length;
