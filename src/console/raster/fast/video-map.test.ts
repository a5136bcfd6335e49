import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { Nrom } from '../../cartridge/circuits/nrom.ts';
import { nextColumn, nextRow } from '../scroll.ts';
import { VideoMemory } from '../video-memory.ts';
import { columnsOn, rowsOn, VideoMap } from './video-map.ts';

const times = (step: (v: number) => number, count: number, start: number): number => {
  let v = start;
  for (let i = 0; i < count; i++) v = step(v);
  return v;
};

const address = fc.integer({ min: 0, max: 0x7fff });

describe('v moved on at once', () => {
  test('by columns, as nextColumn does it one by one', () => {
    fc.assert(
      fc.property(address, fc.nat(64), (v, count) => {
        expect(columnsOn(v, count)).toBe(times(nextColumn, count, v));
      }),
      { seed: 1, numRuns: 2000 },
    );
  });

  test('by rows, as nextRow does it one by one, from among the attributes too', () => {
    fc.assert(
      fc.property(address, fc.nat(240), (v, count) => {
        expect(rowsOn(v, count)).toBe(times(nextRow, count, v));
      }),
      { seed: 2, numRuns: 4000 },
    );
    for (let y = 240; y < 256; y++) {
      const v = ((y & 7) << 12) | ((y & 0xf8) << 2) | 0x0c15;
      for (const count of [0, 1, 15, 16, 17, 240]) expect(rowsOn(v, count)).toBe(times(nextRow, count, v));
    }
  });
});

describe('the bus as flat offsets', () => {
  const pattern = Uint8Array.from({ length: 8192 }, (_, i) => (i * 37 + (i >> 5)) & 0xff);

  test.each(['horizontal', 'vertical'] as const)('finds the bytes that the bus finds, %s mirroring', (mirroring) => {
    const nameTables = Uint8Array.from({ length: 2048 }, (_, i) => (i * 61) & 0xff);
    const slot = new Nrom({ program: new Uint8Array(16384), pattern, patternRamBytes: 0, workRamBytes: 0, mirroring });
    const memory = new VideoMemory(slot, nameTables, new Uint8Array(32));
    const map = new VideoMap(slot, nameTables);
    map.update();
    expect(map.isWhole).toBe(true);
    for (let at = 0; at < 0x2000; at += 97) expect(map.pattern[map.placeOf(at)]).toBe(memory.read(at));
    for (let v = 0; v < 0x8000; v += 331) {
      const row = 0x1000 | (memory.read(0x2000 | (v & 0xfff)) << 4) | (v >> 12);
      expect(map.opacityOfTile(v, 0x1000)).toBe(memory.read(row) | memory.read(row | 8));
    }
  });

  test('is not whole where a bank lies outside pattern memory', () => {
    const parts = { program: new Uint8Array(16384), patternRamBytes: 0, workRamBytes: 0 };
    const slot = new Nrom({ ...parts, pattern, mirroring: 'vertical' });
    const banks = [0, 1024, 2048, 3072, 4096, 5120, 6144, 8192];
    const map = new VideoMap(Object.assign(slot, { pictureBanks: () => banks }), new Uint8Array(2048));
    map.update();
    expect(map.isWhole).toBe(false);
    banks[7] = 7168;
    map.update();
    expect(map.isWhole).toBe(true);
  });
});
