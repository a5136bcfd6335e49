import { LatelightError } from '../../errors/latelight-error.ts';
import { parseImage } from '../image.ts';
import type { ProgramSymbol } from '../program-symbols.ts';
import { makeSourceMap, type SourceMap, type SourcePlace, type SourceSpan } from '../source-map.ts';
import { Assembly } from './assembly.ts';
import { reportOpenConditions } from './conditions.ts';
import { symbolValue } from './evaluation.ts';
import { applyFixups, checkAssertions, checkReservations, imageOffset, makeImage, placeSegments } from './layout.ts';
import { LineReader } from './line-reader.ts';
import { type ListingLine, makeListing } from './listing.ts';
import { HEADER_BYTES } from './memory-map.ts';
import { type AssemblyMessage, wholeLine } from './messages.ts';
import type { Origin, SourceFiles } from './source-files.ts';
import { assembleLine } from './statements.ts';
import { type CycleStretch, checkStretches } from './stretches.ts';
import { reportExports, reportMissing } from './symbol-check.ts';
import { reportOpenScopes } from './symbol-commands.ts';
import type { AssemblerSymbol } from './symbols.ts';

export { type ListingLine, listingText } from './listing.ts';
export type { AssemblyMessage } from './messages.ts';
export type { SourceFiles } from './source-files.ts';
export type { CycleStretch } from './stretches.ts';

/** How much of a segment is used. Bytes. */
export interface SegmentUse {
  readonly name: string;
  readonly start: number;
  readonly length: number;
  /** Bytes that it may have; CODE and RODATA share theirs. */
  readonly room: number;
}

/** What comes of a source: everything is plain data. */
export interface AssemblyResult {
  /** The image file, 40,976 bytes; null when there are errors. */
  readonly image: Uint8Array | null;
  /** In the order of the source. */
  readonly errors: readonly AssemblyMessage[];
  readonly warnings: readonly AssemblyMessage[];
  /** In the order of their first mention; empty when there are errors. */
  readonly symbols: readonly ProgramSymbol[];
  readonly sourceMap: SourceMap;
  readonly segments: readonly SegmentUse[];
  readonly listing: readonly ListingLine[];
  /** Stretches whose cycles a note promises; the promise holds. */
  readonly stretches: readonly CycleStretch[];
  /** Source files that were read, the main file first. */
  readonly files: readonly string[];
}

/**
 * Assemble a program from one main file.
 *
 * The language is that part of ca65's (cc65 2.19) which the fixed memory map of memory-map.ts needs: what is accepted here
 * makes the same image with `ca65` and `ld65 -C homebrew-demo/nrom.cfg`; what is not accepted is refused by its name.
 * Undocumented instructions need `.setcpu "6502X"`, as there. Notes of cycles are described in cycle-note.ts.
 *
 * Errors are part of the result; the function does not throw for the sake of a source. Bounded: 300,000 lines with
 * repetitions and macros, 200 macros inside each other, 100 errors.
 * Checked against: ca65 and ld65, test/assembler.
 */
export function assembleProgram(main: string, files: SourceFiles): AssemblyResult {
  const assembly = new Assembly(files, main);
  if (readProgram(main, assembly)) finishProgram(assembly);
  const { messages } = assembly;
  const stretches = messages.hasErrors ? [] : checkStretches(assembly);
  const isGood = !messages.hasErrors;
  const image = isGood ? makeImage(assembly.segments) : null;
  if (image !== null) checkHeader(image, assembly);
  return {
    image,
    errors: messages.list('error'),
    warnings: messages.list('warning'),
    symbols: isGood ? assembly.symbols.flatMap((symbol) => programSymbol(symbol, assembly)) : [],
    sourceMap: makeSourceMap(isGood ? spansOf(assembly) : []),
    segments: [...assembly.segments.values()].map(({ name, start, length, spec }) => ({
      name,
      start,
      length,
      room: spec.size,
    })),
    listing: makeListing(assembly, isGood),
    stretches: isGood ? stretches : [],
    files: assembly.fileNames,
  };
}

