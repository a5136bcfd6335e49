import { expect, test } from 'vitest';
import figures from '../../homebrew-demo/lamplighter/strategies/figures.json';
import { runBuilt } from '../run-built.ts';

// Not equal after a change of the demo? See homebrew-demo/lamplighter/README.md on how the file is made anew.
test('the figures of the strategies that the page shows are those that are measured', () => {
  expect(figures).toEqual(runBuilt('test/demo/print-figures.ts'));
}, 600_000);
