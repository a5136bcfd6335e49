import { UNNAMED_SCOPE } from '../program-symbols.ts';
import type { BinaryOperator, UnaryOperator } from './arithmetic.ts';
import type { Segment } from './memory-map.ts';
import type { Origin } from './source-files.ts';
import type { Token } from './token.ts';

/** An expression as a tree; operations on plain numbers are computed when it is built. */
export type Expression =
  | { readonly kind: 'number'; readonly value: number }
  | { readonly kind: 'place'; readonly segment: Segment; readonly offset: number }
  | {
      readonly kind: 'symbol';
      readonly symbol: AssemblerSymbol;
      /** Written with its scope, `Player::x`: scopes around are not searched then. */
      readonly isQualified: boolean;
      readonly token: Token;
    }
  | { readonly kind: 'unnamed'; readonly index: number; readonly token: Token }
  | { readonly kind: 'unary'; readonly operator: UnaryOperator; readonly operand: Expression; readonly token: Token }
  | {
      readonly kind: 'binary';
      readonly operator: BinaryOperator;
      readonly left: Expression;
      readonly right: Expression;
      readonly token: Token;
    };

export const numberExpression = (value: number): Expression => ({ kind: 'number', value });

export type Definition =
  | { readonly kind: 'label'; readonly segment: Segment; readonly offset: number }
  | { readonly kind: 'value'; readonly value: Expression };

/** A name of the program. It exists from its first mention on; `definition` is null until it is defined. */
export class AssemblerSymbol {
  readonly name: string;
  readonly scope: Scope;
  /** The label that a cheap local label belongs to. */
  readonly owner: AssemblerSymbol | null;
  definition: Definition | null = null;
  /** `variable` = defined by `.set`, may be set again. */
  kind: 'label' | 'constant' | 'variable' = 'label';
  /** Where it is defined; where it was mentioned first while it is not. */
  token: Token;
  origin: Origin;
  /** Declared by `.globalzp`: one byte as long as it is not defined. */
  isDeclaredZeroPage = false;
  isExported = false;
  /** Declared by `.global`: it must be defined in its own scope. */
  isGlobal = false;
  /** A definition of it was refused. */
  isBroken = false;
  /** How it is mentioned: alone, so that scopes around are searched too, or with its scope. */
  isMentionedAlone = false;
  isMentionedQualified = false;
  /** Cheap local labels between this label and the next one. */
  readonly locals = new Map<string, AssemblerSymbol>();
  /** Its fault was reported; do not report it again. */
  isKnownFault = false;
  /** State of the final evaluation. */
  finalValue: number | 'open' | 'busy' = 'open';

  constructor(name: string, scope: Scope, owner: AssemblerSymbol | null, token: Token, origin: Origin) {
    this.name = name;
    this.scope = scope;
    this.owner = owner;
    this.token = token;
    this.origin = origin;
  }

  get qualifiedName(): string {
    if (this.owner !== null) return `${this.owner.qualifiedName}${this.name}`;
    return this.scope.path === '' ? this.name : `${this.scope.path}::${this.name}`;
  }
}

/** Names between `.scope` or `.proc` and its end; the root scope holds the rest. */
export class Scope {
  readonly name: string;
  readonly parent: Scope | null;
  readonly kind: 'root' | 'scope' | 'proc';
  readonly token: Token | null;
  readonly origin: Origin | null;
  readonly symbols = new Map<string, AssemblerSymbol>();
  readonly children = new Map<string, Scope>();
  /** Bytes that the program had where the scope begins. */
  readonly bytesBefore: number;

  constructor(
    name: string,
    kind: Scope['kind'],
    parent: Scope | null,
    at: { readonly token: Token; readonly origin: Origin } | null,
    bytesBefore = 0,
  ) {
    this.name = name;
    this.kind = kind;
    this.parent = parent;
    this.token = at?.token ?? null;
    this.origin = at?.origin ?? null;
    this.bytesBefore = bytesBefore;
  }

  /** `Outer::Inner`; empty for the root. */
  get path(): string {
    if (this.parent === null) return '';
    const outer = this.parent.path;
    const own = this.name === '' ? UNNAMED_SCOPE : this.name;
    return outer === '' ? own : `${outer}::${own}`;
  }
}

/** The scope of a name, looked for from `scope` outward. */
export function findScope(scope: Scope, name: string): Scope | undefined {
  for (let at: Scope | null = scope; at !== null; at = at.parent) {
    const found = at.children.get(name);
    if (found !== undefined) return found;
  }
  return undefined;
}

/** The nearest defined symbol of a name, looked for from `scope` outward. */
export function findDefined(scope: Scope | null, name: string): AssemblerSymbol | undefined {
  for (let at = scope; at !== null; at = at.parent) {
    const found = at.symbols.get(name);
    if (found !== undefined && found.definition !== null) return found;
  }
  return undefined;
}

/** Whether a definition of the name was refused, here or in a scope around. */
export function isBrokenName({ name, owner, scope, isBroken }: AssemblerSymbol): boolean {
  if (isBroken || owner !== null) return isBroken;
  for (let at: Scope | null = scope; at !== null; at = at.parent) {
    if (at.symbols.get(name)?.isBroken === true) return true;
  }
  return false;
}

/** A name as the author wrote it: local names of macros have a number behind "~". */
export const writtenName = (name: string): string => name.replace(/~\d+$/, '');

/**
 * The nearest symbol of a name, looked for from `scope` outward, defined or not: a mention in a scope between hides the
 * definition further out until the end of the source (as in ca65).
 */
export function findNearest(scope: Scope | null, name: string): AssemblerSymbol | undefined {
  for (let at = scope; at !== null; at = at.parent) {
    const found = at.symbols.get(name);
    if (found !== undefined) return found;
  }
  return undefined;
}

/** What a reference stands for now: the symbol itself if it is defined, else one of a scope around it. */
export function resolve(symbol: AssemblerSymbol, isQualified: boolean): AssemblerSymbol | undefined {
  if (symbol.definition !== null) return symbol;
  return isQualified || symbol.owner !== null ? undefined : findDefined(symbol.scope.parent, symbol.name);
}

/** Every name that can be written without a scope at `scope`, for hints. */
export function* visibleNames(scope: Scope): Generator<string> {
  for (let at: Scope | null = scope; at !== null; at = at.parent) {
    for (const { name, definition } of at.symbols.values()) if (definition !== null) yield name;
  }
}