/** False when there is no such file, or it is no text. */
function readProgram(main: string, assembly: Assembly): boolean {
  const { reader, messages } = assembly;
  const lines = assembly.linesOf(main);
  if (lines === undefined) {
    assembly.error('ASM_FILE', { name: main, tried: main }, wholeLine(assembly.origin.source));
    return false;
  }
  if (messages.hasErrors) return false;
  reader.enterFile(lines, null, 0);
  for (let line = assembly.nextLine(); line !== undefined; line = assembly.nextLine()) {
    assembleLine(line, assembly);
    if (messages.isFull) reader.cutShort();
    if (reader.isExhausted) {
      reader.cutShort();
      const details = {
        what: 'the program with its repetitions and macros',
        limit: `${LineReader.limits.lines} lines`,
      };
      assembly.error('ASM_LIMIT', details, wholeLine(line.origin.source));
    }
  }
  return true;
}

function finishProgram(assembly: Assembly): void {
  const { messages } = assembly;
  assembly.isFinal = true;
  if (assembly.conditions.length > 0) assembly.reader.isCutShort = true;
  reportOpenConditions(assembly);
  reportOpenScopes(assembly);
  for (const { span, origin } of assembly.segmentStack)
    messages.error('ASM_BLOCK_OPEN', { name: '.pushseg', end: '.popseg', hint: '' }, span, origin);
  reportMissing(assembly.symbols, messages);
  reportExports(assembly.symbols, messages);
  placeSegments(assembly);
  applyFixups(assembly);
  for (const symbol of assembly.symbols) evaluateSymbol(symbol, assembly);
  checkAssertions(assembly);
  checkReservations(assembly);
}

/** Warn of a header with which no console would take the image. */
function checkHeader(image: Uint8Array, { segments, records, messages, origin }: Assembly): void {
  const header = segments.get('HEADER')!;
  const at = records.find(({ segment, length }) => segment === header && length > 0)?.origin ?? origin;
  const span = wholeLine(at.source);
  if (header.length !== HEADER_BYTES) messages.warning('ASM_HEADER_LENGTH', { found: header.length }, span, at);
  try {
    parseImage(image);
  } catch (error) {
    if (!(error instanceof LatelightError)) throw error;
    messages.warning('ASM_IMAGE_REFUSED', { found: error.message }, span, at);
  }
}

/** Report a constant that has no value even if nothing uses it. */
function evaluateSymbol(symbol: AssemblerSymbol, assembly: Assembly): void {
  if (symbol.definition === null) return;
  try {
    symbolValue(symbol, assembly);
  } catch (thrown) {
    assembly.messages.caught(thrown, symbol.origin);
  }
}

function programSymbol(symbol: AssemblerSymbol, assembly: Assembly): ProgramSymbol[] {
  const { definition, token, name, isExported } = symbol;
  if (definition === null) return [];
  const value = symbolValue(symbol, assembly);
  const segment = definition.kind === 'label' ? definition.segment : null;
  return [
    {
      name: symbol.qualifiedName,
      ownName: name,
      value,
      kind: symbol.kind === 'label' ? 'label' : 'constant',
      isZeroPage: segment === null ? value >= 0 && value < 0x100 : segment.isZeroPage,
      segment: segment?.name ?? null,
      place: { file: token.source.file, line: token.source.line },
      isExported,
    },
  ];
}

/** Bytes of each line, with the lines that called or repeat it. */
function spansOf({ records }: Assembly): SourceSpan[] {
  return records
    .filter(({ length }) => length > 0)
    .map(({ origin, segment, offset, length }) => {
      const image = imageOffset(segment);
      return {
        address: segment.start + offset,
        length,
        segment: segment.name,
        imageOffset: image === null ? null : image + offset,
        place: { file: origin.source.file, line: origin.source.line },
        calls: callsOf(origin),
      };
    });
}

function callsOf(origin: Origin): SourcePlace[] {
  const calls: SourcePlace[] = [];
  for (let at = origin; at.caller !== null && (at.via === 'macro' || at.via === 'repeat'); at = at.caller) {
    calls.push({ file: at.caller.source.file, line: at.caller.source.line });
  }
  return calls;
}
