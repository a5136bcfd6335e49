import { existsSync, linkSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { assemble } from '../../src/cli/assemble.ts';
import { assembleHelp } from '../../src/cli/assemble-help.ts';
import { assembleProgram } from '../../src/program/assembler/assembler.ts';
import { COMMAND_NAMES } from '../../src/program/assembler/statements.ts';
import { filesOf } from './outside.ts';

const DEMO = 'homebrew-demo/first-light/first-light';

describe('latelight assemble', () => {
  let folder = '';
  let shown: string[] = [];
  const at = (name: string): string => join(folder, name);

  beforeEach(() => {
    folder = mkdtempSync(join(tmpdir(), 'latelight-assemble-'));
    shown = [];
    for (const stream of ['log', 'error'] as const)
      vi.spyOn(console, stream).mockImplementation((text: string) => shown.push(text));
  });

  afterEach(() => {
    vi.restoreAllMocks();
    rmSync(folder, { recursive: true, force: true });
  });

  it('writes image, labels and listing, and says what it made', () => {
    const status = assemble([`${DEMO}.s`], { output: at('a.bin'), labels: at('a.lbl'), listing: at('a.lst') });
    expect(status).toBe(0);
    expect(readFileSync(at('a.bin')).equals(readFileSync(`${DEMO}.bin`))).toBe(true);
    expect(readFileSync(at('a.lbl'), 'utf8')).toBe(readFileSync(`${DEMO}.lbl`, 'utf8'));
    expect(readFileSync(at('a.lst'), 'utf8')).toContain(
      '8011  A9 00                          2          65     @clear: lda #0',
    );
    const listing = readFileSync(at('a.lst'), 'utf8').split('\n');
    const look = listing.findIndex((row) => row.includes('@look:'));
    expect(readFileSync('README.md', 'utf8')).toContain([listing[0], ...listing.slice(look, look + 8)].join('\n'));
    expect(shown).toEqual([
      `${at('a.bin')}: 40976 bytes (HEADER 16, ZEROPAGE 7, OAM 256, BSS 3, CODE 389, RODATA 3, VECTORS 6, PATTERNS 96)`,
    ]);
  });

  it('shows each error with its line, writes the listing and no image', () => {
    writeFileSync(at('bad.s'), ' lda #256\n lad #1\n');
    const status = assemble([at('bad.s')], { output: at('a.bin'), listing: at('a.lst') });
    expect([status, existsSync(at('a.bin')), existsSync(at('a.lst'))]).toEqual([1, false, true]);
    expect(shown[0]).toBe(
      `${at('bad.s')}:1:7: error: the byte is 256, expected 0 to 255\n   lda #256\n        ^^^\n  Write a smaller number, or "<" before it for its low byte and ">" for its high byte.\n`,
    );
    expect(shown.at(-1)).toBe(`${at('bad.s')}: 5 errors, no image was written`);
  });

  it('finds included files beside the source', () => {
    writeFileSync(at('tail.inc'), readFileSync('test/assembler/corpus/parts/more.inc'));
    writeFileSync(
      at('main.s'),
      ' .include "tail.inc"\n .segment "HEADER"\n .incbin "tail.inc", 0, 1\n .segment "VECTORS"\n .res 6\n .segment "PATTERNS"\n',
    );
    expect(assemble([at('main.s')], { output: at('a.bin') })).toBe(0);
  });

  it.each([
    [[], { output: 'a' }, '0 source files were given; expected one: assemble SOURCE -o IMAGE'],
    [['a', 'b'], { output: 'a' }, '2 source files were given; expected one: assemble SOURCE -o IMAGE'],
    [['a'], {}, 'no image file was named; expected assemble SOURCE -o IMAGE'],
  ])('refuses %j %j', (paths, options, message) => expect(() => assemble(paths, options)).toThrow(message));

  it.each([
    ['no/folder/a.bin', 'there is no such folder'],
    ['.', 'it is a folder'],
  ])('says when a file cannot be written: %s', (name, found) => {
    const path = at(name);
    expect(() => assemble([`${DEMO}.s`], { output: path })).toThrow(`cannot write ${path}: ${found}`);
  });

  it.each([
    ['none.s', 'there is no such file'],
    ['.', 'it is a folder'],
  ])('says when there is no source: %s', (name, found) => {
    expect(() => assemble([at(name)], { output: at('a.bin') })).toThrow(found);
  });

  it('writes over nothing that it has read', () => {
    writeFileSync(at('tiles.bin'), 'x');
    const source = ' .segment "HEADER"\n .incbin "tiles.bin"\n .segment "VECTORS"\n .res 6\n .segment "PATTERNS"\n';
    writeFileSync(at('main.s'), source);
    for (const name of ['main.s', 'tiles.bin'])
      expect(() => assemble([at('main.s')], { output: at(name) })).toThrow('is a file of the source');
    expect(() => assemble([at('main.s')], { output: at('a.bin'), labels: at('main.s') })).toThrow('of the source');
    expect([readFileSync(at('main.s'), 'utf8'), existsSync(at('a.bin'))]).toEqual([source, false]);
  });

  it('writes no output over another one, and nothing through a link to what it has read', () => {
    writeFileSync(at('safe.s'), readFileSync(`${DEMO}.s`));
    symlinkSync(at('safe.s'), at('link.s'));
    linkSync(at('safe.s'), at('hard.s'));
    symlinkSync(at('new.bin'), at('link.bin'));
    for (const output of ['link.s', 'hard.s'])
      expect(() => assemble([at('safe.s')], { output: at(output) })).toThrow('is a file of the source');
    expect(() => assemble([at('link.s')], { output: at('safe.s') })).toThrow('is a file of the source');
    const both: [string, string][] = [
      ['o.bin', 'o.bin'],
      ['o.bin', './o.bin'],
      ['new.bin', 'link.bin'],
    ];
    for (const [output, labels] of both)
      expect(() => assemble([at('safe.s')], { output: at(output), labels: at(labels) })).toThrow('name one file');
    expect(() => assemble([at('safe.s')], { output: at('o.bin'), labels: at('a'), listing: at('a') })).toThrow(
      '--labels and --listing name one file',
    );
    expect([existsSync(at('o.bin')), existsSync(at('new.bin')), existsSync(at('a'))]).toEqual([false, false, false]);
    expect(assemble([at('safe.s')], { output: at('o.bin'), labels: '/dev/null', listing: '/dev/null' })).toBe(0);
  });

  it('says under which assumption cycles were checked', () => {
    writeFileSync(
      at('main.s'),
      ` ; exactly 4 cycles from here
 lda table,x
 ; to here
 ; exactly 2 cycles from here
 nop
 ; to here
 .res 5
table: .byte 1, 2
 .segment "HEADER"
 .byte $4E, $45, $53, $1A, 2, 1, 0, 8
 .res 8
 .segment "VECTORS"
 .res 6
 .segment "PATTERNS"
`,
    );
    expect(assemble([at('main.s')], { output: at('a.bin') })).toBe(0);
    expect(shown.at(-1)).toMatch(/; exact cycles checked in 2 places, in 1 of them with indexes inside their tables$/);
  });

  it('warns of a header with which no shot would take the image', () => {
    const source = readFileSync(`${DEMO}.s`, 'utf8');
    const header = (bytes: string): string => {
      const start = source.indexOf('.segment "HEADER"');
      const end = source.indexOf('.segment', start + 5);
      return `${source.slice(0, start)}.segment "HEADER"\n .byte ${bytes}\n ${source.slice(end)}`;
    };
    const warned = (bytes: string): string => {
      shown.length = 0;
      writeFileSync(at('h.s'), header(bytes));
      expect(assemble([at('h.s')], { output: at('h.bin') })).toBe(0);
      return shown.slice(0, -1).join('');
    };
    const good = '$4E,$45,$53,$1A,2,1,0,8,0,0,0,0,0,0,0,8';
    expect(warned(good)).toBe('');
    expect(warned(good.slice(0, -2))).toContain('the segment "HEADER" has 15 bytes, expected 16');
    expect(warned(good.replace(',2,1,0,', ',2,1,$10,'))).toContain('no shot will accept this image: ');
    expect(warned(good.replace(',2,1,0,', ',1,1,0,'))).toContain('no shot will accept this image: ');
  });

  it('prints twenty messages, and says how many more there are', () => {
    writeFileSync(at('many.s'), Array.from({ length: 57 }, (_, i) => ` jmp undefined_${i}_x${i * 7919}\n`).join(''));
    expect(assemble([at('many.s')], { output: at('a.bin'), listing: at('a.lst') })).toBe(1);
    expect([shown.length, shown[20]]).toEqual([22, 'and 40 more errors; --listing FILE shows them all\n']);
    expect(readFileSync(at('a.lst'), 'utf8').match(/^! error/gm)).toHaveLength(60);
  });

  it('an endless macro is told in a few lines', () => {
    writeFileSync(at('rec.s'), ' .macro m\n m\n .endmacro\n m\n');
    expect(assemble([at('rec.s')], { output: at('a.bin') })).toBe(1);
    expect(shown).toHaveLength(2);
    expect(shown[0]!.split('\n').slice(4)).toEqual([
      `  in a macro called at ${at('rec.s')}:2, 198 times in each other`,
      `  in a macro called at ${at('rec.s')}:4`,
      '',
    ]);
  });

  it('an argument that goes through two macros is shown where it is written, with the line that uses it', () => {
    writeFileSync(at('d.s'), ' .macro in p\n lda #p\n .endmacro\n .macro out p\n in p\n .endmacro\n out 700\n');
    expect(assemble([at('d.s')], { output: at('a.bin') })).toBe(1);
    const message = shown.find((text) => text.includes('the byte is 700'))!;
    expect(message.split('\n').filter((line) => line.includes(at('d.s')))).toEqual([
      `${at('d.s')}:7:6: error: the byte is 700, expected 0 to 255`,
      `  used in the macro at ${at('d.s')}:2`,
      `  in a macro called at ${at('d.s')}:5`,
    ]);
  });

  it('takes line ends of both kinds and tabs, and says what a byte order mark and a binary file are', () => {
    const text = readFileSync(`${DEMO}.s`, 'utf8');
    writeFileSync(at('crlf.s'), text.replaceAll('\n', '\r\n').replaceAll('        ', '\t'));
    expect(assemble([at('crlf.s')], { output: at('a.bin') })).toBe(0);
    expect(readFileSync(at('a.bin')).equals(readFileSync(`${DEMO}.bin`))).toBe(true);
    writeFileSync(at('mark.s'), `\ufeff${text}`);
    expect(assemble([at('mark.s')], { output: at('b.bin') })).toBe(1);
    expect(shown.at(-2)).toContain('Save the file as UTF-8 without a byte order mark');
    expect(assemble([`${DEMO}.bin`], { output: at('b.bin') })).toBe(1);
    expect(shown.at(-2)).toContain(`the file "${DEMO}.bin" holds a byte 0, expected text`);
  });

  it('shows a part of a long line, and no characters that change the terminal', () => {
    writeFileSync(
      at('long.s'),
      ` .byte ${'1,'.repeat(5000)}256,${'1,'.repeat(5000)}1 ; \u001b[2J\n lda #256 ; \u001b[2J\n`,
    );
    expect(assemble([at('long.s')], { output: at('a.bin') })).toBe(1);
    const [first, second] = shown.map((text) => text.split('\n'));
    expect(first![1]!.length).toBeLessThan(180);
    expect(first![1]!.slice(first![2]!.indexOf('^'), first![2]!.lastIndexOf('^') + 1)).toBe('256');
    expect(second![1]).toBe('   lda #256 ; \u00b7[2J');
  });
});

describe('latelight help assemble', () => {
  const page = assembleHelp();

  it('names every segment and command, and what is refused', () => {
    for (const word of [
      'HEADER',
      'ZEROPAGE',
      'PATTERNS',
      '$FFFA',
      '32762',
      ...COMMAND_NAMES,
      '.struct',
      '.import',
      '4+1!',
    ])
      expect(page).toContain(word);
    expect(page.split('\n').every((line) => line.length < 150)).toBe(true);
  });

  it('shows a program that assembles without a word', () => {
    const [, source] = /Least program\n([\s\S]*?)\n\n/.exec(page)!;
    const flush = source!.replace(/^ {2}/gm, '');
    const { errors, warnings, image } = assembleProgram('least.s', filesOf({ 'least.s': flush }));
    expect([errors, warnings, image?.length]).toEqual([[], [], 40976]);
  });
});
