import { describe, expect, test } from 'vitest';
import { ADDRESS_LATENCY_DOTS } from '../../src/references/console-constants.ts';
import { RasterDriver } from './raster-driver.ts';

const ready = (): RasterDriver => new RasterDriver().warmUp();
const scroll = (driver: RasterDriver) => driver.raster.save().scroll;

/** Rendering on, in the frame after next, at (line, dot). */
const rendering = (driver: RasterDriver, line: number, dot: number): RasterDriver =>
  driver.goTo(241, 10).write(1, 0x18).goToNextFrame().goTo(line, dot);

describe('data pins (open-bus test program; hardware documentation wiki, "Open bus behavior")', () => {
  test('$A5 written to $2000: $2000 reads $A5, $2002 has $05 in its low bits', () => {
    const driver = ready().write(0, 0xa5);
    expect(driver.read(0)).toBe(0xa5);
    expect(driver.read(2) & 0x1f).toBe(0x05);
  });

  test.each([0, 1, 2, 3, 4, 5, 6, 7])('a write to register %i sets all eight pins', (register) => {
    const driver = ready().write(register, 0x5a);
    expect(driver.read(5)).toBe(0x5a);
  });

  test('$2002 refreshes bits 7..5 only', () => {
    const driver = ready().write(3, 0xff);
    expect(driver.read(2)).toBe(0x1f);
    expect(driver.read(0)).toBe(0x1f);
  });

  test('a palette read leaves bits 7..6 to the pins and refreshes the rest', () => {
    const driver = ready().fill(0x3f01, [0x2a]).write(6, 0x3f, 0x01).write(3, 0xff);
    expect(driver.read(7)).toBe(0xea);
    expect(driver.read(0)).toBe(0xea);
  });

  test('$2004 and plain $2007 reads drive all pins', () => {
    const driver = ready().fillOam([0x33]).write(3, 0);
    expect(driver.read(4)).toBe(0x33);
    expect(driver.read(0)).toBe(0x33);
    driver.fill(0x2000, [0x44]).write(6, 0x20, 0x00);
    driver.read(7);
    expect(driver.read(7)).toBe(0x44);
    expect(driver.read(1)).toBe(0x44);
  });
});

describe('$2007 (hardware documentation wiki, "PPU registers")', () => {
  test('a read returns the buffer and fills it from v', () => {
    const driver = ready().fill(0x2010, [1, 2, 3]).write(6, 0x20, 0x10);
    driver.read(7);
    expect([driver.read(7), driver.read(7), driver.read(7)]).toEqual([1, 2, 3]);
  });

  test('a read at $3F00 returns the palette at once and buffers the byte of $2F00 beneath', () => {
    const driver = ready().fill(0x2f00, [0x77]).fill(0x3f00, [0x15]).write(6, 0x3f, 0x00);
    expect(driver.read(7) & 0x3f).toBe(0x15);
    driver.write(6, 0x20, 0x00);
    expect(driver.read(7)).toBe(0x77);
  });

  test('palette reads obey grey; the stored colour does not change', () => {
    const driver = ready().fill(0x3f00, [0x2c]).write(1, 0x01).write(6, 0x3f, 0x00);
    expect(driver.read(7) & 0x3f).toBe(0x20);
    driver.write(1, 0x00).write(6, 0x3f, 0x00);
    expect(driver.read(7) & 0x3f).toBe(0x2c);
  });

  test('v moves on by 1, or by 32 with bit 2 of $2000', () => {
    const driver = ready().fill(0x2000, [1]);
    expect(scroll(driver).v).toBe(0x2001);
    driver.write(0, 0x04);
    driver.read(7);
    expect(scroll(driver).v).toBe(0x2021);
    driver.write(6, 0x7f, 0xff).read(7);
    expect(scroll(driver).v).toBe(0x401f);
  });

  test('while rendering both reads and writes move v on by a column and a row at once (wiki, "PPU scrolling")', () => {
    const driver = rendering(ready().write(5, 0, 0), 20, 100);
    const { v } = scroll(driver);
    driver.raster.readRegister(7, driver.tick);
    expect(scroll(driver).v).toBe(v + 0x1001);
    driver.raster.writeRegister(7, 0, driver.tick);
    expect(scroll(driver).v).toBe(v + 0x2002);
  });

  test('in vblank with rendering on it moves on as ever', () => {
    const driver = rendering(ready(), 242, 0).write(6, 0x20, 0x00);
    driver.read(7);
    expect(scroll(driver).v).toBe(0x2001);
  });
});

describe('address writes', () => {
  test('v follows t some dots after the second $2006 write', () => {
    const driver = ready();
    driver.raster.writeRegister(6, 0x21, driver.tick);
    driver.raster.writeRegister(6, 0x08, driver.tick);
    expect(scroll(driver.goOn(ADDRESS_LATENCY_DOTS - 1)).v).toBe(0);
    expect(scroll(driver.goOn(1)).v).toBe(0x2108);
  });

  test('the worked split leaves v = t = $64EF, x = 5, w = 0 (wiki, "PPU scrolling")', () => {
    const driver = ready().write(6, 0x04).write(5, 0x3e, 0x7d).write(6, 0xef);
    expect(scroll(driver)).toEqual({ v: 0x64ef, t: 0x64ef, x: 5, w: 0 });
  });

  test('reading $2002 makes the next write the first', () => {
    const driver = ready().write(5, 0xff);
    expect(scroll(driver).w).toBe(1);
    driver.read(2);
    expect(scroll(driver).w).toBe(0);
  });
});

