import { expect, test } from 'vitest';
import { LatelightError } from '../../errors/latelight-error.ts';
import { problemOf } from './problem.ts';

test('an error of ours says what was found and what to do', () => {
  const error = new LatelightError('LAG_MAP_FILE', { path: 'dusk.json', expected: 'a.bin' });
  expect(problemOf(error)).toEqual({ refused: error.message, hint: error.hint });
});

test('one that has crossed a worker has lost its class, not its words', () => {
  const crossed = Object.assign(new Error('n is 0, expected 1'), { name: 'LatelightError' });
  expect(problemOf(crossed).refused).toBe('n is 0, expected 1');
  expect(problemOf(crossed).hint).toMatch(/^Change in the plan/);
});

test('a lost worker is told as a page has to tell it', () => {
  const { refused, hint } = problemOf(new LatelightError('WORKER_LOST', { cell: 3, found: 3, allowed: 2 }));
  expect(refused).toBe('cell 3 ended 3 workers, allowed 2');
  expect(hint).not.toMatch(/--/);
});

test.each([new TypeError('x is not a function'), 'x is not a function'])(
  'anything else is a fault of ours',
  (error) => {
    expect(problemOf(error)).toEqual({
      refused: 'internal: x is not a function',
      hint: expect.stringMatching(/report it/),
    });
  },
);
