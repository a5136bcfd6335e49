import { describe, expect, test } from 'vitest';
import {
  beginEvaluation,
  clearSecondaryByte,
  type EvaluationState,
  judgeEvaluationByte,
  newEvaluationState,
  readEvaluationByte,
} from './sprite-evaluation.ts';

/** Dots 1..256 of a line. Returns the state and the dots at which a ninth sprite was found. */
function search(oam: Uint8Array, line: number, height = 8, start = 0): { e: EvaluationState; overflowDots: number[] } {
  const e = newEvaluationState();
  e.secondary.fill(0x11);
  for (let dot = 2; dot <= 64; dot += 2) clearSecondaryByte(e, dot);
  beginEvaluation(e, start);
  const overflowDots: number[] = [];
  for (let dot = 65; dot <= 256; dot += 2) {
    readEvaluationByte(e, oam);
    if (judgeEvaluationByte(e, line, height)) overflowDots.push(dot + 1);
  }
  return { e, overflowDots };
}

/** Entries n hold [y, n, 0, x = n]; all others are out of every range. */
function oamWith(yOf: Record<number, number>): Uint8Array {
  const oam = new Uint8Array(256).fill(0xf8);
  for (const [n, y] of Object.entries(yOf)) oam.set([y, Number(n), 0, Number(n)], Number(n) * 4);
  return oam;
}

describe('sprite evaluation (hardware documentation wiki, "PPU sprite evaluation")', () => {
  test('copies whole entries in order; the first empty place holds the last Y, then $FF', () => {
    const oam = oamWith({ 3: 10, 40: 17 });
    oam[63 * 4] = 0xee;
    const { e } = search(oam, 17);
    expect(e.filled).toBe(8);
    expect(Array.from(e.secondary.subarray(0, 10))).toEqual([10, 3, 0, 3, 17, 40, 0, 40, 0xee, 0xff]);
  });

  test.each([
    [8, 9, false],
    [8, 10, true],
    [8, 17, true],
    [8, 18, false],
    [16, 25, true],
    [16, 26, false],
  ])('a sprite of %i lines at Y 10 is found on line %i: %s', (height, line, isFound) => {
    expect(search(oamWith({ 0: 10 }), line, height).e.filled).toBe(isFound ? 4 : 0);
  });

  test('Y of $EF and more is never shown: it is in range of line 239 at the earliest', () => {
    for (let line = 0; line < 239; line++) expect(search(oamWith({ 0: 0xef }), line, 16).e.filled).toBe(0);
  });

  test('entry 0 is known as such only when it is the first judged and in range', () => {
    expect(search(oamWith({ 0: 10 }), 12).e.isZeroFound).toBe(true);
    expect(search(oamWith({ 1: 10 }), 12).e.isZeroFound).toBe(false);
    expect(search(oamWith({ 1: 10 }), 12, 8, 4).e.isZeroFound).toBe(true);
  });

  test('nine sprites: the ninth is found at dot 130 at the earliest (overflow test program)', () => {
    const nine = Object.fromEntries(Array.from({ length: 9 }, (_, n) => [n, 20]));
    const { e, overflowDots } = search(oamWith(nine), 20);
    expect(e.filled).toBe(32);
    expect(overflowDots[0]).toBe(130);
  });

  test('eight sprites are no overflow, wherever they stand', () => {
    const eight = Object.fromEntries(Array.from({ length: 8 }, (_, n) => [n * 9, 20]));
    expect(search(oamWith(eight), 20).overflowDots).toEqual([]);
  });

  test('full, the search steps diagonally: a ninth one entry later is missed, a tile number in its place found', () => {
    const eight = Object.fromEntries(Array.from({ length: 8 }, (_, n) => [n, 20]));
    const missed = oamWith({ ...eight, 9: 20 });
    missed[9 * 4 + 1] = 0xf8;
    missed[9 * 4 + 3] = 0xf8;
    expect(search(missed, 20).overflowDots).toEqual([]);
    const found = oamWith(eight);
    found[9 * 4 + 1] = 20;
    expect(search(found, 20).overflowDots).toEqual([132]);
  });

  test('what is written after the search is over stays out of the secondary memory', () => {
    const { e } = search(oamWith({ 63: 20 }), 20);
    expect(e.isDone).toBe(true);
    expect(Array.from(e.secondary)).toEqual([20, 63, 0, 63, ...Array.from({ length: 28 }, () => 0xff)]);
  });
});
