import { describe, expect, test } from 'vitest';
import { Nrom, type NromParts } from './nrom.ts';

const parts = (change: Partial<NromParts> = {}): NromParts => ({
  program: Uint8Array.from({ length: 16384 }, (_, i) => i >> 8),
  pattern: new Uint8Array(8192).fill(0x3c),
  patternRamBytes: 0,
  workRamBytes: 0,
  mirroring: 'vertical',
  ...change,
});

describe('NROM (hardware documentation wiki, "NROM")', () => {
  test('16 KiB are shown twice, 32 KiB once', () => {
    const small = new Nrom(parts());
    expect([0x80, 0xbf, 0xc0, 0xff].map((page) => small.pageOffset(page))).toEqual([0, 0x3f00, 0, 0x3f00]);
    const large = new Nrom(parts({ program: new Uint8Array(32768) }));
    expect([0x80, 0xbf, 0xc0, 0xff].map((page) => large.pageOffset(page))).toEqual([0, 0x3f00, 0x4000, 0x7f00]);
  });

  test('work RAM repeats within $6000-$7FFF; without it, and below, nothing answers', () => {
    const none = new Nrom(parts());
    expect([0x40, 0x5f, 0x60, 0x7f].map((page) => none.pageOffset(page))).toEqual([-1, -1, -1, -1]);
    const two = new Nrom(parts({ workRamBytes: 2048 }));
    expect([0x5f, 0x60, 0x67, 0x68, 0x7f].map((page) => two.pageOffset(page))).toEqual([-1, 0, 0x700, 0, 0x700]);
  });

  test('claims no page, keeps the bus byte, asserts no interrupt, ignores writes', () => {
    const slot = new Nrom(parts());
    const before = slot.program.slice();
    slot.write(0, 0x8000, 0xff);
    expect(slot.claims().every((flag) => flag === 0)).toBe(true);
    expect(slot.read(0, 0x5000, 0x50)).toBe(0x50);
    expect(slot.irq(0)).toBe(false);
    expect(slot.program).toEqual(before);
  });

  test('the eight pattern banks lie in a row', () => {
    expect(new Nrom(parts()).pictureBanks()).toEqual([0, 1024, 2048, 3072, 4096, 5120, 6144, 7168]);
  });

  test('saves and loads work RAM and pattern RAM; ROM is not in the state', () => {
    const ram = parts({ pattern: new Uint8Array(0), patternRamBytes: 8192, workRamBytes: 8192 });
    const slot = new Nrom(ram);
    slot.work.fill(1);
    slot.pattern.fill(2);
    const saved = slot.save();
    const other = new Nrom(ram);
    other.load(saved);
    slot.work.fill(9);
    expect([other.work[8191], other.pattern[8191]]).toEqual([1, 2]);
    expect(new Nrom(parts()).save().patternRam.length).toBe(0);
  });

  test('a state of another circuit or size is refused', () => {
    const slot = new Nrom(parts({ workRamBytes: 8192 }));
    const saved = slot.save();
    for (const bad of [
      { ...saved, circuit: 'other' },
      { ...saved, work: new Uint8Array(1) },
      { ...saved, patternRam: new Uint8Array(1) },
    ]) {
      expect(() => slot.load(bad)).toThrow(expect.objectContaining({ code: 'STATE_FIELD' }));
    }
  });

  test.each([
    ['program', { program: new Uint8Array(24576) }],
    ['pattern ROM', { pattern: new Uint8Array(4096) }],
    ['pattern ROM', { patternRamBytes: 8192 }],
    ['pattern RAM', { pattern: new Uint8Array(0), patternRamBytes: 32768 }],
    ['work', { workRamBytes: 64 }],
  ])('%s memory of a size that the circuit does not have is refused', (memory, change) => {
    expect(() => new Nrom(parts(change))).toThrow(
      expect.objectContaining({ code: 'CIRCUIT_MEMORY', details: expect.objectContaining({ memory }) }),
    );
  });
});
