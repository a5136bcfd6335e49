import { describe, expect, it, test } from 'vitest';
import { lexLine } from './lexer.ts';

const lex = (text: string) => lexLine({ file: 'a.s', line: 1, text });
const words = (text: string): string =>
  lex(text)
    .tokens.map(({ kind, text: word, value }) =>
      kind === 'number' || kind === 'unnamed' ? `${kind} ${value}` : `${kind} ${word}`,
    )
    .join(', ');

test.each([
  ['loop: LDA #$1F,x ; note', 'name loop, sign :, name LDA, sign #, number 31, sign ,, register X'],
  ['%1010 10h 0FFh 26 $0010', 'number 10, number 16, number 255, number 26, number 16'],
  ["'a' ''' ';' \"it's; so\"", "number 97, number 39, number 59, string it's; so"],
  ['.BYTE .Byte @l _x1', 'directive .byte, directive .byte, cheap @l, name _x1'],
  [':+ :-- :: := : =', 'unnamed 1, unnamed -2, sign ::, sign :=, sign :, sign ='],
  ['<> <= >= << >> && || < >', 'sign <>, sign <=, sign >=, sign <<, sign >>, sign &&, sign ||, sign <, sign >'],
  ['z:a Z:a ab: f :', 'size z:, register A, size z:, register A, name ab, sign :, name f, sign :'],
  ['1.mod 2', 'number 1, directive .mod, number 2'],
  ['', ''],
])('%s', (text, expected) => expect(words(text)).toBe(expected));

describe('faults', () => {
  test.each([
    ['lda ?', 'ASM_CHARACTER', 4, 1],
    ['.byte "abc', 'ASM_STRING_OPEN', 6, 4],
    ['.byte "caf\u00e9"', 'ASM_STRING_CHARACTER', 6, 6],
    ["lda #'ab'", 'ASM_CHARACTER_CONSTANT', 5, 4],
    ["lda #'", 'ASM_CHARACTER_CONSTANT', 5, 1],
    ['lda #$', 'ASM_NUMBER', 5, 1],
    ['lda #$XY', 'ASM_NUMBER', 5, 3],
    ['lda #%12', 'ASM_NUMBER', 5, 3],
    ['lda #12AB', 'ASM_NUMBER', 5, 4],
    ['lda #$100000000', 'ASM_NUMBER_LARGE', 5, 10],
    ['@ = 5', 'ASM_CHARACTER', 0, 1],
    ['nop \u{1f4a1}', 'ASM_CHARACTER', 4, 2],
  ])('%s', (text, code, column, length) => {
    const { fault, tokens, isBroken } = lex(text);
    expect([fault?.code, fault?.column, fault?.length, isBroken]).toEqual([code, column, length, true]);
    expect(tokens.every((token) => token.column < column)).toBe(true);
  });
});

it('keeps what stands before a fault, and all of a line behind a byte order mark', () => {
  const texts = (text: string): string[] => lex(text).tokens.map((token) => token.text);
  expect(texts('reset: lda #0x10')).toEqual(['reset', ':', 'lda', '#']);
  const marked = lex('\ufeffreset: nop');
  expect([marked.fault?.code, marked.isBroken, marked.tokens.length]).toEqual(['ASM_CHARACTER', false, 3]);
});

it('a comment of 300,000 characters is looked at in no time', () => {
  const start = process.cpuUsage().user;
  for (const text of [
    `; a${' '.repeat(300_000)}here exactly`,
    `; ${' to '.repeat(60_000)} cycles from here ${' 1'.repeat(60_000)}`,
  ])
    expect(lex(text).note).toBe(null);
  expect(process.cpuUsage().user - start).toBeLessThan(1_000_000);
});

describe('notes of cycles', () => {
  const note = (text: string): string => {
    const found = lex(text).note;
    return found === null
      ? 'none'
      : [found.kind, ...found.low.map(({ column }) => column), ...found.high.map(({ column }) => column)].join(' ');
  };

  test.each([
    ['; exactly 14 cycles from here', 'open 10 10'],
    [' nop ; exactly SHOW-2 cycles from here: a round', 'open 15 19 20 15 19 20'],
    ['; 14 to 15 cycles from here', 'open 2 8'],
    ['; to here', 'close'],
    ['; exactly 1 cycle from here', 'open 10 10'],
    ['; exactly 14 cycles', 'misspelt'],
    ['; 14 cycles from here', 'misspelt'],
    ['; to here.', 'misspelt'],
    ['; exactly ? cycles from here', 'misspelt'],
    ['; 4 + 2 + 2 + 3 + 3 = 14 cycles a round', 'none'],
    ['; jump to here when done', 'none'],
    [' .byte "; to here"', 'none'],
  ])('%s', (text, expected) => expect(note(text)).toBe(expected));
});
