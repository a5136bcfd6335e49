import { hexAddress } from '../labels.ts';
import type { SourcePlace } from '../source-map.ts';
import type { Assembly, Fixup, NotedStretch } from './assembly.ts';
import { type CodeView, type CycleCount, type CycleFault, countCycles } from './cycle-count.ts';
import { evaluate } from './evaluation.ts';
import { study } from './expression-study.ts';
import { PROGRAM_START, type Segment } from './memory-map.ts';
import type { Origin } from './source-files.ts';
import { type Expression, resolve } from './symbols.ts';

/** A stretch whose cycles were promised by a note and counted; a run can check it again. Plain data. */
export interface CycleStretch {
  /** Address of its first byte, and the address behind its last. */
  readonly start: number;
  readonly end: number;
  /** Cycles from the first instruction to the end, least and most; equal when the note says "exactly". */
  readonly low: number;
  readonly high: number;
  /** One round of a loop: it ends where it begins; else it ends at `end`, or with its last instruction. */
  readonly isRound: boolean;
  /** The line of the note. */
  readonly place: SourcePlace;
  /** Addresses of indexed reads that are taken to stay inside the data that their label names. */
  readonly assumptions: readonly number[];
}

/** Check every note against the count. Only for a program without errors: every byte must be known. */
export function checkStretches(assembly: Assembly): CycleStretch[] {
  reportOpen(assembly);
  if (assembly.stretches.length === 0) return [];
  const view = makeView(assembly);
  return assembly.stretches.flatMap((stretch) =>
    stretch.end === null ? [] : checkStretch(stretch, stretch.end, view, assembly),
  );
}

function reportOpen({ openStretches, messages }: Assembly): void {
  for (const { span, origin } of openStretches) messages.error('ASM_NOTE_OPEN', {}, span, origin);
}

function checkStretch(stretch: NotedStretch, endOffset: number, view: CodeView, assembly: Assembly): CycleStretch[] {
  const { segment, span, origin } = stretch;
  const { messages } = assembly;
  const start = segment.start + stretch.start;
  const end = segment.start + endOffset;
  try {
    const low = evaluate(stretch.low, assembly);
    const high = evaluate(stretch.high, assembly);
    const found = countCycles(view, start, end);
    if ('code' in found) reportFault(found, stretch, assembly);
    else compare(found, low, high, stretch, assembly);
    if ('code' in found || found.low !== low || found.high !== high) return [];
    const place = { file: span.source.file, line: span.source.line };
    return [{ start, end, low, high, isRound: found.isRound, place, assumptions: found.assumptions }];
  } catch (thrown) {
    messages.caught(thrown, origin);
    return [];
  }
}

function reportFault({ code, details, address }: CycleFault, { span, origin }: NotedStretch, assembly: Assembly): void {
  assembly.messages.error(code, { ...details, where: whereText(address, assembly) }, span, origin);
}

function compare(
  found: CycleCount,
  low: number,
  high: number,
  { span, origin }: NotedStretch,
  assembly: Assembly,
): void {
  for (const address of found.crossings) {
    const at = originAt(address, assembly) ?? origin;
    assembly.messages.warning(
      'ASM_BRANCH_PAGE',
      {},
      { source: at.source, column: columnOf(at), length: widthOf(at) },
      at,
    );
  }
  if (found.low === low && found.high === high) return;
  const details = {
    found: rangeText(found.low, found.high),
    expected: rangeText(low, high),
    cure: cureFor(found, low !== high, assembly),
  };
  assembly.messages.error('ASM_CYCLES', details, span, origin);
}

const rangeText = (low: number, high: number): string => (low === high ? `${low}` : `${low} to ${high}`);

/** `isRange` = the note gives two numbers. */
function cureFor({ low, high, uncertain }: CycleCount, isRange: boolean, assembly: Assembly): string {
  if (low === high && isRange) return `Write "exactly ${low} cycles from here", or add or take away instructions.`;
  if (low === high) return 'Correct the number in the note, or add or take away instructions.';
  const range = `"${low} to ${high} cycles from here"`;
  if (isRange) return `Write ${range}: both numbers are checked; or add or take away instructions.`;
  const [first] = uncertain;
  if (first === undefined) return `Make all ways through the branches equally long, or write ${range}.`;
  return `The instruction ${whereText(first, assembly)} takes a cycle more when its index crosses a page: put the data that it reads inside one page, or write ${range}.`;
}

