import { expect, test } from 'vitest';
import { editDistance, nearest } from './spelling.ts';

test.each([
  ['lda', 'lda', 0],
  ['lda', 'lad', 1],
  ['lda', 'ldx', 1],
  ['lda', 'ldaa', 1],
  ['lda', 'da', 1],
  ['', 'abc', 3],
  ['kitten', 'sitting', 3],
])('%s and %s differ by %i', (a, b, distance) =>
  expect([editDistance(a, b), editDistance(b, a)]).toEqual([distance, distance]),
);

test.each([
  ['lampx', ['lampX', 'lampY'], 'lampX'],
  ['frme', ['frame', 'from'], 'frame'],
  ['sprties', ['sprites', 'spites'], 'sprites'],
  ['abc', ['xyz'], undefined],
  ['ab', ['xy'], undefined],
  ['frame', ['frame'], undefined],
])('%s among %j is %s', (word, candidates, expected) => expect(nearest(word, candidates)).toBe(expected));
