import { expect, test } from 'vitest';
import type { ShotLanes } from '../../workers/play.api.ts';
import { SnapPoints } from './snap-points.ts';

const POINTS = new SnapPoints(
  {
    lit: [{ fromMs: 10, toMs: 20 }],
    looking: [],
    pictures: [],
    reads: Float64Array.of(11, 11.5, 30),
  } as unknown as ShotLanes,
  [{ name: 'crossing', title: 'threshold crossed', ms: 10.5 }],
);

test('an instant comes before an edge, an edge before a read; farther away nothing snaps', () => {
  expect(POINTS.snapped(10.1, 1)).toBe(10.5);
  expect(POINTS.snapped(9.8, 0.5)).toBe(10);
  expect(POINTS.snapped(11.2, 0.4)).toBe(11);
  expect(POINTS.snapped(29.9, 0.4)).toBe(30);
  expect(POINTS.snapped(30.1, 0.4)).toBe(30);
  expect(POINTS.snapped(25, 2)).toBe(25);
});

test('the next instant or edge in either direction', () => {
  expect([POINTS.next(10, 1), POINTS.next(10.5, 1), POINTS.next(20, 1)]).toEqual([10.5, 20, undefined]);
  expect([POINTS.next(20, -1), POINTS.next(10, -1)]).toEqual([10.5, undefined]);
});
