import fc from 'fast-check';
import { describe, expect, it, test } from 'vitest';
import { applyBinary, applyUnary, type BinaryOperator, type UnaryOperator } from './arithmetic.ts';

test.each<[BinaryOperator, number, number, number | string]>([
  ['/', -7, 2, -3],
  ['mod', -7, 3, -1],
  ['/', 7, 0, 'division'],
  ['mod', 7, 0, 'division'],
  ['<<', 1, 31, 0x8000_0000],
  ['<<', 3, 52, 'large'],
  ['<<', 1, 64, 'shift'],
  ['<<', 1, -1, 'shift'],
  ['>>', 0xffff_ffff, 16, 0xffff],
  ['>>', -1, 1, 'large'],
  ['>>', -1, 0, -1],
  ['*', 2 ** 40, 2 ** 40, 'large'],
  ['&', -1, 0xffff_ffff, 0xffff_ffff],
  ['|', 0x1_0000_0000, 1, 0x1_0000_0001],
  ['^', 0xffff_ffff, 1, 0xffff_fffe],
  ['xor', 2, 1, 0],
  ['&&', 2, 1, 1],
  ['||', 0, 0, 0],
  ['max', -1, 1, 1],
  ['min', -1, 1, -1],
])('%s of %i and %i is %s', (operator, a, b, expected) => expect(applyBinary(operator, a, b)).toBe(expected));

test.each<[UnaryOperator, number, number]>([
  ['<', -1, 0xff],
  ['>', -1, 0xff],
  ['^', 0x123456, 0x12],
  ['<', 0x1234, 0x34],
  ['>', 0x1234, 0x12],
  ['loword', 0x12345678, 0x5678],
  ['hiword', 0x12345678, 0x1234],
  ['~', 5, -6],
  ['!', 5, 0],
  ['!', 0, 1],
  ['-', 0, 0],
])('%s of %i is %i', (operator, value, expected) => expect(applyUnary(operator, value)).toBe(expected));

describe('laws', () => {
  const number = fc.integer({ min: -(2 ** 31), max: 2 ** 32 - 1 });

  it('bit operations agree with endless two’s complement', () => {
    fc.assert(
      fc.property(number, number, fc.constantFrom('&', '|', '^'), (a, b, operator) => {
        const [x, y] = [BigInt(a), BigInt(b)];
        const expected = operator === '&' ? x & y : operator === '|' ? x | y : x ^ y;
        expect(BigInt(applyBinary(operator, a, b) as number)).toBe(expected);
      }),
      { seed: 1 },
    );
  });

  it('a word is put together from its bytes', () => {
    fc.assert(
      fc.property(number, (value) => {
        const bytes = applyUnary('<', value) + 256 * applyUnary('>', value) + 65536 * applyUnary('^', value);
        expect(bytes).toBe(Number(BigInt.asUintN(24, BigInt(value))));
      }),
      { seed: 2 },
    );
  });
});
