import { LatelightError } from '../errors/latelight-error.ts';
import { editDistance, nearest } from './assembler/spelling.ts';
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
  return Object.assign(new Map([...found, ...Object.entries(own)]), { ambiguous, hasFile: text !== undefined });
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
  const known = knownNames(name, symbols);
  const cure = [
    ...(near === undefined ? [] : [`Did you mean "${near}"?`]),
    ...(known === '' ? [] : [known]),
    ...(near === undefined ? [missingCure(symbols)] : []),
  ].join(' ');
  const expected = given === '' ? 'a symbol of the program' : `a symbol of the program or ${given}`;
  return new LatelightError('EXPRESSION_NAME', { text, found: `"${name}"`, expected, cure });
}

const missingCure = ({ hasFile = false }: Symbols): string =>
  hasFile
    ? 'Write one of them, give the file that the assembler made with this image, or add the name under "symbols".'
    : 'Give the label file that belongs to the image (assembled with ca65 -g), or add the name under "symbols".';

/** So many names are told of those that there are. Our choice. */
const TOLD_NAMES = 6;

/** Some names that are known, those spelt most like `name` first. */
function knownNames(name: string, symbols: Symbols): string {
  const wanted = name.toLowerCase();
  const names = [...symbols.keys()].filter((known) => !known.includes('@'));
  if (names.length === 0) return '';
  const distance = new Map(names.map((known) => [known, editDistance(wanted, known.toLowerCase())]));
  const told = names.sort((a, b) => distance.get(a)! - distance.get(b)! || (a < b ? -1 : 1)).slice(0, TOLD_NAMES);
  const left = names.length - told.length;
  return `The names there are: ${told.join(', ')}${left === 0 ? '' : ` and ${left} more`}.`;
}
