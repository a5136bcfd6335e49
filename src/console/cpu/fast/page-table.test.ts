import { describe, expect, it } from 'vitest';
import { PageTable } from './page-table.ts';

const PAGES = 0x100;

/** 64 KiB, each page at its own address. */
function plainTable(): PageTable {
  const table = new PageTable(PAGES * 0x100);
  for (let page = 0; page < PAGES; page++) table.map(page, page * 0x100, page * 0x100);
  return table;
}

describe('page table of the fast processor', () => {
  it('begins with every page claimed', () => {
    const table = new PageTable(0x10000);
    expect([...table.readBase, ...table.writeBase].every((offset) => offset === -1)).toBe(true);
    expect(table.isLoopPossible).toBe(false);
    expect(table.placeOfOpcode(0x8000)).toBe(-1);
  });

  it('leaves instructions at the end of a stretch of memory, and the stack, to the reference processor', () => {
    const table = plainTable();
    expect(table.placeOfOpcode(0x80ff)).toBe(0x80ff);
    table.map(0x81, 0x9000, 0x9000);
    expect([0x80fc, 0x80fd, 0x8100].map((pc) => table.placeOfOpcode(pc))).toEqual([0x80fc, -1, 0x9000]);
    expect([0xfffc, 0xfffd].map((pc) => table.placeOfOpcode(pc))).toEqual([0xfffc, -1]);
    expect([0x00fc, 0x00fd, 0x0100, 0x01ff].map((pc) => table.placeOfOpcode(pc))).toEqual([0xfc, -1, -1, -1]);
  });

  it('does the same in a mirror of the stack', () => {
    const table = plainTable();
    table.map(0x08, 0x000, 0x000);
    table.map(0x09, 0x100, 0x100);
    expect([0x08fc, 0x08fd, 0x0900].map((pc) => table.placeOfOpcode(pc))).toEqual([0xfc, -1, -1]);
  });

  it('follows a bank switch in the page and in the one before', () => {
    const table = plainTable();
    expect(table.fetchEnd[0x80]).toBe(0x8100);
    table.map(0x81, -1, -1);
    expect(table.fetchEnd[0x80]).toBe(0x80fd);
    expect(table.fetchBase[0x81]).toBe(-1);
    table.map(0x81, 0x8100, 0x8100);
    expect(table.fetchEnd[0x80]).toBe(0x8100);
  });

  it('a watched page keeps its place, but each fetch is looked at', () => {
    const table = plainTable();
    table.watchFetches(0x90, true);
    expect([table.fetchEnd[0x90], table.placeOfOpcode(0x9012)]).toEqual([-1, 0x9012]);
    table.watchFetches(0x90, false);
    expect(table.fetchEnd[0x90]).toBe(0x9100);
  });

  it('zero page and stack: the loop is possible with claimed zero page writes, with no other claim', () => {
    const table = plainTable();
    table.map(0, 0, -1);
    expect(table.isLoopPossible).toBe(true);
    table.map(0, -1, 0);
    expect(table.isLoopPossible).toBe(false);
    table.map(0, 0, 0);
    table.map(1, 0x100, -1);
    expect(table.isLoopPossible).toBe(false);
  });

  it.each([
    [5, 0x80, 'read offset of page 5 is 128'],
    [5, 0x10000, 'read offset of page 5 is 65536'],
    [5, -2, 'read offset of page 5 is -2'],
    [0, 0x200, 'read offset of page 0 is 512, expected -1 or 0'],
    [1, 0, 'read offset of page 1 is 0, expected -1 or 256'],
  ])('page %i cannot lie at %i', (page, offset, message) => {
    expect(() => plainTable().map(page, offset, -1)).toThrow(message);
  });
});
