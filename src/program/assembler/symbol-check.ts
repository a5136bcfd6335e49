import { type Messages, spanOf } from './messages.ts';
import { nearest } from './spelling.ts';
import { type AssemblerSymbol, findDefined, isBrokenName, type Scope, visibleNames, writtenName } from './symbols.ts';

/** Report every symbol that is mentioned and nowhere defined, once, where it is mentioned first. */
export function reportMissing(symbols: Iterable<AssemblerSymbol>, messages: Messages): void {
  for (const symbol of symbols) {
    if (symbol.definition !== null || symbol.isKnownFault || isBrokenName(symbol)) continue;
    const isFoundOutside =
      symbol.owner === null && !symbol.isGlobal && findDefined(symbol.scope.parent, symbol.name) !== undefined;
    if (!symbol.isMentionedQualified && (isFoundOutside || !symbol.isMentionedAlone)) continue;
    symbol.isKnownFault = true;
    const { name, scope } = symbol;
    const where = symbol.isMentionedQualified && scope.path !== '' ? ` in the scope "${scope.path}"` : '';
    const details = { name: writtenName(name), where, cure: cureFor(symbol) };
    messages.error('ASM_SYMBOL_UNDEFINED', details, spanOf(symbol.token), symbol.origin);
  }
}

/** Report what the linker would refuse: a name that two scopes export, a variable that is exported. */
export function reportExports(symbols: Iterable<AssemblerSymbol>, messages: Messages): void {
  const known = new Map<string, AssemblerSymbol>();
  for (const symbol of symbols) {
    const { name, isExported, definition, kind, token, origin } = symbol;
    const outer = definition === null && !symbol.isGlobal ? findDefined(symbol.scope.parent, name) : undefined;
    if (!isExported || (definition === null && outer === undefined)) continue;
    const other = known.get(name);
    const at = other?.token.source;
    if (kind === 'variable') messages.error('ASM_EXPORT_VARIABLE', { name }, spanOf(token), origin);
    else if (at !== undefined)
      messages.error('ASM_EXPORT_TWICE', { name, file: at.file, line: at.line }, spanOf(token), origin);
    else if (outer !== undefined) outer.isExported = true;
    known.set(name, symbol);
  }
}

function cureFor(symbol: AssemblerSymbol): string {
  const { owner, scope } = symbol;
  const name = writtenName(symbol.name);
  if (symbol.isGlobal && scope.parent !== null) return 'Put .global outside of the scope, where the name is defined.';
  const near = nearest(name, owner === null ? visibleNames(scope) : definedLocals(owner));
  if (near !== undefined) return `Did you mean "${near}"?`;
  const inner = owner === null ? scopeWith(scope, name) : undefined;
  if (inner !== undefined) return `It is a name of the scope "${inner.path}": write "${inner.name}::${name}".`;
  if (owner === null) return `Define it, "${name}:" before an instruction or "${name} = value", or correct its name.`;
  return `A name with @ is known only between two names without @ (labels or constants): define "${name}:" there.`;
}

/** A scope inside one of those around that has the name. */
function scopeWith(from: Scope, name: string): Scope | undefined {
  for (let at: Scope | null = from; at !== null; at = at.parent) {
    for (const child of at.children.values()) if (child.symbols.get(name)?.definition != null) return child;
  }
  return undefined;
}

function* definedLocals(owner: AssemblerSymbol): Generator<string> {
  for (const { name, definition } of owner.locals.values()) if (definition !== null) yield name;
}
