import { expect, test } from 'vitest';
import { SharedTables } from './shared-tables.ts';

test('the same numbers give the same table, made once; others their own', () => {
  const tables = new SharedTables<number[]>();
  let made = 0;
  const of = (...key: number[]) =>
    tables.of(key, () => {
      made++;
      return [...key];
    });
  const first = of(1, 2, Number.POSITIVE_INFINITY);
  expect(of(1, 2, Number.POSITIVE_INFINITY)).toBe(first);
  expect([of(1, 2), of(1, 2, 3), of(0), of(-0)]).toEqual([[1, 2], [1, 2, 3], [0], [-0]]);
  expect(made).toBe(5);
});

test('tables that were made long ago are forgotten, the latest are not', () => {
  const tables = new SharedTables<object>();
  const of = (n: number) => tables.of([n], () => ({}));
  const [first, last] = Array.from({ length: 100 }, (_, n) => of(n)).filter((_, n) => n === 0 || n === 99);
  expect(of(99)).toBe(last);
  expect(of(0)).not.toBe(first);
});
