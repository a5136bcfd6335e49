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