describe('v along a rendered line (hardware documentation wiki, "PPU scrolling")', () => {
  test.each([
    [0, 0x2022],
    [7, 0x2022],
    [8, 0x2023],
    [239, 0x203f],
    [240, 0x2420],
    [255, 0x2421],
    [256, 0x3422],
    [257, 0x3020],
    [327, 0x3020],
    [328, 0x3021],
    [336, 0x3022],
    [340, 0x3022],
  ])('line 10, dot %i: %i', (dot, v) => {
    expect(scroll(rendering(ready().write(0, 0).write(5, 0, 0), 10, dot)).v).toBe(v);
  });

  test('the pre-render line takes the vertical half of t in dots 280..304', () => {
    const driver = rendering(ready().write(0, 0).write(5, 0, 0), 250, 0).write(5, 0, 100);
    const vertical = (dot: number) => scroll(driver.goTo(261, dot)).v & 0x7be0;
    expect(vertical(279)).not.toBe(0x4180);
    expect(vertical(280)).toBe(0x4180);
    driver.raster.writeRegister(0, 2, driver.tick);
    expect(vertical(281)).toBe(0x4980);
    expect(vertical(303)).toBe(0x4980);
    driver.raster.writeRegister(0, 0, driver.tick);
    expect(vertical(304)).toBe(0x4180);
    driver.raster.writeRegister(0, 2, driver.tick);
    expect(vertical(330)).toBe(0x4180);
  });

  test('with rendering off v stands still', () => {
    const driver = ready().write(6, 0x21, 0x08);
    expect(scroll(driver.goTo(261, 320)).v).toBe(0x2108);
  });
});

describe('sprite memory (hardware documentation wiki, "PPU OAM", "PPU sprite evaluation")', () => {
  test('byte 2 written $FF reads $E3; the others keep all bits', () => {
    const driver = ready().fillOam([0xff, 0xff, 0xff, 0xff]);
    const bytes = [0, 1, 2, 3].map((address) => driver.write(3, address).read(4));
    expect(bytes).toEqual([0xff, 0xff, 0xe3, 0xff]);
  });

  test('writes move the address on and wrap; reads do not', () => {
    const driver = ready().write(3, 0xff).write(4, 1, 2);
    expect(driver.raster.save().oam[255]).toBe(1);
    expect(driver.read(4)).toBe(driver.read(4));
    expect(driver.raster.save()).toMatchObject({ registers: { oamAddress: 1 } });
    expect(driver.raster.save().oam[0]).toBe(2);
  });

  test('a byte of sprite DMA is a write that the trace does not list', () => {
    const driver = ready().write(3, 4);
    driver.events.length = 0;
    driver.raster.writeOam(0x99);
    expect(driver.raster.save().oam[4]).toBe(0x99);
    expect(driver.read(0)).toBe(0x99);
    expect(driver.events).toEqual([]);
  });

  test('while rendering a write leaves the memory alone and moves the address on by 4', () => {
    const driver = rendering(ready().fillOam(new Uint8Array(256).fill(0xff)), 20, 100);
    const before = driver.raster.save().registers.oamAddress;
    driver.raster.writeRegister(4, 0x12, driver.tick);
    expect(driver.raster.save().registers.oamAddress).toBe(before + 4);
    expect(driver.raster.save().oam.includes(0x12)).toBe(false);
  });

  test('dots 257..320 hold the address at 0, on the pre-render line too', () => {
    for (const line of [20, 261]) {
      const driver = rendering(ready(), line, 100).write(3, 0x40);
      expect(driver.raster.save().registers.oamAddress).toBe(0x40);
      expect(driver.goTo(line, 257).raster.save().registers.oamAddress).toBe(0);
    }
  });

  test('the search starts where the address stands at dot 65', () => {
    const oam = new Uint8Array(256).fill(0xff).fill(20, 0, 4).fill(30, 4, 8);
    const firstFound = (dot: number) => {
      const driver = rendering(ready().fillOam(oam), 30, dot).write(3, 4);
      return driver.goTo(30, 256).raster.save().evaluation.isZeroFound;
    };
    expect([64, 65].map(firstFound)).toEqual([true, false]);
  });

  test('reads while rendering show the search: $FF while clearing, then entries, then the line found', () => {
    const oam = Uint8Array.from({ length: 256 }, (_, i) => (i % 4 === 0 ? 0xf0 : i));
    oam.set([20, 0x31, 0x02, 0x77]);
    const driver = rendering(ready().fillOam(oam), 20, 10);
    const at = (dot: number) => driver.goTo(20, dot).read(4);
    expect(at(64)).toBe(0xff);
    expect([65, 67, 69, 71, 73].map(at)).toEqual([20, 0x31, 0x02, 0x77, 0xf0]);
    expect([257, 258, 259, 260, 264].map(at)).toEqual([20, 0x31, 0x02, 0x77, 0x77]);
    expect([265, 266].map(at)).toEqual([0xf0, 0xff]);
    expect(at(330)).toBe(20);
  });
});

describe('trace', () => {
  test('lists every register write with its tick, address and value', () => {
    const driver = ready();
    driver.events.length = 0;
    const { tick } = driver;
    for (let register = 0; register < 8; register++) driver.raster.writeRegister(register, register, tick + register);
    expect(driver.events).toEqual(
      Array.from({ length: 8 }, (_, n) => ({ kind: 'register-write', tick: tick + n, address: 0x2000 + n, value: n })),
    );
  });
});
