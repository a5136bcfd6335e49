import fc from 'fast-check';
import { expect, test } from 'vitest';
import { fromBase64, toBase64 } from './base64.ts';

test.each([
  ['', ''],
  ['f', 'Zg=='],
  ['fo', 'Zm8='],
  ['foo', 'Zm9v'],
  ['foob', 'Zm9vYg=='],
  ['fooba', 'Zm9vYmE='],
  ['foobar', 'Zm9vYmFy'],
])('"%s" is "%s" (RFC 4648, section 10)', (text, expected) => {
  const bytes = new TextEncoder().encode(text);
  expect(toBase64(bytes)).toBe(expected);
  expect(fromBase64(expected)).toEqual(bytes);
});

test('there and back, against Node', () => {
  fc.assert(
    fc.property(fc.uint8Array({ maxLength: 300 }), (bytes) => {
      expect(toBase64(bytes)).toBe(Buffer.from(bytes).toString('base64'));
      expect(fromBase64(toBase64(bytes))).toEqual(bytes);
    }),
    { seed: 1, numRuns: 500 },
  );
});

test.each(['Z', 'Zg=', 'Zh==', 'Zm9=', 'Zm9v!m8=', '=Zm8', 'Z===', 'Zg==Zg=='])('"%s" is refused', (text) => {
  expect(fromBase64(text)).toBeUndefined();
});
