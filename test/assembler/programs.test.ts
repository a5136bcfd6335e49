import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { assembleProgram } from '../../src/program/assembler/assembler.ts';
import { formsOf, mnemonics } from '../../src/program/assembler/instruction-forms.ts';
import { parseDebugFile } from '../../src/program/debug-file.ts';
import { labelFileText, type ProgramSymbol, symbolValues } from '../../src/program/program-symbols.ts';
import { type SourceMap, spanAt, spanAtOffset, spansOf } from '../../src/program/source-map.ts';
import { type AddressMode, OPERAND_BYTES } from '../../src/references/opcodes.ts';
import { describeWith } from '../needs.ts';
import { diskFiles } from './disk-files.ts';
import { assembleOutside, assembleText, difference } from './outside.ts';

const PROGRAMS = [
  ['homebrew-demo/first-light', 'first-light.s'],
  ['test/assembler/corpus', 'everything.s'],
  ['test/assembler/corpus', 'cycle-notes.s'],
  ['test/assembler/corpus', 'opcodes.s'],
  ['test/assembler/corpus', 'operators.s'],
] as const;

/** What ca65 and ld65 make of a program with its files: image, label file, debug file. */
function outsideOf(
  folder: string,
  main: string,
): { readonly image: Buffer; readonly labels: string; readonly debug: string } {
  const out = mkdtempSync(join(tmpdir(), 'latelight-program-'));
  try {
    const at = (name: string): string => join(out, name);
    execFileSync('ca65', ['-g', '-o', at('p.o'), main], { cwd: folder, stdio: 'pipe' });
    const files = ['-Ln', at('p.lbl'), '--dbgfile', at('p.dbg'), '-o', at('p.bin')];
    const { length } = execFileSync('ld65', ['-C', resolve('homebrew-demo/nrom.cfg'), ...files, at('p.o')], {
      stdio: 'pipe',
    });
    expect(length).toBe(0);
    return {
      image: readFileSync(at('p.bin')),
      labels: readFileSync(at('p.lbl'), 'utf8'),
      debug: readFileSync(at('p.dbg'), 'utf8'),
    };
  } finally {
    rmSync(out, { recursive: true, force: true });
  }
}

/** ca65 gives repeated bytes to the line of .endrepeat, our map to the line of .repeat: the line where each one begins. */
function repeatLines(source: string): Map<number, number> {
  const begins = new Map<number, number>();
  const open: number[] = [];
  source.split('\n').forEach((text, i) => {
    if (/^\s*\.repeat\b/.test(text)) open.push(i + 1);
    if (/^\s*\.endrep/.test(text)) begins.set(i + 1, open.pop()!);
  });
  return begins;
}

/** Place and calls of each byte of the image, as text. */
function placesOf(map: SourceMap, size: number, repeats = new Map<number, number>()): string[] {
  const places = new Array<string>(size).fill('');
  for (const { imageOffset, length, place, calls } of map.spans) {
    if (imageOffset !== null)
      places.fill(
        [place, ...calls].map(({ file, line }) => `${file}:${repeats.get(line) ?? line}`).join(' < '),
        imageOffset,
        imageOffset + length,
      );
  }
  return places;
}

const LOCAL = /~|LOCAL-MACRO/;
const symbolText = ({ name, value, kind, segment, place }: ProgramSymbol): string =>
  `${name} = ${value} ${kind} ${segment} ${place?.file}:${place?.line}`;

