import { describe, expect, it, test } from 'vitest';
import { assembleText } from './outside.ts';
import { runStretch } from './stretch-run.ts';

const FRAME =
  '\n .segment "HEADER"\n .byte $4E, $45, $53, $1A, 2, 1, 0, 8\n .res 8\n .segment "VECTORS"\n .res 6\n .segment "PATTERNS"\n .res 1\n';
const ABOVE = ' .zeropage\nflag: .res 1\npointer: .res 2\n .bss\nbuffer: .res 200\nlong: .res 300\n .code\n';

const assemble = (lines: readonly string[]) => assembleText(ABOVE + lines.join('\n') + FRAME);

/** One note around some lines. */
const noted = (claim: string, lines: readonly string[]) =>
  assemble([`; ${claim} cycles from here`, ...lines, '; to here']);

/** What the assembler says about a claim that is surely wrong: the count that it found, or the other reason. */
const counted = (lines: readonly string[], before: readonly string[] = []): string => {
  const { errors } = assemble([...before, '; exactly 999999 cycles from here', ...lines, '; to here']);
  return errors
    .map(({ message }) => message.replace(/^these lines take (.*) cycles, the note says 999999$/, '$1'))
    .join('; ');
};

describe('cycles counted without running', () => {
  test.each<[string, string[], string]>([
    ['straight code', ['lda #1', 'sta flag', 'nop', 'inc buffer'], '13'],
    [
      'a taken and a not taken branch of the same length',
      ['lda flag', 'bne a1', 'nop', 'nop', 'jmp b1', 'a1: nop', 'nop', 'nop', 'b1:'],
      '12',
    ],
    ['branches of different lengths', ['lda flag', 'beq a1', 'nop', 'a1: nop'], '8 to 9'],
    ['a delay loop', ['ldx #5', 'a1: dex', 'bne a1'], `${2 + 4 * 5 + 4}`],
    [
      'nested delay loops',
      ['ldy #3', 'a1: ldx #4', 'b1: dex', 'bne b1', 'dey', 'bne a1'],
      `${2 + 3 * (2 + 3 * 5 + 4 + 2) + 2 * 3 + 2}`,
    ],
    ['a loop with compare', ['ldx #0', 'a1: inx', 'cpx #3', 'bne a1'], `${2 + 2 * 7 + 6}`],
    ['a loop with a sum', ['lda #0', 'clc', 'a1: adc #$40', 'bcc a1'], `${4 + 3 * 5 + 4}`],
    ['a loop of shifts', ['lda #$80', 'a1: lsr a', 'bne a1'], `${2 + 7 * 5 + 4}`],
    ['a subroutine', ['jsr delay', 'jmp on', 'delay: nop', 'rts', 'on:'], `${6 + 2 + 6 + 3}`],
    [
      'stores beside the stack and its mirrors',
      ['jsr store', 'jmp on', 'store: sta $08FF', 'sta $0A00', 'sta $2100', 'rts', 'on:'],
      `${6 + 3 * 4 + 6 + 3}`,
    ],
    ['a stretch that ends in RTS', ['lda #1', 'rts'], '8'],
    ['a stretch that ends in RTI', ['pla', 'rti'], '10'],
    [
      'a way that leaves is not counted',
      ['lda flag', 'beq out', 'nop', 'rts', 'out: nop', 'nop', 'nop', 'nop', 'nop', 'rts'].slice(0, 3),
      '"out" is not defined',
    ],
    ['a known index without a page crossing', ['ldx #$10', 'lda $8FE0,x'], '6'],
    ['a known index with a page crossing', ['ldx #$20', 'lda $8FE0,x'], '7'],
    ['an index from the beginning of a page', ['lda $0300,x'], '4'],
    ['an index that may cross', ['lda $0310,x'], '4 to 5'],
    ['an index that stays in its data', ['lda buffer,x'], '4'],
    ['data over more than one page', ['lda long,x'], '4 to 5'],
    ['a base before its data', ['lda buffer-1,x'], '5'],
    ['a pointer', ['lda (pointer),y'], '5 to 6'],
    ['a pointer with Y = 0', ['ldy #0', 'lda (pointer),y'], '7'],
    ['a store takes its cycle always', ['sta $0310,x', 'sta (pointer),y'], '11'],
    ['sprite DMA', ['lda #2', 'sta $4014'], `${2 + 4 + 513} to ${2 + 4 + 514}`],
    ['the skip by BIT', ['lda flag', '.byte $2C', 'lda #5'], '7'],
    [
      'a loop with an unknown counter',
      ['a1: dex', 'bne a1', 'nop'],
      'the cycles cannot be counted: how often the branch at $8001 (main.s:10) goes back is not known',
    ],
    ['BRK', ['brk'], 'the cycles cannot be counted: BRK at $8000 (main.s:9)'],
    [
      'an indirect jump inside',
      ['jmp (buffer)', 'nop'],
      'the cycles cannot be counted: an indirect jump at $8000 (main.s:9)',
    ],
    [
      'a loop without an end',
      ['a1: jmp a1', 'nop'],
      'the cycles cannot be counted: no end after 200000 instructions, at $8000 (main.s:9)',
    ],
    ['nothing', [], '0'],
    ['a stretch that ends in a jump', ['jmp buffer'], '3'],
    [
      'no way to the end',
      ['jmp buffer', 'nop'],
      'the cycles cannot be counted: no way through the noted lines reaches their end',
    ],
    [
      'a subroutine in memory',
      ['jsr buffer'],
      'the cycles cannot be counted: the way leads to $0300, at $0300, where the program has no code',
    ],
  ])('%s', (_, lines, expected) =>
    expect(counted(lines.map((line) => (/^\w+:/.test(line) ? line : ` ${line}`)))).toBe(expected),
  );

  it('one round of a loop that reads the light bit takes 14 cycles, the way out is not counted', () => {
    const { errors, stretches } = noted('exactly 14', [
      'look: lda $4017',
      ' and #8',
      ' beq lit',
      ' lda flag',
      ' beq look',
      '; to here',
      'lit: nop',
      '; exactly 2 cycles from here',
      ' nop',
    ]);
    expect(errors).toEqual([]);
    expect(stretches.map(({ start, end, low, high }) => [start, end, low, high])).toEqual([
      [0x8000, 0x800b, 14, 14],
      [0x800c, 0x800d, 2, 2],
    ]);
  });

  it('a note behind a statement counts it in; numbers may be expressions', () => {
    const { errors, stretches } = assemble([
      'SHOW = 8',
      ' nop',
      ' lda flag ; exactly SHOW cycles from here',
      ' sta flag',
      ' nop ; to here',
      ' nop',
    ]);
    expect([errors, stretches.map(({ start, end }) => [start, end])]).toEqual([[], [[0x8001, 0x8006]]]);
  });

  it('a macro notes its own body, with its argument', () => {
    const { errors, stretches } = assemble([
      ' .macro pause count',
      ' ; exactly count * 2 cycles from here',
      ' .repeat count',
      ' nop',
      ' .endrepeat',
      ' ; to here',
      ' .endmacro',
      ' pause 3',
      ' pause 5',
    ]);
    expect([errors, stretches.map(({ low, place }) => [low, place.line])]).toEqual([
      [],
      [
        [6, 9],
        [10, 9],
      ],
    ]);
  });

  it('a branch to another page is counted, and warned of', () => {
    const lines = [
      ' .res $FB, $EA',
      '; exactly 6 cycles from here',
      ' ldx #1',
      ' bne on',
      ' nop',
      'on: nop',
      '; to here',
    ];
    const { errors, warnings } = assemble(lines.with(1, '; exactly 8 cycles from here'));
    expect(errors).toEqual([]);
    expect(warnings.map(({ code, line, column, span }) => [code, line, column, span])).toEqual([
      ['ASM_BRANCH_PAGE', 11, 2, 6],
    ]);
    expect(assemble(lines).errors[0]!.message).toBe('these lines take 8 cycles, the note says 6');
  });
});

