import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { assembleProgram } from '../../src/program/assembler/assembler.ts';
import { type DebugInfo, parseDebugFile } from '../../src/program/debug-file.ts';
import { parseLabels } from '../../src/program/labels.ts';
import { labelFileText, symbolValues } from '../../src/program/program-symbols.ts';
import { spanAt, spanAtOffset, spansOf } from '../../src/program/source-map.ts';
import { describeWith } from '../needs.ts';

const FOLDER = 'homebrew-demo/first-light';
const disk = {
  readText: (path: string) => readFileSync(path, 'utf8'),
  readBytes: (path: string) => new Uint8Array(readFileSync(path)),
};
const own = assembleProgram(`${FOLDER}/first-light.s`, disk);

test('First Light: the assembler makes the image that ca65 and ld65 made', () => {
  expect(own.errors).toEqual([]);
  expect(Buffer.compare(Buffer.from(own.image!), readFileSync(`${FOLDER}/first-light.bin`))).toBe(0);
});

test('its label file names the same addresses as that of ld65', () => {
  const ours = parseLabels(labelFileText(own.symbols));
  const theirs = parseLabels(readFileSync(`${FOLDER}/first-light.lbl`, 'utf8'));
  expect([...ours].sort()).toEqual([...theirs].sort());
});

describeWith('ca65', 'First Light beside the debug file of ld65', () => {
  const work = mkdtempSync(join(tmpdir(), 'latelight-debug-'));
  let text = '';
  let theirs: DebugInfo = { symbols: [], sourceMap: { spans: [] } };
  beforeAll(() => {
    execFileSync('ca65', ['-g', '-o', join(work, 'a.o'), `${FOLDER}/first-light.s`]);
    const files = ['--dbgfile', join(work, 'a.dbg'), '-o', join(work, 'a.bin'), join(work, 'a.o')];
    execFileSync('ld65', ['-C', 'homebrew-demo/nrom.cfg', ...files]);
    text = readFileSync(join(work, 'a.dbg'), 'utf8');
    theirs = parseDebugFile(text);
  });
  afterAll(() => rmSync(work, { recursive: true, force: true }));

  test('every byte of the program comes from the same line', () => {
    let count = 0;
    for (let address = 0x8000; address <= 0xffff; address++) {
      const [a, b] = [spanAt(own.sourceMap, address), spanAt(theirs.sourceMap, address)];
      expect(a?.place.line, address.toString(16)).toBe(b?.place.line);
      if (a !== undefined) count++;
    }
    expect(count).toBeGreaterThan(300);
    for (const span of own.sourceMap.spans) {
      expect(spansOf(own.sourceMap, span.place)).toContain(span);
      if (span.imageOffset !== null) expect(spanAtOffset(own.sourceMap, span.imageOffset)).toBe(span);
    }
  });

  test('symbols have the same values', () => {
    const values = symbolValues(own.symbols);
    expect([...values].sort()).toEqual([...symbolValues(theirs.symbols)].sort());
    expect(values.get('lampX')).toBe(0);
    expect(values.get('nmi')).toBeGreaterThan(0x8000);
  });

  test.each<[string, (whole: string) => string, string]>([
    [
      'another version',
      (whole) => whole.replace('major=2', 'major=3'),
      'the debug file has version 3, expected version 2',
    ],
    ['a broken record', (whole) => whole.replace(/^seg\tid=0,.*$/m, 'seg\tid=zero'), 'of the debug file has'],
    ['no debug file', () => 'hello', 'of the debug file has'],
  ])('%s is refused', (_, change, message) => expect(() => parseDebugFile(change(text))).toThrow(message));
});
