import { type DebugRecord, readDebugRecords } from './debug-records.ts';
import { type ProgramSymbol, UNNAMED_SCOPE } from './program-symbols.ts';
import { makeSourceMap, type SourceMap, type SourcePlace, type SourceSpan } from './source-map.ts';

/** What a debug file tells of a program; the same as the assembler gives. Plain data. */
export interface DebugInfo {
  readonly symbols: readonly ProgramSymbol[];
  readonly sourceMap: SourceMap;
}

/** Parent of a cheap local label behind the end of a scope: no symbol of the file (measured). */
const NO_PARENT = 0xffff_ffff;
const LARGEST_SEGMENT = 0x10_0000;
const LARGEST_ADDRESS = 0xff_ffff;
const DEEPEST = 300;
/** Bytes of all spans of one segment together. */
const MOST_PAINTED = 0x100_0000;
/** Kind of a line record: a line of a C source. */
const C_LINE = 1;

/**
 * Read the debug file of ld65.
 *
 * A line that calls a macro has a record for all of its bytes, and the lines of the macro's body have records with a
 * depth (`count`): the deepest one is the place, the others are its calls. Repeated lines are told alike.
 * Errors: DEBUG_FILE_VERSION, DEBUG_FILE_INVALID.
 */
export function parseDebugFile(text: string): DebugInfo {
  const tables = sortRecords(readDebugRecords(text));
  return { symbols: readSymbols(tables), sourceMap: makeSourceMap(readSpans(tables)) };
}

type Kind = 'file' | 'line' | 'seg' | 'span' | 'scope' | 'sym';
type Table = ReadonlyMap<number, DebugRecord>;
type Tables = Readonly<Record<Kind, Table>>;

/** Records by kind and id, counted against the record `info`. */
function sortRecords(records: readonly DebugRecord[]): Tables {
  const tables = {
    file: new Map(),
    line: new Map(),
    seg: new Map(),
    span: new Map(),
    scope: new Map(),
    sym: new Map(),
  } as Record<Kind, Map<number, DebugRecord>>;
  const info = records.find(({ keyword }) => keyword === 'info');
  for (const record of records) {
    if (!Object.hasOwn(tables, record.keyword)) continue;
    const table = tables[record.keyword as Kind];
    const id = record.number('id');
    if (table.has(id)) record.refuse(`a second "${record.keyword}" with id=${id}`, 'one record for each id');
    table.set(id, record);
  }
  for (const kind of Object.keys(tables) as Kind[]) {
    const found = tables[kind].size;
    if (info?.has(kind) && info.number(kind) !== found) {
      info.refuse(
        `"${kind}=${info.text(kind)}"`,
        `${found}, the number of records "${kind}" in the file; it may be cut short`,
      );
    }
  }
  return tables;
}

/** The record that another one names by its id. */
function named(table: Table, id: number, by: DebugRecord, kind: Kind): DebugRecord {
  return table.get(id) ?? by.refuse(`${kind} ${id}`, `the id of a record "${kind}"`);
}

interface Piece {
  readonly segment: DebugRecord;
  readonly start: number;
  readonly size: number;
  readonly depth: number;
  readonly place: SourcePlace;
}

function readSpans(tables: Tables): SourceSpan[] {
  const pieces = new Map<DebugRecord, Piece[]>();
  for (const line of tables.line.values()) {
    for (const piece of piecesOf(line, tables)) {
      const list = pieces.get(piece.segment) ?? [];
      list.push(piece);
      pieces.set(piece.segment, list);
    }
  }
  return [...pieces].flatMap(([segment, list]) => innermost(segment, list));
}

function piecesOf(line: DebugRecord, tables: Tables): Piece[] {
  if (line.has('type') && line.number('type') === C_LINE) return [];
  const place = placeOf(line, tables);
  const depth = line.has('count') ? line.numberWithin('count', 0, DEEPEST) : 0;
  return line.list('span').map((id) => {
    const span = named(tables.span, id, line, 'span');
    const segment = named(tables.seg, span.number('seg'), span, 'seg');
    const room = segment.numberWithin('size', 0, LARGEST_SEGMENT);
    const start = span.numberWithin('start', 0, room);
    return { segment, start, size: span.numberWithin('size', 0, room - start), depth, place };
  });
}

