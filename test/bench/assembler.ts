import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { assembleProgram } from '../../src/program/assembler/assembler.ts';
import { labelFileText } from '../../src/program/program-symbols.ts';
import { largeProgram } from '../assembler/large-program.ts';
import { type Figure, median } from './figure.ts';

const MAIN = 'large.s';
const MAP = 'homebrew-demo/nrom.cfg';
const WARM_UPS = 50;
const RUNS = 15;

/**
 * Time that the assembler takes when it is warm, over the time of ca65 and ld65 as processes, with the same outputs: image
 * and label file of a generated program of some 10,000 lines. Median of the ratios of neighbouring runs.
 * Needs ca65 and ld65 on the search path, and the repository as the current folder.
 */
export function assembleVsCa65(runs = RUNS, warmUps = WARM_UPS): Figure {
  const source = largeProgram();
  const folder = mkdtempSync(join(tmpdir(), 'latelight-bench-'));
  try {
    writeFileSync(join(folder, MAIN), source);
    for (let i = 0; i < warmUps; i++) runInside(source);
    const ratios = Array.from({ length: runs }, () => runInside(source) / runOutside(folder));
    return { name: 'assemble_vs_ca65', value: median(ratios), unit: 'x', bound: 'max', goal: 1 };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** Wall time, ms. */
function runInside(source: string): number {
  const start = performance.now();
  const { image, symbols } = assembleProgram(MAIN, {
    readText: (path) => (path === MAIN ? source : undefined),
    readBytes: () => undefined,
  });
  if (image === null || labelFileText(symbols) === '') throw new Error('the large program does not assemble');
  return performance.now() - start;
}

/** Wall time, ms. */
function runOutside(folder: string): number {
  const at = (name: string): string => join(folder, name);
  const start = performance.now();
  execFileSync('ca65', ['-g', '-o', at('p.o'), at(MAIN)], { stdio: 'pipe' });
  execFileSync('ld65', ['-C', MAP, '-Ln', at('p.lbl'), '-o', at('p.bin'), at('p.o')], { stdio: 'pipe' });
  return performance.now() - start;
}