describe('notes that are wrong', () => {
  const first = (lines: readonly string[]): string => {
    const { errors, warnings } = assemble(lines);
    return [...errors, ...warnings]
      .map(({ code, line, column, span }) => `${code} ${line}:${column}+${span}`)
      .join('; ');
  };

  test.each<[string, string[], string]>([
    ['never closed', ['; exactly 2 cycles from here', ' nop'], 'ASM_NOTE_OPEN 8:1+28'],
    ['never opened', [' nop', ' ; to here'], 'ASM_NOTE_CLOSE 9:2+9'],
    [
      'closed in another segment',
      ['; exactly 2 cycles from here', ' nop', ' .rodata', '; to here'],
      'ASM_NOTE_SEGMENT 11:1+9',
    ],
    [
      'closed behind a macro',
      [' .macro m', ' nop', ' .endmacro', '; exactly 2 cycles from here', ' m ; to here'],
      'ASM_NOTE_CALL 12:4+9',
    ],
    ['misspelt', ['; exactly 2 cycles', ' nop'], 'ASM_NOTE_MISSPELT 8:1+18'],
    ['not a number', ['; exactly two cycles from here', ' nop', '; to here'], 'ASM_SYMBOL_UNDEFINED 8:11+3'],
    ['left out by a condition', [' .if 0', '; exactly 99 cycles from here', ' .endif', ' nop'], ''],
    [
      'an ordinary comment',
      [' nop ; exactly what we need', ' nop ; 14 cycles a round', ' nop ; back to here we go'],
      '',
    ],
  ])('%s', (_, lines, expected) => expect(first(lines)).toBe(expected));
});

