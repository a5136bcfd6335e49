import { addValue, type Symbols, uniqueSymbols } from './labels.ts';
import type { SourcePlace } from './source-map.ts';

/** A name of a program, as the assembler or a debug file gives it. Plain data. */
export interface ProgramSymbol {
  /** With its scopes, `Player::x`; a cheap local label stands behind the label that it belongs to, `reset@clear`. */
  readonly name: string;
  /** As it is written where it is defined: `x`, `@clear`. */
  readonly ownName: string;
  readonly value: number;
  /** `label` = a place, or defined by `:=`; `constant` = defined by `=` or `.set`. */
  readonly kind: 'label' | 'constant';
  readonly isZeroPage: boolean;
  /** Segment of a place, null for a number. */
  readonly segment: string | null;
  /** Where it is defined, null when that is not known. */
  readonly place: SourcePlace | null;
  readonly isExported: boolean;
}

/** What stands for a scope without a name in the names of its symbols: nobody can write it. */
export const UNNAMED_SCOPE = '@scope';

/**
 * Names to values, for probes: every name with its scopes, and every own name that has one value only. Cheap local
 * labels are left out.
 */
export function symbolValues(symbols: readonly ProgramSymbol[]): Symbols {
  const values = new Map<string, number[]>();
  for (const { ownName, value } of symbols) addValue(values, ownName, value);
  // The full name says which one is meant.
  for (const { name } of symbols) values.delete(name);
  for (const { name, value } of symbols) addValue(values, name, value);
  for (const name of [...values.keys()]) if (name.includes('@')) values.delete(name);
  return uniqueSymbols(values);
}

/**
 * The label file of a program, as ld65 writes it with `-Ln`: one line `al 00C000 .name` a label, the last mentioned
 * first; at the top everything that is exported by its name, constants too. Labels of one name, kind and value are written once.
 * `symbols` stand in the order in which they are mentioned first.
 */
export function labelFileText(symbols: readonly ProgramSymbol[]): string {
  const backwards = [...symbols].reverse();
  const labels = new Map<string, ProgramSymbol>();
  for (const symbol of backwards) {
    const { kind, ownName, value, segment, isExported } = symbol;
    const key = [ownName, value, segment === null, isExported].join();
    if (kind === 'label' && !labels.has(key)) labels.set(key, symbol);
  }
  const exported = symbols.filter(({ isExported }) => isExported);
  exported.sort((a, b) => (a.ownName < b.ownName ? -1 : Number(a.ownName > b.ownName)));
  return [...exported, ...labels.values()]
    .map(({ value, ownName }) => `al ${(value >>> 0).toString(16).toUpperCase().padStart(6, '0')} .${ownName}\n`)
    .join('');
}
