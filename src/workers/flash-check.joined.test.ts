import { expect, test } from 'vitest';
import type { SceneVerdict, StreamVerdict } from '../safety/flash-watch.ts';
import { joinedVerdicts } from './flash-check.joined.ts';

const scene = (fromS: number, toS: number, passes = true): SceneVerdict => ({ fromS, toS, passes, worst: [] });
const verdict = (...scenes: SceneVerdict[]): StreamVerdict<number> => ({
  profile: 'wcag-a',
  frames: 10,
  passes: scenes.every(({ passes }) => passes),
  worst: [],
  scenes,
  load: [],
  worstSecond: null,
});
const spans = (past: StreamVerdict<number>, now: StreamVerdict<number>) =>
  joinedVerdicts([past], [now])[0]!.scenes.map(({ fromS, toS, passes }) => [fromS, toS, passes]);

test('scenes of two stretches follow each other, though the second counts the last second of the first again', () => {
  expect(spans(verdict(scene(0, 2), scene(2, 5.6)), verdict(scene(4.9, 6), scene(6, 7)))).toEqual([
    [0, 2, true],
    [2, 4.9, true],
    [4.9, 6, true],
    [6, 7, true],
  ]);
});

test('one that was no time long is left out; one that fails is told in any case', () => {
  expect(spans(verdict(scene(1, 1), scene(1, 3), scene(3, 3.5)), verdict(scene(2.5, 4)))).toEqual([
    [1, 2.5, true],
    [2.5, 4, true],
  ]);
  expect(spans(verdict(scene(0, 3), scene(3, 3.5, false)), verdict(scene(2.5, 4)))).toEqual([
    [0, 2.5, true],
    [3, 3.5, false],
    [2.5, 4, true],
  ]);
});
