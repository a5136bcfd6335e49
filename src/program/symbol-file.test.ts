import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { compileExpression } from './expression.ts';
import { parseSymbols, unknownName } from './symbol-file.ts';

const SMALL = readFileSync('test/assembler/corpus/small.dbg', 'utf8');
const TWICE = 'al 0081CC .done\nal 008078 .done\nal 000010 .said\nal FFFFFD00 .low\nal FFFFFFFFFFFFFFFF .minus\n';

describe('symbols of a scenario', () => {
  it('come from a label file or a debug file', () => {
    expect([...parseSymbols(TWICE)]).toEqual([
      ['said', 0x10],
      ['low', -768],
      ['minus', -1],
    ]);
    const symbols = parseSymbols(SMALL);
    expect(symbols.size).toBeGreaterThan(3);
    expect([...symbols.keys()].some((name) => name.includes('::'))).toBe(true);
    expect(parseSymbols(SMALL.replaceAll('\n', '\r\n'))).toEqual(symbols);
  });

  it('may be given by the scenario, and come first', () => {
    const symbols = parseSymbols(TWICE, { own: { done: 5, more: 6 } });
    expect([symbols.get('done'), symbols.get('more'), symbols.ambiguous?.size]).toEqual([5, 6, 0]);
    expect([...parseSymbols(undefined, { own: { more: 6 } })]).toEqual([['more', 6]]);
  });

  it.each([
    ['', 'the label file "a.lbl" holds no labels'],
    ['\n\n', 'the label file "a.lbl" holds no labels'],
    ['al 1\n', 'line 1 of the label file "a.lbl" is "al 1", expected "al 00C000 .name"'],
    ['version\tmajor=3,minor=0\n', 'the debug file "a.lbl" has version 3, expected version 2'],
    ['version\tmajor=2,minor=0\nsym\tid=x\n', 'line 2 of the debug file "a.lbl" has'],
  ])('%j is refused by the name of its file', (text, message) =>
    expect(() => parseSymbols(text, { file: 'a.lbl' })).toThrow(message),
  );
});

describe('a name that has no value', () => {
  const compile = (text: string): unknown => {
    const symbols = parseSymbols(TWICE);
    try {
      return compileExpression(text, { valueOf: (name) => symbols.get(name), symbols, variables: ['i'] });
    } catch (error) {
      const { message, hint } = error as { message: string; hint: string };
      return `${message} > ${hint}`;
    }
  };

  it.each([
    [
      'done',
      'the expression "done" names "done", which stands for $81CC and $8078 > Rename one, or add it under "symbols"; a debug file (ld65 --dbgfile) knows both with their scopes.',
    ],
    [
      'siad + 1',
      'the expression "siad + 1" names "siad", which is not known; expected a symbol of the program or "i" > Did you mean "said"? The names there are: said, low, minus.',
    ],
    [
      'nothing',
      'the expression "nothing" names "nothing", which is not known; expected a symbol of the program or "i" > The names there are: low, minus, said. Write one of them, give the file that the assembler made with this image, or add the name under "symbols".',
    ],
  ])('%s', (text, expected) => expect(compile(text)).toBe(expected));

  const hintOf = (name: string, ...given: Parameters<typeof parseSymbols>): string =>
    unknownName(name, name, parseSymbols(...given)).hint;
  const NO_FILE =
    'Give the label file that belongs to the image (assembled with ca65 -g), or add the name under "symbols".';

  it('asks for the label file only where there is none', () => {
    expect(hintOf('lamp', undefined)).toBe(NO_FILE);
    expect(hintOf('lamp', undefined, { own: { moth: 5 } })).toBe(`The names there are: moth. ${NO_FILE}`);
    expect(hintOf('lamp', 'al 000010 .moth')).not.toContain('Give the label file');
  });

  it('tells six of many names, those spelt most like it first, and none of cheap local ones', () => {
    const names = ['targetX', 'targetY', 'verdict', 'boxX', 'boxY', 'main', 'reset', '@loop'];
    const text = names.map((name, i) => `al 00C00${i} .${name}`).join('\n');
    expect(hintOf('lampX', text)).toMatch(/^The names there are: boxX, (\w+, ){4}\w+ and 1 more\. Write one of them/);
    expect(hintOf('targetZ', text)).toMatch(/^Did you mean "targetX"\? The names there are: targetX, targetY, /);
  });
});
