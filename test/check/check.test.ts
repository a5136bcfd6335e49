import { spawnSync } from 'node:child_process';
import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';

/** A copy of the checkout in which each fault is planted alone and taken back. */
let copy = '';

beforeAll(() => {
  copy = mkdtempSync(join(tmpdir(), 'latelight-check-'));
  const skip = /^(node_modules|dist|coverage|\.git)$/;
  cpSync('.', copy, { recursive: true, filter: (source) => !skip.test(source) });
  symlinkSync(join(process.cwd(), 'node_modules'), join(copy, 'node_modules'));
});
afterAll(() => rmSync(copy, { recursive: true, force: true }));

function check(step: string): { status: number | null; output: string } {
  const { status, stdout, stderr } = spawnSync('node', ['test/check/all.mjs', step], { cwd: copy, encoding: 'utf8' });
  return { status, output: stdout + stderr };
}

/** Write (or append to) a file of the copy, check, and put it back. */
function withFault(path: string, text: string, step: string): { status: number | null; output: string } {
  const full = join(copy, path);
  let before: string | undefined;
  try {
    before = readFileSync(full, 'utf8');
  } catch {
    mkdirSync(join(full, '..'), { recursive: true });
  }
  writeFileSync(full, (before ?? '') + text);
  try {
    return check(step);
  } finally {
    if (before === undefined) rmSync(full);
    else writeFileSync(full, before);
  }
}

describe('npm run check catches one planted fault of each kind', () => {
  test('without a fault every step is green', () => {
    const { status, output } = check('');
    expect(output).not.toContain('FAIL');
    expect(status).toBe(0);
  });

  test.each([
    [
      'a wrong type',
      'types',
      'src/units/fault.ts',
      "export const n: number = 'one';\nexport const m = n;\n",
      'error TS2322',
    ],
    ['the DOM in a core room', 'core types', 'src/units/fault.ts', "document.title = 'x';\n", 'error TS'],
    [
      'a Node built-in in a core room',
      'room order',
      'src/units/fault.ts',
      "import { readFileSync } from 'node:fs';\nexport const f = readFileSync;\n",
      'pure-core',
    ],
    [
      'a lint fault',
      'lint and format',
      'src/units/fault.ts',
      'export function f(a: number) {\n  return a == 1;\n}\n',
      'noDoubleEquals',
    ],
    ['a format fault', 'lint and format', 'src/units/fault.ts', 'export const  a=1\n', 'fault.ts format'],
    [
      'an import against the room order',
      'room order',
      'src/units/fault.ts',
      "import { LatelightError } from '../errors/latelight-error.ts';\nexport const E = LatelightError;\n",
      'order-of-units',
    ],
    [
      'an import of nothing',
      'room order',
      'src/units/timing.ts',
      "export type { Fault } from './nowhere.ts';\n",
      'no-unresolved',
    ],
    ['a dead export', 'dead exports', 'src/units/hash.ts', 'export const nobodyUsesThis = 1;\n', 'nobodyUsesThis'],
    ['a dead file', 'dead exports', 'src/units/fault.ts', 'export const a = 1;\n', 'src/units/fault.ts'],
    [
      'Math.exp in a core room',
      'exact core',
      'src/units/fault.ts',
      'export const a = Math.exp(1);\n',
      'Math.exp differs between engines',
    ],
    [
      'Math taken as a value',
      'exact core',
      'src/units/fault.ts',
      'export const { sin } = Math;\n',
      'only be used as Math.name',
    ],
    [
      '** in a core room',
      'exact core',
      'src/light/fault.ts',
      'export const a = (x: number) => x ** 2.4;\n',
      '** differs between engines',
    ],
    [
      'a folder missing from the table',
      'exact core',
      'src/attic/fault.ts',
      'export const a = 1;\n',
      'src/attic: this folder is not in',
    ],
  ])('%s', (_, step, path, text, expected) => {
    const { status, output } = withFault(path, text, step);
    expect(output).toContain(expected);
    expect(status).toBe(1);
    rmSync(join(copy, 'src/attic'), { recursive: true, force: true });
  });

  test('a cycle of type imports', () => {
    writeFileSync(join(copy, 'src/units/ring-a.ts'), "import type { B } from './ring-b.ts';\nexport type A = B | 1;\n");
    const { status, output } = withFault(
      'src/units/ring-b.ts',
      "import type { A } from './ring-a.ts';\nexport type B = A | 2;\n",
      'room order',
    );
    rmSync(join(copy, 'src/units/ring-a.ts'));
    expect(output).toContain('no-cycles');
    expect(status).toBe(1);
  });
});
