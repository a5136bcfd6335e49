import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { CATALOGUE } from '../errors/catalogue.ts';
import { LatelightError } from '../errors/latelight-error.ts';
import { compileExpression } from '../program/expression.ts';
import { parseImage } from '../program/image.ts';
import { parseLabels } from '../program/labels.ts';
import { parseScenario } from './scenario.ts';

const MUTANTS = { numRuns: 10_000, seed: 20261 };
const file = (name: string): Buffer => readFileSync(`homebrew-demo/first-light/${name}`);

/** Whatever comes in, only the project's own error may come out, with every slot of its text filled. */
function expectOwnErrorsOnly(run: () => unknown): void {
  try {
    run();
  } catch (error) {
    expect(error).toBeInstanceOf(LatelightError);
    const { message, code, details } = error as LatelightError;
    expect(code).not.toBe('INTERNAL');
    const slots = `${CATALOGUE[code].message} ${CATALOGUE[code].cure}`.match(/(?<=\{)\w+(?=\})/g) ?? [];
    expect(Object.keys(details)).toEqual(expect.arrayContaining([...slots]));
    expect(message.length).toBeGreaterThan(10);
  }
}

/** A text with a few pieces replaced, removed, doubled or swapped for something from the same trade. */
const mutantsOf = (text: string, pieces: readonly string[]) =>
  fc
    .array(
      fc.tuple(fc.nat(text.length), fc.nat(12), fc.oneof(fc.constantFrom(...pieces), fc.string({ maxLength: 6 }))),
      { minLength: 1, maxLength: 4 },
    )
    .map((edits) =>
      edits.reduce((all, [at, length, piece]) => all.slice(0, at) + piece + all.slice(at + length), text),
    );

describe('10,000 mutants at each parser: only the own error class comes out', () => {
  test('scenario', () => {
    const pieces = [
      '-1',
      'null',
      '1e999',
      'NaN',
      '[]',
      '{}',
      '"',
      ',',
      '1e308',
      '-0',
      'true',
      '"x"',
      '{"kind":"lcd"}',
      '\u0000',
      '"__proto__":1,',
    ];
    const mutants = mutantsOf(file('late-lcd.json').toString(), pieces);
    fc.assert(
      fc.property(mutants, (json) => expectOwnErrorsOnly(() => parseScenario(json))),
      MUTANTS,
    );
  });

  test('scenario, any JSON value in any place', () => {
    const base = file('late-lcd.json').toString();
    const paths = pathsOf(JSON.parse(base));
    fc.assert(
      fc.property(fc.constantFrom(...paths), fc.jsonValue(), (path, value) => {
        expectOwnErrorsOnly(() => parseScenario(JSON.stringify(withValue(JSON.parse(base), path, value))));
      }),
      MUTANTS,
    );
  });

  test('image', () => {
    const whole = new Uint8Array(file('first-light.bin'));
    const mutant = fc.tuple(
      fc.array(fc.tuple(fc.nat(15), fc.nat(255)), { maxLength: 5 }),
      fc.oneof(fc.constant(whole.length), fc.nat(40), fc.nat(whole.length + 10)),
    );
    fc.assert(
      fc.property(mutant, ([edits, length]) => {
        const bytes = new Uint8Array(length);
        bytes.set(whole.subarray(0, length));
        for (const [at, value] of edits) if (at < length) bytes[at] = value;
        expectOwnErrorsOnly(() => parseImage(bytes));
      }),
      MUTANTS,
    );
  });

  test('labels', () => {
    fc.assert(
      fc.property(mutantsOf(file('first-light.lbl').toString(), ['al ', '.', '\n', 'G', '000000']), (text) =>
        expectOwnErrorsOnly(() => parseLabels(text)),
      ),
      MUTANTS,
    );
  });

  test('expression', () => {
    const pieces = ['(', ')', 'byte(', 'word(', '<<', '&&', '-', '~', '$', '%', '$FF', 'i', 'nobody', '!', ' ', '::'];
    const names = { valueOf: (name: string) => (name === 'lampX' ? 16 : undefined), variables: ['i'] };
    fc.assert(
      fc.property(mutantsOf('byte(lampX + 2 * i) - (word($10) >> 3)', pieces), (text) => {
        expectOwnErrorsOnly(() => compileExpression(text, names)({ peek: () => 3, variables: { i: 1 } }));
      }),
      MUTANTS,
    );
  });
});

type Path = readonly (string | number)[];

function pathsOf(value: unknown, path: Path = []): Path[] {
  const inner =
    typeof value === 'object' && value !== null
      ? Object.entries(value).flatMap(([key, item]) => pathsOf(item, [...path, key]))
      : [];
  return [path, ...inner];
}

function withValue(document: unknown, path: Path, value: unknown): unknown {
  if (path.length === 0) return value;
  let at = document as Record<string | number, unknown>;
  for (const key of path.slice(0, -1)) at = at[key] as Record<string | number, unknown>;
  at[path[path.length - 1]!] = value;
  return document;
}
