import { expect, test } from 'vitest';
import { runBuilt } from '../run-built.ts';
import expected from './hashes.json';

test('200 shots have the hash on record (Node)', () => {
  expect(runBuilt('test/same-bytes/print-shots.ts')).toEqual(expected.shots);
});
