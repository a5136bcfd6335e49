import { describe, expect, test } from 'vitest';
import rows from '../../test/check-values/exact-math/table.json';
import { cos, exp, ln, power, sin } from './exact-math.ts';

const view = new DataView(new ArrayBuffer(8));
const fromHex = (hex: string): number => {
  view.setBigUint64(0, BigInt(`0x${hex}`));
  return view.getFloat64(0);
};
/** Position of a double in the ordered list of all doubles. */
const rank = (x: number): bigint => {
  view.setFloat64(0, x);
  const bits = view.getBigInt64(0);
  return bits < 0n ? -(bits & 0x7fff_ffff_ffff_ffffn) : bits;
};
const ulps = (a: number, b: number): number => Math.abs(Number(rank(a) - rank(b)));

const table = rows as [name: 'exp' | 'sin' | 'cos', argument: string, result: string][];
const own = { exp, sin, cos };

describe('exact maths against mpmath (400 bits, correctly rounded)', () => {
  test('the table has 2,000 rows', () => expect(table.length).toBe(2000));

  test.each(['exp', 'sin', 'cos'] as const)('%s is at most 1 ulp off', (name) => {
    let worst = 0;
    for (const [, argument, result] of table.filter(([of]) => of === name)) {
      worst = Math.max(worst, ulps(own[name](fromHex(argument)), fromHex(result)));
    }
    expect(worst).toBeLessThanOrEqual(1);
  });
});

describe('special values', () => {
  test('exp outside its range', () => {
    expect([exp(-746), exp(710), exp(Number.NaN), exp(0), exp(-0)]).toEqual([
      0,
      Number.POSITIVE_INFINITY,
      Number.NaN,
      1,
      1,
    ]);
  });
  test('sin and cos outside their range', () => {
    expect([sin(1.1e5), cos(Number.NaN), sin(-0), cos(0)]).toEqual([Number.NaN, Number.NaN, -0, 1]);
  });
  test('ln and power', () => {
    expect([ln(0), ln(-1), ln(1), ln(Number.POSITIVE_INFINITY)]).toEqual([
      Number.NEGATIVE_INFINITY,
      Number.NaN,
      0,
      Number.POSITIVE_INFINITY,
    ]);
    expect(power(0, 2.4)).toBe(0);
    expect(power(1, 2.4)).toBe(1);
    for (let x = 1e-6; x < 1e9; x *= 1.37)
      expect(Math.abs(ln(x) - Math.log(x))).toBeLessThan(1e-15 * (1 + Math.abs(Math.log(x))));
    for (let x = 0.01; x <= 1; x += 0.01) expect(Math.abs(power(x, 2.4) / x ** 2.4 - 1)).toBeLessThan(1e-14);
  });
});
