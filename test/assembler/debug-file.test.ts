import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it, test } from 'vitest';
import { LatelightError } from '../../src/errors/latelight-error.ts';
import { parseDebugFile } from '../../src/program/debug-file.ts';
import { spanAt } from '../../src/program/source-map.ts';

/** Output of ld65 2.19 for a small program with an include, macros in each other, a repetition, a scope and a procedure. */
const FILE = readFileSync('test/assembler/corpus/small.dbg', 'utf8');

const codeOf = (text: string): string => {
  try {
    parseDebugFile(text);
    return 'accepted';
  } catch (error) {
    if (!(error instanceof LatelightError)) throw error;
    return `${error.code}: ${error.message}`;
  }
};

describe('the debug file of ld65', () => {
  const { symbols, sourceMap } = parseDebugFile(FILE);

  it('names symbols with their scopes, cheap local labels with their label', () => {
    expect(symbols.map(({ name }) => name).sort()).toEqual([
      'exp',
      'fi',
      'main',
      'p1',
      'p1::inn',
      's1::inn',
      's1::inn@c',
      'x1',
      'x2',
      'zz',
    ]);
    expect(symbols.find(({ name }) => name === 's1::inn')).toEqual({
      name: 's1::inn',
      ownName: 'inn',
      value: 0x800e,
      kind: 'label',
      isZeroPage: false,
      segment: 'CODE',
      place: { file: 'm.s', line: 19 },
      isExported: false,
    });
  });

  it.each([
    [0x8000, 'inc.inc:4', [], 16],
    [0x8001, 'm.s:6', ['m.s:13'], 17],
    [0x8005, 'm.s:6', ['m.s:10', 'm.s:14'], 21],
    [0x8009, 'm.s:11', ['m.s:14'], 25],
    [0x8018, 'm.s:27', [], 40],
    [0xfffa, 'm.s:31', [], 32_778],
    [0, 'inc.inc:2', [], null],
  ] as const)('address %i was made by %s, called by %j', (address, place, calls, offset) => {
    const span = spanAt(sourceMap, address)!;
    const text = ({ file, line }: { file: string; line: number }): string => `${file}:${line}`;
    expect([text(span.place), span.calls.map(text)]).toEqual([place, calls]);
    expect(span.imageOffset === null ? null : span.imageOffset + address - span.address).toBe(offset);
  });

  it('an address without code has no line', () => expect(spanAt(sourceMap, 0x9000)).toBeUndefined());
});

describe('debug files that are refused', () => {
  test.each<[string, (text: string) => string, string]>([
    ['nothing', () => '', 'DEBUG_FILE_INVALID: line 1 of the debug file has nothing, expected "version"'],
    [
      'another version',
      (text) => text.replace('major=2', 'major=3'),
      'DEBUG_FILE_VERSION: the debug file has version 3, expected version 2',
    ],
    [
      'another file',
      () => 'al 008000 .main\n',
      'DEBUG_FILE_INVALID: line 1 of the debug file has "al 008000 .main", expected a keyword, a tab and values',
    ],
    [
      'no version',
      (text) => text.replace(/^version.*\n/, ''),
      'DEBUG_FILE_INVALID: line 1 of the debug file has "info", expected the record "version" first',
    ],
    [
      'cut short',
      (text) => text.slice(0, text.indexOf('sym\tid=6')),
      'DEBUG_FILE_INVALID: line 2 of the debug file has "sym=10", expected 6, the number of records "sym" in the file; it may be cut short',
    ],
    [
      'a broken pair',
      (text) => text.replace('name="m.s",', 'name,'),
      'DEBUG_FILE_INVALID: line 3 of the debug file has "name,size=398,mtime=0x6B06F61C,mod=0", expected "key=value"',
    ],
    [
      'a missing key',
      (text) => text.replace(',line=25', ''),
      'DEBUG_FILE_INVALID: line 5 of the debug file has no "line", expected "line=" in a record "line"',
    ],
    [
      'a wrong number',
      (text) => text.replace('line=25', 'line=two'),
      'DEBUG_FILE_INVALID: line 5 of the debug file has "line=two", expected a whole number',
    ],
    [
      'a wrong list',
      (text) => text.replace('span=12+11', 'span=12-11'),
      'DEBUG_FILE_INVALID: line 12 of the debug file has "span=12-11", expected whole numbers with "+"',
    ],
    [
      'an unknown id',
      (text) => text.replace('span=18\n', 'span=99\n'),
      'DEBUG_FILE_INVALID: line 5 of the debug file has span 99, expected the id of a record "span"',
    ],
    [
      'a doubled id',
      (text) => text.replace('span\tid=1,', 'span\tid=0,'),
      'DEBUG_FILE_INVALID: line 42 of the debug file has a second "span" with id=0, expected one record for each id',
    ],
    [
      'a span beyond its segment',
      (text) => text.replace('start=19,size=6', 'start=19,size=60'),
      'DEBUG_FILE_INVALID: line 60 of the debug file has "size=60", expected 0 to 6',
    ],
    [
      'a scope inside itself',
      (text) => text.replace('size=3,parent=0', 'size=3,parent=1'),
      'DEBUG_FILE_INVALID: line 65 of the debug file has parents without an end, expected a scope that is not its own parent',
    ],
  ])('%s', (_, change, expected) => expect(codeOf(change(FILE))).toBe(expected));

  it('3,000 broken files (seed 7) give errors of the project only', () => {
    const change = fc.record({
      at: fc.double({ min: 0, max: 1, noNaN: true, maxExcluded: true }),
      cut: fc.nat(12),
      put: fc.constantFrom('', '9', '+', '=', ',', '"', '\t', '\n', 'id=0', '-1', '99999999999'),
    });
    const broken = fc.array(change, { minLength: 1, maxLength: 4 }).map((list) =>
      list.reduce((text, { at, cut, put }) => {
        const start = Math.floor(at * text.length);
        return text.slice(0, start) + put + text.slice(start + cut);
      }, FILE),
    );
    let refused = 0;
    fc.assert(
      fc.property(broken, (text) => {
        if (codeOf(text) !== 'accepted') refused++;
      }),
      { numRuns: 3000, seed: 7 },
    );
    expect(refused).toBeGreaterThan(1000);
  });
});
