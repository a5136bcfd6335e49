import { describe, expect, test } from 'vitest';
import { Nrom } from '../cartridge/circuits/nrom.ts';
import type { Slot } from '../cartridge/slot.ts';
import { VideoMemory } from './video-memory.ts';

function memoryWith(mirroring: 'horizontal' | 'vertical', pattern?: Uint8Array): VideoMemory {
  const slot = new Nrom({
    program: new Uint8Array(16384),
    pattern: pattern ?? new Uint8Array(0),
    patternRamBytes: pattern === undefined ? 8192 : 0,
    workRamBytes: 0,
    mirroring,
  });
  return new VideoMemory(slot, new Uint8Array(2048), new Uint8Array(32));
}

describe('video memory', () => {
  test.each([0x00, 0x04, 0x08, 0x0c])(
    '$3F%s and its sprite twin are one cell (hardware documentation wiki, "PPU palettes")',
    (cell) => {
      const memory = memoryWith('vertical');
      memory.write(0x3f10 + cell, 0x21);
      expect(memory.readPalette(0x3f00 + cell)).toBe(0x21);
      memory.write(0x3f00 + cell, 0x13);
      expect(memory.readPalette(0x3f10 + cell)).toBe(0x13);
    },
  );

  test('other palette cells have no twin, hold six bits and repeat every 32 addresses', () => {
    const memory = memoryWith('vertical');
    memory.write(0x3f11, 0xff);
    expect(memory.readPalette(0x3f11)).toBe(0x3f);
    expect(memory.readPalette(0x3f01)).toBe(0);
    expect(memory.readPalette(0x3ff1)).toBe(0x3f);
  });

  test.each([
    ['vertical', [0, 1, 0, 1]],
    ['horizontal', [0, 0, 1, 1]],
  ] as const)('%s mirroring (hardware documentation wiki, "Mirroring")', (mirroring, pages) => {
    const memory = memoryWith(mirroring);
    memory.write(0x2000 + 0x123, 10);
    memory.write(0x2c00 + 0x123, 11);
    expect([0x2000, 0x2400, 0x2800, 0x2c00].map((table) => memory.read(table + 0x123) - 10)).toEqual(pages);
  });

  test('$3000-$3EFF repeats the name tables, and they lie under the palette too', () => {
    const memory = memoryWith('vertical');
    memory.write(0x3005, 1);
    memory.write(0x2f07, 2);
    expect(memory.read(0x2005)).toBe(1);
    expect(memory.read(0x3f07)).toBe(2);
  });

  test('pattern RAM takes writes, pattern ROM does not', () => {
    const ram = memoryWith('vertical');
    ram.write(0x1fff, 0x5a);
    expect(ram.read(0x1fff)).toBe(0x5a);
    const rom = memoryWith('vertical', new Uint8Array(8192).fill(0x77));
    rom.write(0x1fff, 0x5a);
    expect(rom.read(0x1fff)).toBe(0x77);
  });

  test('where no pattern memory answers, the low address byte is read (wiki, "Open bus behavior")', () => {
    const bare: Slot = {
      program: new Uint8Array(0),
      work: new Uint8Array(0),
      pattern: new Uint8Array(0),
      isPatternWritable: false,
      claims: () => new Uint8Array(256),
      pageOffset: () => -1,
      read: (_cycle, _address, data) => data,
      write: () => {},
      pictureBanks: () => [0, 0, 0, 0, 0, 0, 0, 0],
      mirroring: () => [0, 0, 0, 0],
      irq: () => false,
      save: () => ({ circuit: 'none', work: new Uint8Array(0), patternRam: new Uint8Array(0), registers: {} }),
      load: () => {},
    };
    expect(new VideoMemory(bare, new Uint8Array(2048), new Uint8Array(32)).read(0x1234)).toBe(0x34);
  });
});
