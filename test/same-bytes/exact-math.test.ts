import { expect, test } from 'vitest';
import { hashOfExactMath } from './exact-math.ts';
import expected from './hashes.json';

test('200,000 results of each exact function have the hash on record (Node)', () => {
  expect(hashOfExactMath()).toEqual(expected.exactMath);
});
