import fc from 'fast-check';
import { expect, test } from 'vitest';
import { PICTURE_HEIGHT, PICTURE_WIDTH } from '../units/timing.ts';
import { KeptCodes } from './kept-codes.ts';

const picture = (): Uint16Array => new Uint16Array(PICTURE_WIDTH * PICTURE_HEIGHT);
/** What they are about. The view of four codes as one number must tell all 512 codes apart. */
const anyCode = fc.integer({ min: 0, max: 511 });

test('other codes among the dots kept are always seen, those four dots away never', () => {
  const property = fc.property(
    fc.integer({ min: 0, max: PICTURE_HEIGHT - 1 }),
    fc.integer({ min: 1, max: 24 }),
    fc.integer({ min: 0, max: PICTURE_WIDTH - 1 }),
    fc.integer({ min: 1, max: 40 }),
    fc.array(fc.record({ line: fc.nat(), dot: fc.nat(), code: anyCode }), { minLength: 1, maxLength: 3 }),
    anyCode,
    (firstLine, lines, firstDot, dots, changes, ground) => {
      const lineCount = Math.min(lines, PICTURE_HEIGHT - firstLine);
      const dotCount = Math.min(dots, PICTURE_WIDTH - firstDot);
      const first = picture().fill(ground);
      const kept = new KeptCodes(firstLine, lineCount, firstDot, dotCount);
      kept.keep(first, 0, lineCount);
      expect(kept.isAsKept(first.slice(), lineCount)).toBe(true);
      const second = first.slice();
      let firstChanged = lineCount;
      for (const { line, dot, code } of changes) {
        const at = line % lineCount;
        second[(firstLine + at) * PICTURE_WIDTH + firstDot + (dot % dotCount)] = code;
        if (code !== ground) firstChanged = Math.min(firstChanged, at);
      }
      const isSame = first.every((code, i) => code === second[i]);
      expect(kept.isAsKept(second, lineCount)).toBe(isSame);
      if (!isSame) expect(kept.isAsKept(second, firstChanged + 1)).toBe(false);
      const beside = first.slice();
      for (let line = 0; line < PICTURE_HEIGHT; line++) {
        for (const dot of [firstDot - 4, firstDot + dotCount + 3])
          if (dot >= 0 && dot < PICTURE_WIDTH) beside[line * PICTURE_WIDTH + dot] = 511 - ground;
      }
      expect(kept.isAsKept(beside, lineCount)).toBe(true);
    },
  );
  fc.assert(property, { seed: 3, numRuns: 200 });
});

test('lines are kept one by one', () => {
  const first = picture().fill(0x21);
  const second = picture().fill(0x22);
  const kept = new KeptCodes(100, 3, 5, 6);
  kept.keep(first, 0, 3);
  kept.keep(second, 1, 1);
  expect(kept.isAsKept(first, 1)).toBe(true);
  expect(kept.isAsKept(first, 2)).toBe(false);
  second.fill(0x21, 100 * PICTURE_WIDTH, 101 * PICTURE_WIDTH);
  expect(kept.isAsKept(second, 2)).toBe(true);
});
