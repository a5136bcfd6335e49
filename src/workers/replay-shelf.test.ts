import { expect, test } from 'vitest';
import type { ShotReplay } from '../shot/shot-replay.ts';
import { ReplayShelf } from './replay-shelf.ts';

/** The shelf does not look into what stands on it. */
const replay = (): ShotReplay => Object.create(null);
const numbers = (shelf: ReplayShelf, upTo: number): number[] =>
  Array.from({ length: upTo }, (_, i) => i + 1).filter((number) => shelf.get(number) !== undefined);

test('the latest four stand there, each under its own number', () => {
  const shelf = new ReplayShelf();
  const shots = Array.from({ length: 6 }, replay);
  expect(shots.map((shot) => shelf.put(shot))).toEqual([1, 2, 3, 4, 5, 6]);
  expect(numbers(shelf, 6)).toEqual([3, 4, 5, 6]);
  expect(shelf.get(5)).toBe(shots[4]);
});

test('the kept one stands there besides, until another is kept or it is let go', () => {
  const shelf = new ReplayShelf();
  shelf.put(replay());
  shelf.keep(1);
  for (let k = 2; k <= 8; k++) shelf.put(replay());
  expect(numbers(shelf, 8)).toEqual([1, 5, 6, 7, 8]);
  shelf.keep(6);
  expect(numbers(shelf, 8)).toEqual([1, 5, 6, 7, 8]); // four others are the latest still
  shelf.put(replay());
  expect(numbers(shelf, 9)).toEqual([5, 6, 7, 8, 9]);
  shelf.keep(null);
  expect(numbers(shelf, 9)).toEqual([6, 7, 8, 9]);
});

test('to keep what is not there keeps nothing', () => {
  const shelf = new ReplayShelf();
  shelf.keep(3);
  expect(shelf.get(3)).toBe(undefined);
});
