import type { Symbols } from './labels.ts';
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

/**
 * Names to values, for probes: every name with its scopes, and every own name that has one value only. Cheap local
 * labels are left out.
 */
export function symbolValues(symbols: readonly ProgramSymbol[]): Symbols {
  const values = new Map<string, number>();
  const ambiguous = new Set<string>();
  for (const { ownName, value } of symbols) {
    const known = values.get(ownName);
    if (known !== undefined && known !== value) ambiguous.add(ownName);
    values.set(ownName, value);
  }
  for (const name of ambiguous) values.delete(name);
  for (const { name, value } of symbols) values.set(name, value);
  for (const name of [...values.keys()]) if (name.includes('@')) values.delete(name);
  return values;
}

/**
 * The label file of a program, as ld65 writes it with `-Ln`: one line `al 00C000 .name` a label, the last mentioned
 * first, exported ones once more at the top. `symbols` stand in the order in which they are mentioned first.
 */
export function labelFileText(symbols: readonly ProgramSymbol[]): string {
  const labels = symbols.filter(({ kind }) => kind === 'label').reverse();
  return [...labels.filter(({ isExported }) => isExported), ...labels]
    .map(({ value, ownName }) => `al ${value.toString(16).toUpperCase().padStart(6, '0')} .${ownName}\n`)
    .join('');
}