describeWith(['ca65', 'ld65'], 'whole programs against ca65 and ld65', () => {
  describe.each(PROGRAMS)('%s/%s', (folder, main) => {
    const ours = assembleProgram(main, diskFiles(folder));

    it('has no errors and the same image', () => {
      expect(ours.errors).toEqual([]);
      expect(difference(outsideOf(folder, main).image, ours.image!)).toBe('');
    });

    it('has the same labels', () => {
      const sorted = (text: string): string[] =>
        text
          .trim()
          .split('\n')
          .filter((line) => !LOCAL.test(line))
          .sort();
      expect(sorted(labelFileText(ours.symbols))).toEqual(sorted(outsideOf(folder, main).labels));
    });

    it('has the same symbols, with scopes and places, as the debug file of ld65 says', () => {
      const { symbols } = parseDebugFile(outsideOf(folder, main).debug);
      const listed = (all: readonly ProgramSymbol[]): string[] =>
        all
          .filter(({ name, kind, segment }) => !LOCAL.test(name) && (kind === 'label' ? segment !== null : true))
          .map((symbol) => symbolText({ ...symbol, segment: symbol.kind === 'label' ? symbol.segment : null }))
          .sort();
      expect(listed(ours.symbols)).toEqual(listed(symbols));
    });

    it('has the same source line, and the same calls, for every byte', () => {
      const { debug, image } = outsideOf(folder, main);
      const theirs = parseDebugFile(debug).sourceMap;
      expect(placesOf(ours.sourceMap, image.length)).toEqual(
        placesOf(theirs, image.length, repeatLines(readFileSync(join(folder, main), 'utf8'))),
      );
    });
  });

  it('the label file of First Light is the same to the byte', () => {
    const { symbols } = assembleProgram('first-light.s', diskFiles('homebrew-demo/first-light'));
    expect(labelFileText(symbols)).toBe(readFileSync('homebrew-demo/first-light/first-light.lbl', 'utf8'));
  });

  it('every instruction in every form makes the bytes that the opcode table says, and that ca65 makes', () => {
    const forms = [...mnemonics(true)].flatMap((name) =>
      [...formsOf(name, true)!.values()].map((spec) => ({ name, spec })),
    );
    const documented = forms.filter(({ spec }) => spec.documented);
    const source = (list: typeof forms, processor: string): string =>
      `${[` .setcpu "${processor}"`, ...list.map(({ name, spec }) => ` ${name.toLowerCase()} ${OPERANDS[spec.mode]}`)].join('\n')}${FRAME}`;
    const sources = [source(forms, '6502X'), source(documented, '6502')];
    const outside = assembleOutside(sources);
    const images = sources.map((text) => assembleText(text).image!);
    expect(outside.map(({ image }, i) => (image === null ? 'refused' : difference(image, images[i]!)))).toEqual([
      '',
      '',
    ]);
    // 256 opcodes less the doubled forms: 11 JAM, 6 + 4 + 2 + 5 + 5 NOP, 1 ANC, 1 SBC.
    expect([documented.length, forms.length]).toEqual([151, 256 - 35]);
    let offset = 16;
    for (const { name, spec } of forms) {
      expect(images[0]![offset], `${name} ${spec.mode}`).toBe(spec.opcode);
      offset += 1 + OPERAND_BYTES[spec.mode];
    }
  });

  it('.align fills up to the boundary as ld65 does', () => {
    const source = ` nop\n .align 4\n nop\n .align 16, $55\nhere: nop\n .byte <here${FRAME}`;
    const [outside] = assembleOutside([source]);
    const { image } = assembleText(source);
    expect(outside!.messages).toBe('');
    expect(difference(outside!.image!, image!)).toBe('');
    expect([...image!.subarray(16, 34)]).toEqual([
      0xea,
      0xff,
      0xff,
      0xff,
      0xea,
      ...new Array(11).fill(0x55),
      0xea,
      0x10,
    ]);
  });
});

const FRAME = '\n .segment "HEADER"\n .res 1\n .segment "VECTORS"\n .res 6\n .segment "PATTERNS"\n .res 1\n';

// biome-ignore format: one row
const OPERANDS: Readonly<Record<AddressMode, string>> = {
  implied: '', accumulator: 'a', immediate: '#$12', relative: '*+2', zeroPage: '$12', zeroPageX: '$12,x', zeroPageY: '$12,y', absolute: '$1234',
  absoluteX: '$1234,x', absoluteY: '$1234,y', indirect: '($1234)', indexedIndirect: '($12,x)', indirectIndexed: '($12),y',
};