const placeOf = (line: DebugRecord, tables: Tables): SourcePlace => ({
  file: named(tables.file, line.number('file'), line, 'file').text('name'),
  line: line.numberWithin('line', 1, 0x7fff_ffff),
});

/** Cut a segment where the pieces over a byte change. */
function innermost(segment: DebugRecord, pieces: readonly Piece[]): SourceSpan[] {
  const size = segment.number('size');
  const painted = pieces.reduce((total, piece) => total + piece.size, 0);
  if (painted > MOST_PAINTED) segment.refuse(`spans of ${painted} bytes`, `at most ${MOST_PAINTED}`);
  const owners: (readonly Piece[])[] = new Array(size).fill([]);
  for (const piece of [...pieces].sort((a, b) => b.depth - a.depth)) {
    // Neighbours share one list, so that equal lists are one object.
    const longer = new Map<readonly Piece[], readonly Piece[]>();
    for (let at = piece.start; at < piece.start + piece.size; at++) {
      const list = owners[at]!;
      const extended = longer.get(list) ?? [...list, piece];
      longer.set(list, extended);
      owners[at] = extended;
    }
  }
  return spansOf(segment, owners);
}

function spansOf(segment: DebugRecord, owners: readonly (readonly Piece[])[]): SourceSpan[] {
  const spans: SourceSpan[] = [];
  const base = segment.numberWithin('start', 0, LARGEST_ADDRESS);
  const offset = segment.has('ooffs') ? segment.numberWithin('ooffs', 0, LARGEST_ADDRESS) : null;
  for (let start = 0; start < owners.length; ) {
    const list = owners[start]!;
    let end = start + 1;
    while (end < owners.length && owners[end] === list) end++;
    const [inner, ...outer] = list;
    if (inner !== undefined) {
      spans.push({
        address: base + start,
        length: end - start,
        segment: segment.text('name'),
        imageOffset: offset === null ? null : offset + start,
        place: inner.place,
        calls: outer.map(({ place }) => place),
      });
    }
    start = end;
  }
  return spans;
}

function readSymbols(tables: Tables): ProgramSymbol[] {
  return [...tables.sym.values()].filter((sym) => sym.has('val')).map((sym) => symbolOf(sym, tables));
}

function symbolOf(sym: DebugRecord, tables: Tables): ProgramSymbol {
  const ownName = sym.text('name');
  const [definition] = sym.list('def');
  const segment = sym.has('seg') ? named(tables.seg, sym.number('seg'), sym, 'seg').text('name') : null;
  return {
    name: qualifiedName(sym, tables, 0),
    ownName,
    value: sym.signedNumber('val'),
    kind: sym.text('type') === 'lab' ? 'label' : 'constant',
    isZeroPage: sym.text('addrsize') === 'zeropage',
    segment,
    place: definition === undefined ? null : placeOf(named(tables.line, definition, sym, 'line'), tables),
    isExported: false,
  };
}

/** `scope::name`, or `label@name` for a cheap local label. */
function qualifiedName(sym: DebugRecord, tables: Tables, depth: number): string {
  const name = sym.text('name');
  if (depth > DEEPEST) sym.refuse('parents without an end', 'a symbol that is not its own parent');
  if (sym.has('parent') && sym.number('parent') === NO_PARENT) return name;
  if (sym.has('parent'))
    return qualifiedName(named(tables.sym, sym.number('parent'), sym, 'sym'), tables, depth + 1) + name;
  const path = scopePath(named(tables.scope, sym.number('scope'), sym, 'scope'), tables);
  return path === '' ? name : `${path}::${name}`;
}

function scopePath(scope: DebugRecord, tables: Tables): string {
  const names: string[] = [];
  for (let at = scope; at.has('parent'); at = named(tables.scope, at.number('parent'), at, 'scope')) {
    if (names.length > DEEPEST) at.refuse('parents without an end', 'a scope that is not its own parent');
    names.unshift(at.text('name') || UNNAMED_SCOPE);
  }
  return names.join('::');
}
