import { existsSync, readdirSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { describe, expect, it } from 'vitest';
import {
  type AssemblyResult,
  assembleProgram,
  listingText,
  type SourceFiles,
} from '../../src/program/assembler/assembler.ts';
import { spanAt, spanAtOffset, spansOf } from '../../src/program/source-map.ts';
import { diskFiles } from './disk-files.ts';
import { assembleText, filesOf } from './outside.ts';
import { generatePiece, POSTLUDE, PRELUDE, withoutLines } from './source-generator.ts';

const FRAME =
  '\n .segment "HEADER"\n .byte $4E, $45, $53, $1A, 2, 1, 0, 8\n .res 8\n .segment "VECTORS"\n .res 6\n .segment "PATTERNS"\n .res 1\n';

const SOURCE = `; every kind of line
        .setcpu "6502X"
LIGHT = 8
        .zeropage
frame:  .res 2
        .code
        .macro blink value
        .local again
again:  lda #value
        bne again
        .endmacro
reset:  sei
        blink LIGHT
        .repeat 2, i
        ldx table+i,y   ; a note
        .endrepeat
        lda table,x
        lda (frame),y
        sta table,x
        .if 0
        brk
        .endif
        .include "part.inc"
        .res $E7
        bne far         ; to another page
        nop
far:    jmp reset
        jmp (frame)
        nop 5
        jam
        .byte 1, 2, 3, 4, 5, 6, 7, 8, 9
        .byte "a;b"
\ttax ; behind a tab
        .segment "HEADER"
        .byte $4E
        .segment "VECTORS"
        .word 0, reset, 0
        .segment "PATTERNS"
        .res 2, $AA
`;
const PART = 'table: .word reset\n\n rts\n';

const EXPECTED = `addr  bytes                          cycles   line     source
=== main.s
                                                 1     ; every kind of line
                                                 2             .setcpu "6502X"
                                                 3     LIGHT = 8
                                                 4             .zeropage
0000  (2 bytes)                                  5     frame:  .res 2
                                                 6             .code
                                                 7             .macro blink value
                                                 8             .local again
                                                 9     again:  lda #value
                                                10             bne again
                                                11             .endmacro
8000  78                             2          12     reset:  sei
                                                13             blink LIGHT
                                                 8 >           .local again
8001  A9 08                          2           9 >   again:  lda #value
8003  D0 FC                          2/3        10 >           bne again
                                                14             .repeat 2, i
                                                15             ldx table+i,y   ; a note
                                                16             .endrepeat
8005  BE 13 80                       4 in       15 >           ldx table+i,y   ; a note
8008  BE 14 80                       4 in       15 >           ldx table+i,y   ; a note
800B  BD 13 80                       4 in       17             lda table,x
800E  B1 00                          5+1        18             lda (frame),y
8010  9D 13 80                       5          19             sta table,x
                                                20             .if 0
                                                21 -           brk
                                                22 -           .endif
                                                23             .include "part.inc"
=== part.inc
8013  00 80                                      1 >   table: .word reset
                                                 2 >
8015  60                             6           3 >    rts
=== main.s
8016  FF FF FF FF FF FF FF FF +223              24             .res $E7
80FD  D0 01                          2/4        25             bne far         ; to another page
80FF  EA                             2          26             nop
8100  4C 00 80                       3          27     far:    jmp reset
8103  6C 00 00                       5          28             jmp (frame)
8106  04 05                          3          29             nop 5
8108  02                             ends       30             jam
8109  01 02 03 04 05 06 07 08                   31             .byte 1, 2, 3, 4, 5, 6, 7, 8, 9
8111  09
8112  61 3B 62                                  32             .byte "a;b"
8115  AA                             2          33     	tax ; behind a tab
                                                34             .segment "HEADER"
0000  4E                                        35             .byte $4E
                                                36             .segment "VECTORS"
FFFA  00 00 00 80 00 00                         37             .word 0, reset, 0
                                                38             .segment "PATTERNS"
0000  AA AA                                     39             .res 2, $AA
`;

describe('the listing', () => {
  const { listing, errors } = assembleProgram('main.s', filesOf({ 'main.s': SOURCE, 'part.inc': PART }));

  it('has an address, bytes, cycles, line number and source for every kind of line', () => {
    expect(errors).toEqual([]);
    expect(listingText(listing)).toBe(EXPECTED);
  });

  it('says when an indexed read takes a cycle more', () => {
    const source = [
      ' lda first,x',
      ' lda second,x',
      ' lda second-1,y',
      ' lda $8100,x',
      ' lda $8110,x',
      ' lda ($10),y',
      ' lda split,x',
      ' sta split,x',
      ' .res $EA-$80',
      'first: .byte 1, 2, 3',
      'split: .res $80+2',
      ' .align 256',
      'second: .byte 1',
    ];
    const { listing, errors } = assembleText(source.join('\n') + FRAME);
    expect(errors).toEqual([]);
    expect(listing.slice(0, 8).map(({ cycles }) => cycles)).toEqual([
      '4 in',
      '4',
      '5 in',
      '4',
      '4+1',
      '5+1',
      '4+1!',
      '5',
    ]);
  });

  it('keeps the lines of a program with errors', () => {
    const { listing, image, errors } = assembleText(' lda #256\n ldaa\n');
    expect(image).toBeNull();
    expect(
      listingText(listing, errors)
        .split('\n')
        .filter((row) => !row.includes('without a segment')),
    ).toEqual([
      '! not assembled, 5 errors',
      'addr  bytes                          cycles   line     source',
      '=== main.s',
      '8000  A9 00                          2           1      lda #256',
      '! error in column 7: the byte is 256, expected 0 to 255',
      '                                                 2      ldaa',
      '! error in column 2: "ldaa" is neither an instruction nor a macro',
      '',
    ]);
  });
});

/** Demo programs that are built, the corpus, and files of generated programs. */
function programs(): (readonly [title: string, main: string, files: SourceFiles])[] {
  const under = (folder: string): string[] =>
    readdirSync(folder, { recursive: true, encoding: 'utf8' })
      .filter((name) => name.endsWith('.s'))
      .map((name) => join(folder, name));
  const demos = under('homebrew-demo').filter((path) => existsSync(path.replace(/\.s$/, '.bin')));
  const onDisk = [...demos, ...under('test/assembler/corpus')].map(
    (path) => [path, basename(path), diskFiles(dirname(path))] as const,
  );
  const generated = Array.from({ length: 20 }, (_, i) => {
    const files = filesOf({ 'main.s': generatedFile(200_001 + 50 * i) });
    return [`generated programs ${i}`, 'main.s', files] as const;
  });
  return [...onDisk, ...generated];
}

/** Generated pieces that go together without errors. */
function generatedFile(firstSeed: number): string {
  let pieces = Array.from({ length: 50 }, (_, i) => generatePiece(firstSeed + i));
  pieces = pieces.filter((piece) => assembleText(PRELUDE + piece + POSTLUDE).image !== null);
  for (;;) {
    const source = PRELUDE + pieces.join('') + POSTLUDE;
    const { errors } = assembleText(source);
    if (errors.length === 0) return source;
    pieces = withoutLines(pieces, new Set(errors.map(({ line }) => line)));
  }
}

/** What is wrong with the way from bytes to lines and back. */
function faultsOf({ sourceMap, listing, image, segments }: AssemblyResult, files: SourceFiles): string[] {
  const faults: string[] = [];
  const lineCounts = new Map<string, number>();
  const exists = ({ file, line }: { file: string; line: number }): boolean => {
    if (!lineCounts.has(file)) lineCounts.set(file, files.readText(file)?.split('\n').length ?? 0);
    return line >= 1 && line <= lineCounts.get(file)!;
  };
  for (const span of sourceMap.spans) {
    const { address, length, imageOffset, place, calls, segment } = span;
    const title = `${segment} ${address.toString(16)}+${length} of ${place.file}:${place.line}`;
    for (const at of [place, ...calls]) {
      if (!exists(at)) faults.push(`${title}: no line ${at.file}:${at.line}`);
      if (!spansOf(sourceMap, at).includes(span)) faults.push(`${title}: not among those of ${at.file}:${at.line}`);
    }
    for (const at of [0, length - 1]) {
      const isSeen = segment !== 'HEADER' && segment !== 'PATTERNS';
      if (isSeen && spanAt(sourceMap, address + at) !== span) faults.push(`${title}: not found by address`);
      if (imageOffset !== null && spanAtOffset(sourceMap, imageOffset + at) !== span)
        faults.push(`${title}: not found by offset`);
    }
  }
  const total = sourceMap.spans.reduce((sum, { length }) => sum + length, 0);
  const wanted = segments.reduce((sum, { length }) => sum + length, 0);
  if (total !== wanted) faults.push(`the map has ${total} bytes, the segments ${wanted}`);
  const spans = sourceMap.spans.filter(({ imageOffset }) => imageOffset !== null);
  const rows = listing.filter(({ bytes }) => bytes.length > 0);
  if (rows.length !== spans.length) faults.push(`${rows.length} lines with bytes, ${spans.length} spans`);
  for (const { file, line, address, bytes, segment } of rows) {
    const span = spans.find(
      (other) => other.segment === segment && other.address === address && other.length === bytes.length,
    );
    const isSame = span?.place.file === file && span.place.line === line;
    if (!isSame || bytes.some((byte, i) => image![span.imageOffset! + i] !== byte))
      faults.push(`the listing says ${file}:${line} at ${address?.toString(16)}`);
  }
  return faults;
}

describe('from bytes to lines and back, macros, repetitions and included files too', () => {
  it.each(programs())('%s', (_, main, files) => {
    const result = assembleProgram(main, files);
    expect(result.errors).toEqual([]);
    expect(result.sourceMap.spans.length).toBeGreaterThan(10);
    expect(faultsOf(result, files)).toEqual([]);
  });
});