describe('address and source line, both ways', () => {
  const source = [
    ' .zeropage',
    'frame: .res 2',
    ' .code',
    ' .macro inner value',
    ' lda #value',
    ' sta frame',
    ' .endmacro',
    ' .macro outer',
    ' inner 1',
    ' nop',
    ' .endmacro',
    'start: outer',
    ' .repeat 2, i',
    ' ldx #i',
    ' .endrepeat',
  ].join('\n');
  const { sourceMap } = assembleText(source + FRAME);
  const linesAt = (address: number): readonly number[] | undefined => {
    const span = spanAt(sourceMap, address);
    return span && [span.place.line, ...span.calls.map(({ line }) => line)];
  };

  it('a byte of a macro has the line of the body first, then the calls', () => {
    expect([0x8000, 0x8001, 0x8002, 0x8003, 0x8004].map(linesAt)).toEqual([
      [5, 9, 12],
      [5, 9, 12],
      [6, 9, 12],
      [6, 9, 12],
      [10, 12],
    ]);
  });

  it('repeated lines have the line of the repetition as their call', () => {
    expect([0x8005, 0x8007].map(linesAt)).toEqual([
      [14, 13],
      [14, 13],
    ]);
  });

  it('memory has lines too; patterns, at the same addresses, are not seen by the processor', () => {
    expect([0, 1, 2].map(linesAt)).toEqual([[2], [2], undefined]);
    expect(spanAtOffset(sourceMap, 16 + 0x8000)?.segment).toBe('PATTERNS');
    expect(spanAtOffset(sourceMap, 40_975)).toBeUndefined();
  });

  it('a line has every place that it made, as body and as call', () => {
    const starts = (line: number): number[] =>
      spansOf(sourceMap, { file: 'main.s', line }).map(({ address }) => address);
    expect([5, 9, 12, 14, 13, 1].map(starts)).toEqual([
      [0x8000],
      [0x8000, 0x8002],
      [0x8000, 0x8002, 0x8004],
      [0x8005, 0x8007],
      [0x8005, 0x8007],
      [],
    ]);
  });
});

describe('symbols for probes', () => {
  it('have their scopes, and are known without them where only one has the name', () => {
    const source = ` .zeropage\nlampX: .res 1\n .code\n .scope Player\nleft: nop\nhit = 7\n@no: nop\n .endscope\n .scope Other\nleft: nop\n .endscope${FRAME}`;
    const values = symbolValues(assembleText(source).symbols);
    expect(Object.fromEntries(values)).toEqual({
      lampX: 0,
      'Player::left': 0x8000,
      'Player::hit': 7,
      hit: 7,
      'Other::left': 0x8002,
    });
  });
});

describeWith(['ca65', 'ld65'], 'label files, line by line as ld65 writes them', () => {
  it.each([
    ' .export c1\nc1 = 5\nl1: nop\n .export l1\n',
    ' .scope a1\nw1 := 5\n .endscope\n .scope b1\nw1 := 5\n .endscope\n',
    'l1: nop\n .scope s1\nl1 := $8000\n .endscope\n',
    'l1: nop\n .scope s1\n .export l1\n lda l1\n .endscope\n',
    'n1 := -1\nn2 := -768\n nop\n',
    ' .export n1\nn1 = -1\n nop\n',
    ' .global g1\ng1 = 7\n nop\n',
  ])('%j', (source) => expect(labelFileText(assembleText(source + FRAME).symbols)).toBe(outsideLabels(source + FRAME)));
});

function outsideLabels(source: string): string {
  const folder = mkdtempSync(join(tmpdir(), 'latelight-labels-'));
  const at = (name: string): string => join(folder, name);
  try {
    writeFileSync(at('m.s'), source);
    execFileSync('ca65', ['-g', '-o', at('m.o'), at('m.s')]);
    execFileSync('ld65', ['-C', 'homebrew-demo/nrom.cfg', '-Ln', at('m.lbl'), '-o', at('m.bin'), at('m.o')]);
    return readFileSync(at('m.lbl'), 'utf8');
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
