import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  attributeAddress,
  attributeShift,
  nameAddress,
  newScrollState,
  nextColumn,
  nextRow,
  restoreColumn,
  restoreRow,
  writeAddress,
  writeNameTableBits,
  writeScroll,
} from './scroll.ts';

describe('address latches (hardware documentation wiki, "PPU scrolling")', () => {
  test('the worked split: $04, $3E, $7D, $EF give t = $64EF, x = 5, w = 0', () => {
    const scroll = newScrollState();
    expect(writeAddress(scroll, 0x04)).toBe(false);
    writeScroll(scroll, 0x3e);
    expect(scroll.w).toBe(0);
    writeScroll(scroll, 0x7d);
    expect(writeAddress(scroll, 0xef)).toBe(true);
    expect(scroll).toEqual({ v: 0, t: 0x64ef, x: 5, w: 0 });
  });

  test('$2000 puts bits 1..0 into t 11..10 and touches nothing else', () => {
    const scroll = { v: 0x1234, t: 0x73ff, x: 3, w: 1 };
    writeNameTableBits(scroll, 0xfe);
    expect(scroll).toEqual({ v: 0x1234, t: 0x7bff, x: 3, w: 1 });
  });

  test('the first $2006 write clears bit 14 of t', () => {
    const scroll = { v: 0, t: 0x7fff, x: 0, w: 0 };
    writeAddress(scroll, 0xff);
    expect(scroll.t).toBe(0x3fff);
  });

  test('fetch addresses for v = $64EF: name $24EF, attribute $27CB (derived)', () => {
    expect(nameAddress(0x64ef)).toBe(0x24ef);
    expect(attributeAddress(0x64ef)).toBe(0x27cb);
  });

  test.each([
    [0x0000, 0],
    [0x0002, 2],
    [0x0040, 4],
    [0x0042, 6],
  ])('v = %i takes its attribute bits from bit %i (coarse x and y, bit 1)', (v, shift) => {
    expect(attributeShift(v)).toBe(shift);
  });

  test.each([
    [0x001f, 0x0400],
    [0x041f, 0x0000],
    [0x7bfe, 0x7bff],
  ])('coarse x: %i -> %i (derived)', (before, after) => {
    expect(nextColumn(before)).toBe(after);
  });

  test.each([
    [0x73a0, 0x0800],
    [0x73e0, 0x0000],
    [0x7000, 0x0020],
    [0x6000, 0x7000],
    [0x7ba0, 0x0000],
    [0x7be0, 0x0800],
  ])('fine and coarse y: %i -> %i (derived)', (before, after) => {
    expect(nextRow(before)).toBe(after);
  });

  test('240 rows from the top lead to the same row of the table below, 480 back', () => {
    let v = 0x2005;
    for (let row = 0; row < 240; row++) v = nextRow(v);
    expect(v).toBe(0x2805);
    for (let row = 0; row < 240; row++) v = nextRow(v);
    expect(v).toBe(0x2005);
  });

  test('the two halves of t together are t, and neither takes from the other', () => {
    const word = fc.integer({ min: 0, max: 0x7fff });
    fc.assert(
      fc.property(word, word, (v, t) => {
        expect(restoreRow(restoreColumn(v, t), t)).toBe(t);
        expect(restoreColumn(v, t) & 0x7be0).toBe(v & 0x7be0);
        expect(restoreRow(v, t) & 0x041f).toBe(v & 0x041f);
      }),
      { seed: 2002, numRuns: 300 },
    );
  });
});
