import fc from 'fast-check';
import { expect, test } from 'vitest';
import { readJson } from './read-json.ts';

test('what is written once is read as JSON reads it', () => {
  fc.assert(
    fc.property(fc.json(), fc.boolean(), (json, isMarked) => {
      const data: unknown = JSON.parse(json);
      for (const text of [JSON.stringify(data), JSON.stringify(data, null, 2)])
        expect(readJson(isMarked ? `\uFEFF${text}` : text)).toEqual(data);
    }),
    { seed: 7 },
  );
});

test.each([
  ['{"a": 1, "b": {"a": 2}, "c": [{"a": 3}, {"a": 4}]}', null],
  ['{"a": "x: {", "b": "a"}', null],
  ['{"a": 1,\n "b": 2,\n "a": 3}', 'line 3: "a" is given twice, expected once'],
  ['{"panels": {"tube": {},\n "\\u0074ube": {}}}', 'line 2: "\\u0074ube" is given twice, expected once'],
])('a name that is given twice is told with its line: %s', (text, message) => {
  if (message === null) expect(readJson(text)).toEqual(JSON.parse(text));
  else expect(() => readJson(text)).toThrow(message);
});

test('what is no JSON is refused, and nothing else is', () => {
  const piece = fc.constantFrom(
    '{',
    '}',
    '[',
    ']',
    ',',
    ':',
    '"',
    '"a"',
    '"b"',
    '1',
    '-',
    '0',
    '.5',
    'e3',
    'true',
    'nul',
    ' ',
    '\n',
    '\\',
    '\u0001',
    '\u007f',
    '\u{1f56f}',
  );
  const isJson = (text: string): boolean => {
    try {
      JSON.parse(text);
      return true;
    } catch {
      return false;
    }
  };
  const broken = fc
    .tuple(fc.json(), fc.nat(), fc.nat(3), fc.array(piece, { maxLength: 3 }))
    .map(([json, at, length, put]) => {
      const from = at % (json.length + 1);
      return json.slice(0, from) + put.join('') + json.slice(from + length);
    });
  const texts = fc.oneof(
    broken,
    fc.array(piece, { maxLength: 12 }).map((pieces) => pieces.join('')),
  );
  fc.assert(
    fc.property(texts, (text) => {
      if (isJson(text)) {
        try {
          expect(readJson(text)).toEqual(JSON.parse(text));
        } catch (error) {
          expect((error as SyntaxError).message).toMatch(/ is given twice, expected once$/);
        }
      } else expect(() => readJson(text)).toThrow(/^line \d+: (found .*, expected|.* is given twice)/s);
    }),
    { seed: 11, numRuns: 5000 },
  );
});

test.each([
  ['{\n "a": 1,,\n}', 'line 2: found a comma, expected a name in double quotes'],
  ['{\n "a": 1,\n}', 'line 3: found }, expected a name in double quotes'],
  ['{\n "a": 1\n "b": 2\n}', 'line 3: found "b", expected a comma or }'],
  ["{'a': 1}", "line 1: found 'a', expected a name in double quotes or }"],
  ['{"a": 1', 'line 1: found the end, expected a comma or }'],
  ['[1, 2', 'line 1: found the end, expected a comma or ]'],
  ['', 'line 1: found the end, expected a value'],
  ['{"a": 01}', 'line 1: found 1, expected a comma or }'],
  ['{"a": undefined}', 'line 1: found undefined, expected a value'],
  ['{"a": 1} // lamps', 'line 1: found //, expected the end'],
])('the place of a fault is told: %s', (text, message) => {
  expect(() => readJson(text)).toThrow(new SyntaxError(message));
});
