import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { expect, it } from 'vitest';
import { LOOP_FILE, loopText } from './loop-text.ts';

it('the generated loop is what the generator writes (node test/console/write-fast-cpu-loop.mjs)', () => {
  const found = readFileSync(resolve(import.meta.dirname, LOOP_FILE), 'utf8');
  expect(found === loopText()).toBe(true);
});
