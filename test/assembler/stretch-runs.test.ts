import { existsSync, readdirSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { assembleProgram, type CycleStretch } from '../../src/program/assembler/assembler.ts';
import { diskFiles } from './disk-files.ts';
import { assembleText } from './outside.ts';
import { ABOVE, FLAGS, generateStretch } from './stretch-generator.ts';
import { runStretch } from './stretch-run.ts';

interface NotedProgram {
  readonly path: string;
  readonly image: Uint8Array;
  readonly stretch: CycleStretch;
}

/** Every noted stretch of a program. */
function stretchesOf(path: string): NotedProgram[] {
  const folder = dirname(path);
  const { image, errors, stretches } = assembleProgram(basename(path), diskFiles(folder));
  if (image === null) throw new Error(`${path}: ${errors.map(({ message, line }) => `${line} ${message}`).join('; ')}`);
  return stretches.map((stretch) => ({ path, image, stretch }));
}

/** Main files: those of the demo programs that are built, and those of the corpus. */
const DEMOS = filesUnder('homebrew-demo').filter((path) => existsSync(path.replace(/\.s$/, '.bin')));
const CORPUS = filesUnder('test/assembler/corpus');

function filesUnder(folder: string): string[] {
  const names = readdirSync(folder, { recursive: true, encoding: 'utf8' });
  return names.filter((name) => name.endsWith('.s')).map((name) => join(folder, name));
}

const titled = (programs: readonly NotedProgram[]) =>
  programs.map(
    (program) => [`${program.path}, ${program.stretch.place.file}:${program.stretch.place.line}`, program] as const,
  );

/** Cycles of the runs that reach the end, least and most. */
function measured(image: Uint8Array, stretch: CycleStretch, runs: number, flags?: number): readonly [number, number] {
  const cycles = Array.from({ length: runs }, (_, seed) => runStretch(image, stretch, seed, flags)).filter(
    (count) => count !== undefined,
  );
  return [Math.min(...cycles), Math.max(...cycles)];
}

describe('a run on the reference processor takes the cycles of the note, 200 times with random registers and memory', () => {
  const corpus = CORPUS.flatMap(stretchesOf);
  const demos = DEMOS.flatMap(stretchesOf);

  it.each(titled(corpus))('%s', (_, { image, stretch }) => {
    expect(measured(image, stretch, 200)).toEqual([stretch.low, stretch.high]);
  });

  it('the corpus has notes of loops, of rounds and of ranges', () => {
    expect(corpus.length).toBeGreaterThan(18);
    expect(corpus.filter(({ stretch }) => stretch.isRound).length).toBeGreaterThan(1);
    expect(corpus.filter(({ stretch }) => stretch.low < stretch.high).length).toBeGreaterThan(2);
  });

  it(`${DEMOS.length} demo programs: no run leaves the note`, () => {
    for (const { path, image, stretch } of demos) {
      const [least, most] = measured(image, stretch, 200);
      const title = `${path}, ${stretch.place.file}:${stretch.place.line}`;
      expect(least, title).toBeGreaterThanOrEqual(stretch.low);
      // Random indexes leave the data that the count takes them to stay in.
      if (stretch.assumptions.length === 0) expect(most, title).toBeLessThanOrEqual(stretch.high);
    }
  });
});

const FRAME = '\n .segment "HEADER"\n .res 1\n .segment "VECTORS"\n .res 6\n .segment "PATTERNS"\n .res 1\n';
const GENERATED = 500;
const RUNS = 48;

/** A generated stretch with the note that its count asks for; the count is the answer to a note that is surely wrong. */
function noted(seed: number): { readonly image: Uint8Array; readonly stretch: CycleStretch } {
  const make = generateStretch(seed);
  const assemble = (claim: string) => assembleText(ABOVE + make(claim) + FRAME);
  const [wrong] = assemble('exactly 999999').errors;
  const found = /^these lines take (\d+)(?: to (\d+))? cycles/.exec(wrong!.message)!;
  const { image, stretches } = assemble(found[2] === undefined ? `exactly ${found[1]}` : `${found[1]} to ${found[2]}`);
  return { image: image!, stretch: stretches[0]! };
}

describe(`${GENERATED} generated stretches, each run ${RUNS} times on the reference processor`, () => {
  const counted = Array.from({ length: GENERATED }, (_, i) => {
    const { image, stretch } = noted(i + 1);
    return { seed: i + 1, stretch, range: measured(image, stretch, RUNS, FLAGS) };
  });
  const exact = counted.filter(({ stretch }) => stretch.low === stretch.high);

  it('where the count is one number, every run takes just that', () => {
    const wrong = exact.filter(({ stretch: { low }, range }) => range[0] !== low || range[1] !== low);
    expect(wrong.map(({ seed, range }) => [seed, ...range])).toEqual([]);
    expect(exact.length).toBeGreaterThan(100);
  });

  it('where it is a range, no run leaves it, and most ranges are reached at both ends', () => {
    const ranges = counted.filter(({ stretch }) => stretch.low < stretch.high);
    const outside = ranges.filter(({ stretch: { low, high }, range }) => range[0] < low || range[1] > high);
    expect(outside.map(({ seed, range }) => [seed, ...range])).toEqual([]);
    const reached = ranges.filter(({ stretch: { low, high }, range }) => range[0] === low && range[1] === high);
    expect(reached.length / ranges.length).toBeGreaterThan(0.75);
  });
});