describe('cycles counted against the reference processor', () => {
  const lines = [
    '; exactly 12 cycles from here',
    ' lda flag',
    ' bne a1',
    ' nop',
    ' nop',
    ' jmp b1',
    'a1: nop',
    ' nop',
    ' nop',
    'b1:',
    '; to here',
    ' nop',
    '; exactly 2 + 3 * (2 + 3 * 5 + 4 + 2) + 2 * 3 + 2 cycles from here',
    ' ldy #3',
    'c1: ldx #4',
    'd1: dex',
    ' bne d1',
    ' dey',
    ' bne c1',
    '; to here',
    ' nop',
    '; exactly 32 cycles from here',
    ' jsr twice',
    ' lda #$0F',
    ' sta buffer,x',
    ' inc $40,x',
    ' bit flag',
    '; to here',
    ' nop',
    '; exactly 14 cycles from here',
    'look: lda $4017',
    ' and #8',
    ' beq lit',
    ' lda flag',
    ' beq look',
    '; to here',
    'lit: nop',
    '; 5 to 6 cycles from here',
    ' lda (pointer),y',
    '; to here',
    ' nop',
    '; exactly 4 + 9 + 12 cycles from here',
    ' lda #$30',
    ' sec',
    'e1: sbc #$18',
    ' bne e1',
    ' clc',
    ' adc #1',
    ' rol a',
    ' tay',
    ' lda table,y',
    '; to here',
    ' nop',
    'twice: nop',
    ' nop',
    ' rts',
    ' .align 256',
    'table: .res 3, 7',
  ];
  const { image, errors, stretches } = assemble(lines);

  it('the program has no errors', () => {
    expect(errors.map(({ message, line }) => `${line}: ${message}`)).toEqual([]);
    expect(stretches).toHaveLength(6);
  });

  it.each(stretches.map((stretch) => [stretch.place.line, stretch] as const))(
    'line %i: 300 runs with random registers and memory',
    (_, stretch) => {
      const runs = Array.from({ length: 300 }, (_, seed) => runStretch(image!, stretch, seed));
      const whole = runs.filter((cycles) => cycles !== undefined);
      expect(whole.length).toBeGreaterThan(20);
      expect([Math.min(...whole), Math.max(...whole)]).toEqual([stretch.low, stretch.high]);
    },
  );
});
