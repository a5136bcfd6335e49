import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { beginEvaluation, judgeEvaluationByte, newEvaluationState, readEvaluationByte } from '../sprite-evaluation.ts';
import { SpriteLines } from './sprite-lines.ts';

/** Sprite entries that the search copies on a line, told by a tile number that is the entry's own. */
function searched(oam: Uint8Array, line: number, height: number): number[] {
  const e = newEvaluationState();
  beginEvaluation(e, 0);
  for (let read = 0; read < 96; read++) {
    readEvaluationByte(e, oam);
    judgeEvaluationByte(e, line, height);
  }
  return Array.from({ length: e.filled >> 2 }, (_, k) => e.secondary[4 * k + 1]!);
}

const oamOf = (tops: readonly number[]): Uint8Array => {
  const oam = new Uint8Array(256);
  for (let entry = 0; entry < 64; entry++) oam.set([tops[entry]!, entry, 0, 0], 4 * entry);
  return oam;
};

describe('sprites by lines', () => {
  test('the first eight of each line are those that the search copies', () => {
    const tops = fc.array(fc.oneof(fc.nat(255), fc.integer({ min: 100, max: 104 })), { minLength: 64, maxLength: 64 });
    fc.assert(
      fc.property(tops, fc.constantFrom(8, 16), (top, height) => {
        const oam = oamOf(top);
        const lines = new SpriteLines();
        lines.update(oam, height);
        for (let line = 0; line < 240; line++) {
          const inRange = top.filter((y) => line >= y && line < y + height).length;
          const found = searched(oam, line, height);
          expect(lines.counts[line]).toBe(inRange);
          expect(Array.from(lines.entries.subarray(8 * line, 8 * line + found.length))).toEqual(found);
          expect(found.length).toBe(Math.min(8, inRange));
        }
      }),
      { seed: 3, numRuns: 30 },
    );
  });

  test('the lists stand until the height changes or the memory is said to have changed', () => {
    const lines = new SpriteLines();
    const oam = oamOf(Array<number>(64).fill(0xf0));
    oam[0] = 10;
    lines.update(oam, 8);
    expect([lines.counts[17], lines.counts[18]]).toEqual([1, 0]);
    lines.update(oam, 16);
    expect([lines.counts[25], lines.counts[26]]).toEqual([1, 0]);
    oam[0] = 50;
    lines.forget();
    lines.update(oam, 16);
    expect([lines.counts[25], lines.counts[50]]).toEqual([0, 1]);
  });
});
