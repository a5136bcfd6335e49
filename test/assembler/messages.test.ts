import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { CATALOGUE } from '../../src/errors/catalogue.ts';
import { assembleProgram } from '../../src/program/assembler/assembler.ts';
import { messageText } from '../../src/program/assembler/message-text.ts';
import { filesOf } from './outside.ts';

const FRAME =
  '\n .segment "HEADER"\n .byte $4E, $45, $53, $1A, 2, 1, 0, 8\n .res 8\n .segment "VECTORS"\n .res 6\n .segment "PATTERNS"\n .res 1\n';
const TABLES = 'table: .byte 1\n lda #300\n';

const assemble = (source: string) =>
  assembleProgram(
    'game.s',
    filesOf({
      'game.s': source + FRAME,
      'tables.inc': TABLES,
      'loop.inc': ' .include "loop.inc"\n',
      'tiles.bin': new Uint8Array(8),
    }),
  );

/** Every message in two lines: place, span and what is wrong; then the cure. */
const messagesOf = (source: string): string[] => {
  const { errors, warnings } = assemble(source);
  return [...errors, ...warnings]
    .filter(({ code }) => code !== 'ASM_SEGMENT_MISSING') // An open block swallows the segments of the frame.
    .flatMap(({ severity, file, line, column, span, message, cure }) => [
      `${severity === 'warning' ? 'warning ' : ''}${file === 'game.s' ? '' : `${file}:`}${line}:${column}+${span} ${message}`,
      `  > ${cure}`,
    ]);
};

/** Blocks of mistakes.txt: the source behind "|", then each message with its cure. */
const mistakes = readFileSync('test/assembler/mistakes.txt', 'utf8')
  .split(/\n{2,}/)
  .filter((block) => block.startsWith('|'))
  .map((block) => {
    const lines = block.trimEnd().split('\n');
    const source = lines.filter((line) => line.startsWith('|')).map((line) => line.slice(1));
    const expected = lines.slice(source.length);
    return { source: source.join('\n'), expected };
  });

describe('typical mistakes', () => {
  it.each(mistakes)('$source', ({ source, expected }) => expect(messagesOf(source)).toEqual(expected));

  it('there are more than 200 of them, and no two are the same', () => {
    expect(mistakes.length).toBeGreaterThan(200);
    expect(new Set(mistakes.map(({ source }) => source)).size).toBe(mistakes.length);
  });

  it('segments that every program needs', () => {
    const { errors } = assembleProgram('game.s', filesOf({ 'game.s': ' nop\n' }));
    expect(errors.map(({ message, cure, line }) => `${line} ${message} -> ${cure}`)).toEqual([
      '1 the program ends here without a segment "HEADER" -> Add it: .segment "HEADER" with .byte $4E, $45, $53, $1A, 2, 1, 0, 8 and eight more bytes of the NES 2.0 header.',
      '1 the program ends here without a segment "VECTORS" -> Add it: .segment "VECTORS" with .addr nmi, reset, irq.',
      '1 the program ends here without a segment "PATTERNS" -> Add it: .segment "PATTERNS" with .res 16, or the tiles of the program.',
    ]);
  });

  it('a main file that is not there', () => {
    const { errors, image } = assembleProgram('game.s', filesOf({}));
    expect([errors[0]!.message, errors[0]!.line, image]).toEqual(['there is no file "game.s"; tried: game.s', 1, null]);
  });
});

describe('all errors at once', () => {
  it('every line has its own, in the order of the source', () => {
    const source = ' ldaa #1\n lda #256\n bne nowhere\n .bogus\n .byte "a\n jmp (5';
    expect(assemble(source).errors.map(({ line, code }) => `${line} ${code}`)).toEqual([
      '1 ASM_UNKNOWN_INSTRUCTION',
      '2 ASM_RANGE',
      '3 ASM_SYMBOL_UNDEFINED',
      '4 ASM_UNKNOWN_COMMAND',
      '5 ASM_STRING_OPEN',
      '6 ASM_SYNTAX',
    ]);
  });

  it('a name that is missing is reported once', () => {
    expect(assemble(' lda nowhere\n sta nowhere\n .word nowhere+1').errors).toHaveLength(1);
  });

  it('stops listing after 100', () => {
    const { errors } = assemble(' bogus 1\n'.repeat(500));
    expect([errors.length, errors[99]!.line, errors[100]!.message]).toEqual([
      101,
      100,
      'there are more than 100 errors, the rest is not listed',
    ]);
  });
});

describe('the way to the place', () => {
  const source =
    ' .macro inner value\n lda #value\n .byte bad\n .endmacro\n .macro outer\n inner 300\n .endmacro\n .repeat 1\n outer\n .endrepeat\n .include "tables.inc"';
  const { errors } = assemble(source);

  it('an argument is shown where it is written, with the line of the body that uses it and the calls', () => {
    expect(messageText(errors[0]!)).toBe(
      [
        'game.s:6:8: error: the byte is 300, expected 0 to 255',
        '   inner 300',
        '         ^^^',
        '  Write a smaller number, or "<" before it for its low byte and ">" for its high byte.',
        '  used in the macro at game.s:2',
        '  in a macro called at game.s:9',
        '  repeated at game.s:8',
      ].join('\n'),
    );
  });

  it('a line of the body is shown with its calls', () => {
    expect(messageText(errors[1]!)).toBe(
      [
        'game.s:3:8: error: "bad" is not defined',
        '   .byte bad',
        '         ^^^',
        '  Define it, "bad:" before an instruction or "bad = value", or correct its name.',
        '  in a macro called at game.s:6',
        '  in a macro called at game.s:9',
        '  repeated at game.s:8',
      ].join('\n'),
    );
  });

  it('a line of an included file is shown with the line that includes it', () => {
    expect(
      messageText(errors[2]!).split('\n').slice(0, 1).concat(messageText(errors[2]!).split('\n').slice(-1)),
    ).toEqual(['tables.inc:2:7: error: the byte is 300, expected 0 to 255', '  included at game.s:11']);
  });

  it('tabs stand in the marks as in the line', () => {
    expect(messageText(assemble('\tlda\t#256').errors[0]!).split('\n').slice(1, 3)).toEqual([
      '  \tlda\t#256',
      '  \t   \t ^^^',
    ]);
  });
});

it('every message of the assembler in the catalogue has a cure', () => {
  const entries = Object.entries(CATALOGUE).filter(([code]) => code.startsWith('ASM_'));
  expect(entries.length).toBeGreaterThan(60);
  for (const [code, { cure }] of entries) expect(cure.length, code).toBeGreaterThan(5);
});
