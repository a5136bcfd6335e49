import { LatelightError } from '../errors/latelight-error.ts';

/** Symbols of a program: name to address or value. */
export interface Symbols extends ReadonlyMap<string, number> {
  /** Names that the file has with several values, and these; nobody can tell which is meant. */
  readonly ambiguous?: ReadonlyMap<string, readonly number[]>;
  /** Some of them come from a file, not all from a scenario. */
  readonly hasFile?: boolean;
}

/**
 * Read the label file of ld65 (`-Ln`): one line `al 00C000 .name` a label. A name that occurs with different addresses
 * (cheap local labels of two scopes) is not among the symbols but in `ambiguous`.
 * Errors: LABELS_INVALID; `file` is the name that its message says.
 */
export function parseLabels(text: string, file = ''): Symbols {
  const values = new Map<string, number[]>();
  const lines = text.split(/\r?\n/);
  for (let i = 0; i < lines.length; i++) {
    const line = lines[i]!.trim();
    if (line === '') continue;
    const match = /^al ([0-9A-Fa-f]{6,16}) \.(\S+)$/.exec(line);
    if (match === null) {
      const found = `${line.slice(0, 60).replace(/\p{Cc}/gu, '\u00b7')}`;
      throw new LatelightError('LABELS_INVALID', { file: inQuotes(file), line: i + 1, found });
    }
    const [, digits, name] = match as unknown as [string, string, string];
    addValue(values, name, labelValue(digits));
  }
  return uniqueSymbols(values);
}

/** Six digits are an address; more of them are the bits of a number with a sign (measured). */
const labelValue = (digits: string): number =>
  digits.length === 6 ? Number.parseInt(digits, 16) : Number.parseInt(digits.slice(-8), 16) | 0;

/** How a message names a file. */
export const inQuotes = (file: string): string => (file === '' ? '' : ` "${file}"`);

/** How a message writes an address: `$` and at least four digits; a number below 0 by its 32 bits. */
export const hexAddress = (value: number): string => `$${(value >>> 0).toString(16).toUpperCase().padStart(4, '0')}`;

/** One value more for a name, unless the name has it. */
export function addValue(values: Map<string, number[]>, name: string, value: number): void {
  const known = values.get(name) ?? [];
  if (!known.includes(value)) known.push(value);
  values.set(name, known);
}

/** Every name with one value; the others are kept apart. */
export function uniqueSymbols(values: ReadonlyMap<string, readonly number[]>): Symbols {
  const unique = new Map<string, number>();
  const ambiguous = new Map<string, readonly number[]>();
  for (const [name, all] of values) {
    if (all.length === 1) unique.set(name, all[0]!);
    else ambiguous.set(name, all);
  }
  return Object.assign(unique, { ambiguous });
}
