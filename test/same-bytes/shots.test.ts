import { expect, test } from 'vitest';
import { runBuilt } from '../run-built.ts';
import expected from './hashes.json';

test.each(['reference', 'fast'])('200 shots on the %s engine have the hash on record (Node)', (engine) => {
  expect(runBuilt('test/same-bytes/print-shots.ts', engine)).toEqual(expected.shots);
});
