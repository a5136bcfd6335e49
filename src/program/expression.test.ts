import { describe, expect, test } from 'vitest';
import type { LatelightError } from '../errors/latelight-error.ts';
import { compileExpression } from './expression.ts';

const names = { valueOf: (name: string) => ({ lampX: 0x10, 'Player::x': 0x20 })[name], variables: ['i', 'value'] };
const memory = (address: number): number => (address * 7) & 0xff;
const run = (text: string, i = 0): number =>
  compileExpression(text, names)({ peek: memory, variables: { i, value: 200 } });

test.each([
  ['1 + 2 * 3', 7],
  ['(1 + 2) * 3', 9],
  ['10 - 4 - 3', 3],
  ['$1F & %1010 | 1', 11],
  ['1 << 4 >> 2', 4],
  ['7 / 2', 3],
  ['-7 / 2', -3],
  ['5 / 0', 0],
  ['5 % 0', 0],
  ['7%10', 7],
  ['(7)%101', 7],
  ['5 %1', 0],
  ['5 + %101', 10],
  ['!0 + !5', 1],
  ['~0', -1],
  ['--3', 3],
  ['2 < 3 == 1', 1],
  ['1 && 0 || 1', 1],
  ['byte(lampX)', 0x70],
  ['byte(lampX + i)', 0x7e],
  ['word(lampX)', 0x70 + 256 * 0x77],
  ['signed(lampX + 3)', 0x85 - 256],
  ['byte(Player::x)', 0xe0],
  ['byte($10000)', 0],
  ['value - 1', 199],
])('%s = %i', (text, expected) => expect(run(text, 2)).toBe(expected));

describe('errors say what was found, where, and what was expected', () => {
  test.each([
    ['1 +', 'the expression "1 +" has nothing more at column 4, expected a number, a symbol, byte(...) or "("'],
    ['(1', 'the expression "(1" has nothing more at column 3, expected ")"'],
    ['1 2', 'the expression "1 2" has "2" at column 3, expected an operator or the end'],
    ['1 # 2', 'the expression "1 # 2" has "#" at column 3, expected a number, a symbol or an operator'],
    [
      'nobody',
      'the expression "nobody" names "nobody", which is not known; expected a symbol of the program or "i", "value"',
    ],
  ])('%s', (text, message) => {
    let caught: LatelightError | undefined;
    try {
      compileExpression(text, names);
    } catch (error) {
      caught = error as LatelightError;
    }
    expect(caught?.message).toBe(message);
  });

  test('deep nesting is refused, not a crash', () => {
    expect(() => run(`${'('.repeat(200)}1${')'.repeat(200)}`)).toThrow('at most 40 levels of nesting');
    expect(() => run(`${'-'.repeat(400)}1`)).toThrow('at most 40 levels of nesting');
    expect(() => run(`${'1+'.repeat(300)}1`)).toThrow('at most 500');
  });
});
