import { LatelightError } from '../errors/latelight-error.ts';

/**
 * Records of the debug file that ld65 writes with `--dbgfile` (cc65 2.19, version 2): a keyword, a tab, then `key=value`
 * with commas; lists join with "+", strings stand in double quotes and may hold commas.
 * Source: output of ld65 2.19 (measured); its own wiki warns that the format changes with versions, so version 2 only.
 */
export class DebugRecord {
  readonly keyword: string;
  /** Line of the file, from 1. */
  readonly line: number;
  readonly #values: ReadonlyMap<string, string>;

  constructor(keyword: string, line: number, values: ReadonlyMap<string, string>) {
    this.keyword = keyword;
    this.line = line;
    this.#values = values;
  }

  has(key: string): boolean {
    return this.#values.has(key);
  }

  /** A word or a string without its quotes. Errors: DEBUG_FILE_INVALID when the key is missing. */
  text(key: string): string {
    const value = this.#values.get(key);
    if (value === undefined) return this.refuse(`no "${key}"`, `"${key}=" in a record "${this.keyword}"`);
    return value;
  }

  /** A whole number, decimal or with 0x, of at most 32 bits. */
  number(key: string): number {
    const value = this.text(key);
    if (!/^(-?\d{1,10}|0x[0-9A-Fa-f]{1,8})$/.test(value))
      this.refuse(`"${key}=${value.slice(0, 40)}"`, 'a whole number');
    return Number(value);
  }

  /** The value of a symbol: negative ones are written as their 32 or 64 bits (measured). */
  signedNumber(key: string): number {
    const digits = /^0x[Ff]{0,8}([0-9A-Fa-f]{8})$/.exec(this.text(key))?.[1];
    return digits === undefined ? this.number(key) : Number.parseInt(digits, 16) | 0;
  }

  /** A number that the model needs to lie within limits. */
  numberWithin(key: string, low: number, high: number): number {
    const value = this.number(key);
    if (value < low || value > high) this.refuse(`"${key}=${value}"`, `${low} to ${high}`);
    return value;
  }

  /** Numbers of a list; empty when the key is missing. */
  list(key: string): number[] {
    const value = this.#values.get(key);
    if (value === undefined) return [];
    if (!/^\d{1,9}(\+\d{1,9})*$/.test(value)) this.refuse(`"${key}=${value.slice(0, 40)}"`, 'whole numbers with "+"');
    return value.split('+').map(Number);
  }

  refuse(found: string, expected: string): never {
    throw new LatelightError('DEBUG_FILE_INVALID', { file: '', line: this.line, found, expected });
  }
}

const PAIR = /([a-z]+)=(?:"([^"]*)"|([^",]*))(,|$)/y;

/** Take the file apart. Errors: DEBUG_FILE_INVALID with the line, DEBUG_FILE_VERSION. */
export function readDebugRecords(text: string): DebugRecord[] {
  const records: DebugRecord[] = [];
  const lines = text.split(/\r?\n/);
  for (let i = 0; i < lines.length; i++) {
    if (lines[i] !== '') records.push(readRecord(lines[i]!, i + 1));
    if (records.length === 1) checkVersion(records[0]!);
  }
  if (records.length === 0)
    throw new LatelightError('DEBUG_FILE_INVALID', { file: '', line: 1, found: 'nothing', expected: '"version"' });
  return records;
}

function readRecord(text: string, line: number): DebugRecord {
  const tab = text.indexOf('\t');
  const keyword = text.slice(0, tab);
  const bare = new DebugRecord(keyword, line, new Map());
  if (tab < 1 || !/^[a-z]+$/.test(keyword)) bare.refuse(`"${text.slice(0, 40)}"`, 'a keyword, a tab and values');
  const values = new Map<string, string>();
  for (PAIR.lastIndex = tab + 1; PAIR.lastIndex < text.length; ) {
    const at = PAIR.lastIndex;
    const match = PAIR.exec(text);
    if (match === null) return bare.refuse(`"${text.slice(at, at + 40)}"`, '"key=value"');
    values.set(match[1]!, match[2] ?? match[3]!);
    if (match[4] === '' && PAIR.lastIndex < text.length)
      return bare.refuse(`"${text.slice(at, at + 40)}"`, '"," after a value');
    if (match[4] === '') break;
  }
  return new DebugRecord(keyword, line, values);
}

function checkVersion(record: DebugRecord): void {
  if (record.keyword !== 'version') record.refuse(`"${record.keyword}"`, 'the record "version" first');
  const major = record.number('major');
  if (major !== 2) throw new LatelightError('DEBUG_FILE_VERSION', { file: '', found: major });
}
