import { applyBinary, applyUnary, type BinaryOperator } from './arithmetic.ts';
import type { Segment } from './memory-map.ts';
import { Fault, spanOf } from './messages.ts';
import { type AssemblerSymbol, type Expression, findDefined, findNearest } from './symbols.ts';

/**
 * What is known of an expression before every symbol has its value: whether it is a constant, and how many bytes its
 * address has. The choice between zero page and absolute addressing hangs on it, so the rules are those of ca65 2.19,
 * found by experiment:
 *
 * - A sum is kept as number + places times weights. Places of one segment cancel: `end - start` is a constant.
 * - The size of a sum of places is that of the first place that remains; a constant has the size of its value, but not
 *   less than the largest part that went into it (`absolute - absolute` stays absolute).
 * - Any other operation on places keeps the larger size of both sides; comparisons, `!` and one byte of a number (`<`,
 *   `>`, `^`) have one byte; words of a number (`.loword`, `.hiword`) have two.
 * - A symbol that is not defined yet has no size, and nor has a sum with it: then absolute addressing is chosen.
 * - A symbol that is defined in an outer scope only counts as not defined yet, because the scope may still define it, but
 *   lends its size.
 */
export interface Study {
  /** Number plus places; false as soon as something else happens to a place or a symbol is missing. */
  readonly isPlain: boolean;
  readonly value: number;
  readonly places: readonly (readonly [Segment, number])[];
  readonly size: AddressSize;
}

/** Bytes of an address; 0 = not known yet, 3 = larger than the memory. */
export type AddressSize = 0 | 1 | 2 | 3;

/** What is known of the program at the time of asking. */
export interface Knowledge {
  /** Unnamed labels by their index, as far as they are defined. */
  readonly unnamed: readonly { readonly segment: Segment; readonly offset: number }[];
  /** Whether the whole source was read, so that an outer scope's symbol is meant for sure. */
  readonly isFinal: boolean;
}

const MOST_NODES = 20_000;
const DEEPEST = 400;

interface Walk {
  readonly knowledge: Knowledge;
  /** Symbols whose values are being looked at; null as long as there are none. */
  open: Set<AssemblerSymbol> | null;
  nodes: number;
}

/** Errors: a Fault for a symbol that is defined by itself, and for an expression beyond all limits. */
export function study(expression: Expression, knowledge: Knowledge): Study {
  if (expression.kind === 'place') return placeAt(expression.segment, expression.offset);
  if (expression.kind === 'symbol' && expression.symbol.definition?.kind === 'label') {
    const { segment, offset } = expression.symbol.definition;
    return placeAt(segment, offset);
  }
  const found = walk(expression, { knowledge, open: null, nodes: 0 }, 0);
  if (!found.isPlain) return found;
  const first = found.places[0];
  const size = first === undefined ? larger(found.size, sizeOf(found.value)) : sizeOfPlace(first[0]);
  return { ...found, size };
}

/** The value of a constant, or undefined when it is not one (yet). */
export function constantOf(expression: Expression, knowledge: Knowledge): number | undefined {
  if (expression.kind === 'number') return expression.value;
  const { isPlain, places, value } = study(expression, knowledge);
  return isPlain && places.length === 0 ? value : undefined;
}

/** A negative number has all its bits. */
const sizeOf = (value: number): AddressSize => (value < 0 ? 3 : value < 0x100 ? 1 : value < 0x10000 ? 2 : 3);
const sizeOfPlace = (segment: Segment): AddressSize => (segment.isZeroPage ? 1 : 2);
const larger = (a: AddressSize, b: AddressSize): AddressSize => (a > b ? a : b);
const vague = (size: AddressSize): Study => ({ isPlain: false, value: 0, places: [], size });

function walk(expression: Expression, state: Walk, depth: number): Study {
  if (++state.nodes > MOST_NODES || depth > DEEPEST) refuseSize(expression);
  switch (expression.kind) {
    case 'number':
      return { isPlain: true, value: expression.value, places: [], size: sizeOf(expression.value) };
    case 'place':
      return placeAt(expression.segment, expression.offset);
    case 'unnamed': {
      const label = state.knowledge.unnamed[expression.index];
      return label === undefined ? vague(0) : placeAt(label.segment, label.offset);
    }
    case 'symbol':
      return walkSymbol(expression, state, depth);
    case 'unary':
      return walkUnary(expression, state, depth);
    case 'binary':
      return walkBinary(expression, state, depth);
  }
}

const placeAt = (segment: Segment, offset: number): Study => ({
  isPlain: true,
  value: offset,
  places: [[segment, 1]],
  size: sizeOfPlace(segment),
});

type Node<K extends Expression['kind']> = Extract<Expression, { kind: K }>;

