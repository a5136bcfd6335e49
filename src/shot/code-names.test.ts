import { expect, test } from 'vitest';
import { codeName } from './code-names.ts';

test('an address is called by the nearest label before it', () => {
  const symbols = new Map([
    ['aim', 0x20],
    ['reset', 0x8000],
    ['look', 0x8100],
    ['@wait', 0x8180],
    ['late', 0x8200],
  ]);
  expect([0x8100, 0x8105, 0x81ff, 0x8000, 0x8201].map((at) => codeName(symbols, at))).toEqual([
    'look',
    'look+5',
    'look@wait+127',
    'reset',
    'late+1',
  ]);
  expect([0x7fff, 0x0300].map((at) => codeName(symbols, at))).toEqual(['$7FFF', '$0300']);
  expect(codeName(new Map(), 0xc000)).toBe('$C000');
});
