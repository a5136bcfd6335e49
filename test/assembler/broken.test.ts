import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { CATALOGUE } from '../../src/errors/catalogue.ts';
import { type AssemblyMessage, assembleProgram } from '../../src/program/assembler/assembler.ts';
import { filesOf } from './outside.ts';

/**
 * Broken sources: programs of the repository with pieces taken out, doubled, moved or replaced. Whatever comes of them,
 * it is a result with errors of the project, each with a place that exists and a cure, and it comes soon.
 */
const RUNS = 10_000;
const SEED = 20251;
const LONGEST_MS = 5000;

const read = (path: string): string => readFileSync(path, 'utf8');
const PARTS = {
  'parts/tables.inc': read('test/assembler/corpus/parts/tables.inc'),
  'parts/more.inc': read('test/assembler/corpus/parts/more.inc'),
  'parts/tiles.bin': new Uint8Array(7),
};
const SNIPPETS = read('test/assembler/snippets.txt')
  .split('\n')
  .filter((line) => line !== '' && !line.startsWith('# '))
  .map((line) => line.replace(/^-/, '').replace(/\\n/g, '\n'));

/** Short sources break in more ways for the same time. */
const SOURCES = [
  read('homebrew-demo/first-light/first-light.s'),
  read('test/assembler/corpus/everything.s'),
  ...SNIPPETS,
];

// biome-ignore format: words as they come
const WORDS = ['.macro m a, b\n', '.endmacro\n', ' m m\n', ' m {m}, m\n', '.repeat 9999, i\n', '.repeat 3\n', '.endrepeat\n', '.if ', '.else\n', '.endif\n', '.scope s\n', '.endscope\n', '.proc p\n', '.endproc\n', '.include "main.s"\n', '.include "parts/tables.inc"\n', '.define m m m\n', '.define d\n', 'd d d', '.res $FFFF\n', '.res 65535, 1\n', '.align 4096\n', '.segment "', '.local l\n', '.exitmacro\n', 'x = x + 1\n', 'a1 = a2\na2 = a1\n', '((((((((', '<<<<<<<<', '- - - - -', '$', '%', '"', "'", '@', '::', ':+', ':--', ':', '=', ':=', '.set', ' .byte ', ' lda ', ',x', '),y', '#', '{', '}', '\\', '\t', '\r', '\0', '\u00e9', '\u{1f4a1}', ';', '; exactly 5 cycles from here\n', '; to here\n', '9999999999', '$FFFFFFFF', '<< 99', '/ 0', '*'];

interface Change {
  readonly kind: number;
  readonly at: number;
  readonly length: number;
  readonly to: number;
  readonly word: number;
}

/** Places are shares of the text, so that they make sense for every length. */
function change(text: string, { kind, at, length, to, word }: Change): string {
  const start = Math.floor(at * text.length);
  const end = Math.min(text.length, start + length);
  const target = Math.floor(to * text.length);
  const piece = text.slice(start, end);
  const without = text.slice(0, start) + text.slice(end);
  const lines = text.split('\n');
  const line = Math.floor(at * lines.length);
  const other = Math.floor(to * lines.length);
  switch (kind) {
    case 0:
      return without;
    case 1:
      return text.slice(0, target) + piece + text.slice(target);
    case 2:
      return without.slice(0, target) + piece + without.slice(target);
    case 3:
      return text.slice(0, start) + WORDS[word]! + text.slice(start);
    case 4:
      return text.slice(0, start) + WORDS[word]! + text.slice(end);
    case 5:
      return lines.filter((_, i) => i !== line).join('\n');
    default:
      return [...lines.slice(0, other), lines[line]!, ...lines.slice(other)].join('\n');
  }
}

const share = fc.double({ min: 0, max: 1, noNaN: true, maxExcluded: true });
const changes = fc.array(
  fc.record({
    kind: fc.nat(6),
    at: share,
    length: fc.integer({ min: 1, max: 40 }),
    to: share,
    word: fc.nat(WORDS.length - 1),
  }),
  { minLength: 1, maxLength: 8 },
);
/** Long programs seldom, the many short pieces often. */
const source = fc.oneof({ weight: 1, arbitrary: fc.nat(1) }, { weight: 9, arbitrary: fc.nat(SOURCES.length - 1) });

function checkMessage(
  { code, message, cure, file, line, column, span, text, trail }: AssemblyMessage,
  files: Readonly<Record<string, string | Uint8Array>>,
): void {
  const lines = String(files[file]).split(/\r?\n/);
  const isPlace = files[file] !== undefined && line >= 1 && line <= Math.max(1, lines.length);
  if (!isPlace) throw new Error(`${code}: no line ${file}:${line}`);
  if ((lines[line - 1] ?? '') !== text) throw new Error(`${code}: line ${line} is not "${text}"`);
  if (!(column >= 1 && column <= text.length + 1 && span >= 1))
    throw new Error(`${code}: column ${column}, span ${span} in "${text}"`);
  if (column + span > text.length + 2) throw new Error(`${code}: span ${span} from ${column} leaves "${text}"`);
  const slots = [...CATALOGUE[code].message.matchAll(/\{\w+\}/g)].map(([slot]) => slot);
  const isFilled = slots.every((slot) => !message.includes(slot) || text.includes(slot));
  if (!isFilled || cure.length < 10 || /\{(cure|hint)\}/.test(cure)) throw new Error(`${code}: ${message} / ${cure}`);
  if (code === 'INTERNAL') throw new Error(message);
  for (const place of trail)
    if (files[place.file] === undefined || place.line < 1)
      throw new Error(`${code}: trail ${place.file}:${place.line}`);
}

describe('broken sources', () => {
  it(`${RUNS} of them (seed ${SEED}) give errors of the project with places and cures, or an image; none hangs`, () => {
    let refused = 0;
    const codes = new Set<string>();
    const property = fc.property(source, changes, (index, list) => {
      const text = list.reduce(change, SOURCES[index]!);
      const files = { 'main.s': text, ...PARTS };
      const started = performance.now();
      const result = assembleProgram('main.s', filesOf(files));
      const ms = performance.now() - started;
      if (ms > LONGEST_MS) throw new Error(`took ${ms} ms`);
      if ((result.image === null) !== result.errors.length > 0) throw new Error('neither image nor errors, or both');
      for (const message of [...result.errors, ...result.warnings]) checkMessage(message, files);
      for (const { code } of result.errors) codes.add(code);
      if (result.image === null) refused++;
    });
    fc.assert(property, { numRuns: RUNS, seed: SEED });
    expect(refused).toBeGreaterThan(RUNS / 2);
    expect(codes.size).toBeGreaterThan(45);
  });
});