function walkSymbol(node: Node<'symbol'>, state: Walk, depth: number): Study {
  const { symbol } = node;
  const { definition } = symbol;
  if (definition === null) return walkUndefined(node, state, depth);
  if (definition.kind === 'label') return placeAt(definition.segment, definition.offset);
  state.open ??= new Set();
  if (state.open.has(symbol)) {
    throw new Fault('ASM_SYMBOL_CIRCULAR', { name: symbol.name }, spanOf(symbol.token));
  }
  state.open.add(symbol);
  const found = walk(definition.value, state, depth + 1);
  state.open.delete(symbol);
  return found;
}

/** A symbol without a definition of its own: at the end an outer scope's is meant, before the end that only lends its size. */
function walkUndefined(node: Node<'symbol'>, state: Walk, depth: number): Study {
  const { symbol, isQualified } = node;
  const { isFinal } = state.knowledge;
  const unknown = vague(symbol.isDeclaredZeroPage ? 1 : 0);
  if (isQualified || symbol.owner !== null) return unknown;
  const outer = (isFinal ? findDefined : findNearest)(symbol.scope.parent, symbol.name);
  if (outer === undefined) return unknown;
  if (outer.definition === null) return vague(symbol.isDeclaredZeroPage || outer.isDeclaredZeroPage ? 1 : 0);
  const found = walkSymbol({ ...node, symbol: outer }, state, depth + 1);
  return isFinal ? found : vague(found.size);
}

function walkUnary({ operator, operand, token }: Node<'unary'>, state: Walk, depth: number): Study {
  const inner = walk(operand, state, depth + 1);
  if (operator === '+') return inner;
  if (operator === '-' && inner.isPlain) return scaled(inner, -1, token);
  const isConstant = inner.isPlain && inner.places.length === 0;
  if (isConstant) return { ...inner, value: applyUnary(operator, inner.value), size: unarySize(operator, inner.size) };
  return vague(unarySize(operator, inner.size));
}

function unarySize(operator: Node<'unary'>['operator'], inner: AddressSize): AddressSize {
  if (operator === '<' || operator === '>' || operator === '^' || operator === '!') return 1;
  return operator === 'loword' || operator === 'hiword' ? 2 : inner;
}

const COMPARISONS: ReadonlySet<BinaryOperator> = new Set(['=', '<>', '<', '>', '<=', '>=', '&&', 'xor', '||']);

function walkBinary({ operator, left, right, token }: Node<'binary'>, state: Walk, depth: number): Study {
  const a = walk(left, state, depth + 1);
  const b = walk(right, state, depth + 1);
  const isUnknown = (a.size === 0 && !a.isPlain) || (b.size === 0 && !b.isPlain);
  const size = COMPARISONS.has(operator) ? 1 : isUnknown ? 0 : larger(a.size, b.size);
  if (!a.isPlain || !b.isPlain) return vague(size);
  if (operator === '+') return { ...sum(a, b, token), size };
  if (operator === '-') return { ...sum(a, scaled(b, -1, token), token), size };
  if (operator === '*' && b.places.length === 0) return { ...scaled(a, b.value, token), size };
  if (operator === '*' && a.places.length === 0) return { ...scaled(b, a.value, token), size };
  if (a.places.length > 0 || b.places.length > 0) return vague(size);
  const value = applyBinary(operator, a.value, b.value);
  return typeof value === 'number' ? { isPlain: true, value, places: [], size } : vague(size);
}

type Operator = Node<'binary'>['token'];

function scaled(inner: Study, factor: number, token: Operator): Study {
  const value = exact('*', inner.value, factor, token);
  const places = inner.places.map(([segment, weight]) => [segment, weight * factor] as const);
  return { ...inner, value, places: places.filter(([, weight]) => weight !== 0) };
}

function sum(a: Study, b: Study, token: Operator): Study {
  const weights = new Map<Segment, number>(a.places);
  for (const [segment, weight] of b.places) weights.set(segment, (weights.get(segment) ?? 0) + weight);
  return {
    ...a,
    value: exact('+', a.value, b.value, token),
    places: [...weights].filter(([, weight]) => weight !== 0),
  };
}

function exact(operator: '+' | '*', a: number, b: number, token: Operator): number {
  const value = applyBinary(operator, a, b);
  if (typeof value === 'number') return value;
  throw new Fault('ASM_RESULT_LARGE', { found: `${a} ${operator} ${b}` }, spanOf(token));
}

/** Too long or too deep to be meant: a sum of symbols that are sums of symbols. */
export function refuseSize(expression: Expression): never {
  const token = tokenOf(expression);
  const span = token === undefined ? { source: { file: '', line: 1, text: '' }, column: 0, length: 1 } : spanOf(token);
  throw new Fault(
    'ASM_LIMIT',
    { what: 'an expression with its symbols', limit: `${DEEPEST} levels or ${MOST_NODES} parts` },
    span,
  );
}

function tokenOf(expression: Expression): Operator | undefined {
  if (expression.kind === 'number' || expression.kind === 'place') return undefined;
  return expression.token;
}
