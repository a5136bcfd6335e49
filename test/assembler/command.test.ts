import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { assemble } from '../../src/cli/assemble.ts';

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
      '8011  A9 00                      2          65  @clear: lda #0',
    );
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
