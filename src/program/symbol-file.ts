import { LatelightError } from '../errors/latelight-error.ts';
import { nearest } from './assembler/spelling.ts';
import { parseDebugFile } from './debug-file.ts';
import { hexAddress, inQuotes, parseLabels, type Symbols } from './labels.ts';
import { symbolValues } from './program-symbols.ts';

/** What a scenario says about its symbols: the name of the file, and names of its own. */
export interface SymbolNotes {
  readonly file?: string | undefined;
  /** They come before those of the file. */
  readonly own?: Readonly<Record<string, number>>;
}

/**
 * Symbols of a label file (`ld65 -Ln`) or a debug file (`ld65 --dbgfile`, recognised by its first line); no text = no file.
 * Names of a debug file have their scopes, `play::done`; a name that is unique is known without them, too.
 * Errors: LABELS_INVALID, LABELS_EMPTY, DEBUG_FILE_VERSION, DEBUG_FILE_INVALID.
 */
export function parseSymbols(text: string | undefined, { file = '', own = {} }: SymbolNotes = {}): Symbols {
  const found: Symbols = text === undefined ? new Map() : parseFile(text, file);
  const ambiguous = new Map(found.ambiguous ?? []);
  for (const name of Object.keys(own)) ambiguous.delete(name);
  return Object.assign(new Map([...found, ...Object.entries(own)]), { ambiguous });
}

function parseFile(text: string, file: string): Symbols {
  if (text.trim() === '') throw new LatelightError('LABELS_EMPTY', { file: inQuotes(file) });
  if (!/^version\t/.test(text)) return parseLabels(text, file);
  try {
    return symbolValues(parseDebugFile(text).symbols);
  } catch (error) {
    if (!(error instanceof LatelightError)) throw error;
    throw new LatelightError(error.code, { ...error.details, file: inQuotes(file) });
  }
}

/** Why a name of an expression has no value. `text` = the expression; `variables` = names that a run provides. */
export function unknownName(
  text: string,
  name: string,
  symbols: Symbols,
  variables: readonly string[] = [],
): LatelightError {
  const values = symbols.ambiguous?.get(name);
  if (values !== undefined) {
    return new LatelightError('EXPRESSION_NAME_TWICE', { text, name, values: values.map(hexAddress).join(' and ') });
  }
  const given = variables.map((variable) => `"${variable}"`).join(', ');
  const near = nearest(name, [...symbols.keys(), ...variables]);
  const cure =
    near === undefined
      ? 'Give the label file that belongs to the image (assembled with ca65 -g), or add the name under "symbols".'
      : `Did you mean "${near}"?`;
  const expected = given === '' ? 'a symbol of the program' : `a symbol of the program or ${given}`;
  return new LatelightError('EXPRESSION_NAME', { text, found: `"${name}"`, expected, cure });
}