function whereText(address: number, assembly: Assembly): string {
  const origin = originAt(address, assembly);
  const name = hexAddress(address);
  return origin === undefined ? `at ${name}` : `at ${name} (${origin.source.file}:${origin.source.line})`;
}

function originAt(address: number, { records }: Assembly): Origin | undefined {
  const isThere = (start: number, length: number): boolean => address >= start && address < start + length;
  return records.find(
    ({ segment, offset, length }) => segment.spec.kind === 'rom' && isThere(segment.start + offset, length),
  )?.origin;
}

const columnOf = ({ source }: Origin): number => Math.max(0, source.text.search(/\S/));
const widthOf = (origin: Origin): number =>
  Math.max(1, origin.source.text.replace(/;.*$/, '').trimEnd().length - columnOf(origin));

/** The program as the count sees it. */
export function makeView(assembly: Assembly): CodeView {
  const code = [...assembly.segments.values()].filter(
    ({ spec, start }) => spec.kind === 'rom' && start >= PROGRAM_START,
  );
  const operands = new Map<number, Fixup>();
  for (const fixup of assembly.fixups) {
    if (fixup.kind === 'word') operands.set(fixup.segment.start + fixup.offset - 1, fixup);
  }
  const labels = labelOffsets(assembly);
  const instructionEnds = new Map<number, number>();
  for (const { segment, offset, length, isInstruction } of assembly.records) {
    if (isInstruction && length > 0) instructionEnds.set(segment.start + offset + length, segment.start + offset);
  }
  return {
    instructionBefore: (address) => instructionEnds.get(address),
    byteAt: (address) => {
      const segment = code.find(({ start, length }) => address >= start && address < start + length);
      return segment?.bytes[address - segment.start];
    },
    blockOf: (instruction) => {
      const fixup = operands.get(instruction);
      const label = fixup === undefined || !isAddress(fixup, assembly) ? undefined : onlyLabel(fixup.expression, 0);
      return label === undefined ? undefined : blockAt(label, labels);
    },
  };
}

interface Label {
  readonly segment: Segment;
  readonly offset: number;
}

/** Where labels without @ stand, by segment, in order. */
function labelOffsets({ symbols, segments }: Assembly): Map<Segment, number[]> {
  const offsets = new Map([...segments.values()].map((segment) => [segment, [] as number[]]));
  for (const { definition, owner } of symbols) {
    if (definition?.kind === 'label' && owner === null) offsets.get(definition.segment)!.push(definition.offset);
  }
  for (const list of offsets.values()) list.sort((a, b) => a - b);
  return offsets;
}

/** From a label to the next one, or to the end of its segment. */
function blockAt(
  { segment, offset }: Label,
  labels: ReadonlyMap<Segment, readonly number[]>,
): readonly [number, number] | undefined {
  const end = labels.get(segment)?.find((other) => other > offset) ?? segment.length;
  return end > offset ? [segment.start + offset, segment.start + end - 1] : undefined;
}

/** Whether an operand is a place and a number: not half a place, not one of its bytes, not two places. */
function isAddress({ expression }: Fixup, assembly: Assembly): boolean {
  const { isPlain, places } = study(expression, assembly);
  return isPlain && places.length === 1 && places[0]![1] === 1;
}

/** The label of an expression that names one only, and adds numbers to it. */
function onlyLabel(expression: Expression, depth: number): Label | undefined {
  const found: Label[] = [];
  if (depth < 50) collectLabels(expression, depth, found);
  return found.length === 1 ? found[0] : undefined;
}

function collectLabels(expression: Expression, depth: number, found: Label[]): void {
  if (found.length > 1 || depth > 50) return;
  if (expression.kind === 'unary' && expression.operator === '+') collectLabels(expression.operand, depth + 1, found);
  if (expression.kind === 'binary' && (expression.operator === '+' || expression.operator === '-')) {
    collectLabels(expression.left, depth + 1, found);
    if (expression.operator === '+') collectLabels(expression.right, depth + 1, found);
  }
  if (expression.kind !== 'symbol') return;
  const definition = resolve(expression.symbol, expression.isQualified)?.definition;
  if (definition?.kind === 'label') found.push(definition);
  if (definition?.kind === 'value') collectLabels(definition.value, depth + 1, found);
}
