import { LatelightError } from '../errors/latelight-error.ts';

/** Symbols of a program: name to address or value. */
export type Symbols = ReadonlyMap<string, number>;

/**
 * Read the label file of ld65 (`-Ln`): one line `al 00C000 .name` a label. A name that occurs twice with different
 * addresses (cheap local labels of two scopes) is left out, because nobody can tell which is meant.
 * Errors: LABELS_INVALID.
 */
export function parseLabels(text: string): Symbols {
  const symbols = new Map<string, number>();
  const ambiguous = new Set<string>();
  const lines = text.split(/\r?\n/);
  for (let i = 0; i < lines.length; i++) {
    const line = lines[i]!.trim();
    if (line === '') continue;
    const match = /^al ([0-9A-Fa-f]{6}) \.(\S+)$/.exec(line);
    if (match === null) throw new LatelightError('LABELS_INVALID', { line: i + 1, found: line.slice(0, 60) });
    const address = Number.parseInt(match[1]!, 16);
    const name = match[2]!;
    const known = symbols.get(name);
    if (known !== undefined && known !== address) ambiguous.add(name);
    symbols.set(name, address);
  }
  for (const name of ambiguous) symbols.delete(name);
  return symbols;
}
