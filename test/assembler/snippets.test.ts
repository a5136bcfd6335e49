import { readFileSync } from 'node:fs';
import { beforeAll, expect, it } from 'vitest';
import { describeWith } from '../needs.ts';
import { assembleOutside, assembleText, difference, type OutsideResult } from './outside.ts';

/** Names that the snippets use: zero page, memory and numbers, some defined above, some below. */
const ABOVE = ` .setcpu "6502X"
A8=$34
A16=$1234
 .zeropage
zp: .res 4
 .bss
ab: .res 4
 .code
`;
const BELOW = `
fwd=$20
fz = zp
 .zeropage
zl: .res 1
 .segment "HEADER"
 .res 1,$4E
 .segment "VECTORS"
 .res 6
 .segment "PATTERNS"
 .res 1
`;

interface Snippet {
  readonly text: string;
  /** ca65 takes it, our assembler refuses it by its name. */
  readonly isLeftOut: boolean;
  readonly source: string;
}

const snippets: Snippet[] = readFileSync('test/assembler/snippets.txt', 'utf8')
  .split('\n')
  .filter((line) => line !== '' && !line.startsWith('# '))
  .map((line) => {
    const isLeftOut = line.startsWith('-');
    const text = isLeftOut ? line.slice(1) : line;
    const written = text.replace(/\\n/g, '\n').replace(/\\t/g, '\t').replace(/\\\\/g, '\\');
    return { text, isLeftOut, source: ABOVE + written + BELOW };
  });

describeWith(['ca65', 'ld65'], `${snippets.length} pieces of source against ca65 and ld65`, () => {
  let outside: OutsideResult[] = [];

  beforeAll(() => {
    outside = assembleOutside(snippets.map(({ source }) => source));
  }, 120_000);

  it('what both take makes the same image', () => {
    const wrong = snippets.flatMap(({ text, source }, i) => {
      const theirs = outside[i]!.image;
      const ours = assembleText(source).image;
      const found = theirs === null || ours === null ? '' : difference(theirs, ours);
      return found === '' ? [] : [`${text}  ${found}`];
    });
    expect(wrong).toEqual([]);
  });

  it('what ca65 or ld65 refuses is refused here', () => {
    const wrong = snippets.filter(({ source }, i) => outside[i]!.image === null && assembleText(source).image !== null);
    expect(wrong.map(({ text }) => text)).toEqual([]);
  });

  it('what ca65 and ld65 take is taken here, or marked in the list', () => {
    const wrong = snippets.flatMap(({ text, source, isLeftOut }, i) => {
      if (outside[i]!.image === null || isLeftOut) return [];
      const { errors } = assembleText(source);
      return errors.length === 0 ? [] : [`${text}  ${errors.map(({ message }) => message).join('; ')}`];
    });
    expect(wrong).toEqual([]);
  });

  it('what is marked in the list is taken by ca65 and refused here, with a cure', () => {
    const wrong = snippets.flatMap(({ text, source, isLeftOut }, i) => {
      if (!isLeftOut) return [];
      const { errors } = assembleText(source);
      const isRefused = errors.length > 0 && errors.every(({ cure }) => cure.length > 10);
      return isRefused && outside[i]!.image !== null ? [] : [`${text}  ${outside[i]!.messages}`];
    });
    expect(wrong).toEqual([]);
  });
});
