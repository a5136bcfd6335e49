/** A line of a source file, counted from 1. */
export interface SourcePlace {
  readonly file: string;
  readonly line: number;
}

/** Bytes that one line made, all in one segment. */
export interface SourceSpan {
  /** Address as the processor sees it; for the header and the patterns the place in their own memory. */
  readonly address: number;
  readonly length: number;
  readonly segment: string;
  /** Place of the first byte in the image file; null for memory that is not in the file. */
  readonly imageOffset: number | null;
  /** The line itself; for bytes of a macro that is the line of its body. */
  readonly place: SourcePlace;
  /** Lines that called the macro or repeat the line, innermost first. */
  readonly calls: readonly SourcePlace[];
}

/** Which line made which bytes, and back. Plain data, sorted by address; spans of one address space do not overlap. */
export interface SourceMap {
  readonly spans: readonly SourceSpan[];
}

/** Segments that the processor cannot see: their addresses are places in a memory of their own. */
const UNSEEN = new Set(['HEADER', 'PATTERNS']);

/** Sort spans into a map. */
export function makeSourceMap(spans: readonly SourceSpan[]): SourceMap {
  const order = (a: SourceSpan, b: SourceSpan): number =>
    Number(UNSEEN.has(a.segment)) - Number(UNSEEN.has(b.segment)) ||
    a.address - b.address ||
    (a.segment < b.segment ? -1 : Number(a.segment > b.segment));
  return { spans: spans.filter(({ length }) => length > 0).sort(order) };
}

/** The span that holds an address of the processor, or undefined. */
export function spanAt(map: SourceMap, address: number): SourceSpan | undefined {
  let low = 0;
  let high = map.spans.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    const { address: start, segment } = map.spans[middle]!;
    if (start <= address && !UNSEEN.has(segment)) low = middle + 1;
    else high = middle;
  }
  const span = map.spans[low - 1];
  return span !== undefined && address < span.address + span.length ? span : undefined;
}

/** The span that holds a byte of the image file, or undefined. */
export function spanAtOffset(map: SourceMap, imageOffset: number): SourceSpan | undefined {
  return map.spans.find(
    (span) =>
      span.imageOffset !== null && imageOffset >= span.imageOffset && imageOffset < span.imageOffset + span.length,
  );
}

/** Every span that a line made, as the line itself or as a call; in the order of addresses. */
export function spansOf(map: SourceMap, { file, line }: SourcePlace): SourceSpan[] {
  const isIt = (place: SourcePlace): boolean => place.line === line && place.file === file;
  return map.spans.filter(({ place, calls }) => isIt(place) || calls.some(isIt));
}
