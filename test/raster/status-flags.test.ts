import { describe, expect, test } from 'vitest';
import type { TimingId } from '../../src/units/timing.ts';
import { RasterDriver } from './raster-driver.ts';

const TIMING_IDS: readonly TimingId[] = ['60hz', '50hz', '50hz-clone'];

/** In frame 1, stopped so many dots after the flag's dot (before it, if negative); NMI enabled. */
function atFlag(dots: number, timing: TimingId = '60hz'): RasterDriver {
  const driver = new RasterDriver({ timing }).warmUp().write(0, 0x80);
  return driver.goTo(driver.timing.vblankLine - 1, 341 + 1 + dots - 10).goOn(10);
}

const flag = (value: number): string => ((value & 0x80) !== 0 ? 'V' : '-');

describe.each(TIMING_IDS)(
  'reading $2002 around the vblank flag, %s (hardware documentation wiki, "PPU frame timing"; 50 Hz assumed alike)',
  (timing) => {
    test('two dots before: 0, and the flag still comes', () => {
      const driver = atFlag(-2, timing);
      expect(flag(driver.read(2))).toBe('-');
      expect(driver.goOn(2).raster.isNmiLineAsserted).toBe(true);
      expect(flag(driver.read(2))).toBe('V');
    });

    test('one dot before: 0, no flag and no NMI in this frame; the vblank event and the next frame are untouched', () => {
      const driver = atFlag(-1, timing);
      expect(flag(driver.read(2))).toBe('-');
      driver.goTo(driver.timing.preRenderLine, 0);
      expect(flag(driver.read(2))).toBe('-');
      expect(driver.ticksOf('nmi-raised')).toEqual([]);
      expect(driver.ticksOf('vblank')).toHaveLength(2);
      driver.goToNextFrame().goTo(driver.timing.vblankLine, 1);
      expect(driver.raster.isNmiLineAsserted).toBe(true);
    });

    test.each([0, 1, 2, 3])('%i dots after: 1, cleared by the read, and the line falls with it', (dots) => {
      const driver = atFlag(dots, timing);
      expect(driver.raster.isNmiLineAsserted).toBe(true);
      expect(flag(driver.read(2))).toBe('V');
      expect(driver.raster.isNmiLineAsserted).toBe(false);
      expect(flag(driver.read(2))).toBe('-');
      expect(driver.ticksOf('nmi-raised')).toHaveLength(1);
    });
  },
);

describe('published step tables, one dot later each row', () => {
  test('set time: - V x4; - -; V - x4 (vblank test program 02)', () => {
    const rows = Array.from({ length: 9 }, (_, row) => {
      const driver = atFlag(row - 5);
      return flag(driver.read(2)) + flag(driver.goOn(12).read(2));
    });
    expect(rows).toEqual(['-V', '-V', '-V', '-V', '--', 'V-', 'V-', 'V-', 'V-']);
  });

  test('clear time: V x6, - x3 (vblank test program 03)', () => {
    const rows = Array.from({ length: 9 }, (_, row) => flag(new RasterDriver().goTo(260, 336 + row).read(2)));
    expect(rows.join('')).toBe('VVVVVV---');
  });

  test('suppression: - N x4; - -; V - x2; V N x3, lines sampled in the middle of a cycle (vblank test program 06)', () => {
    const rows = Array.from({ length: 10 }, (_, row) => {
      const driver = new RasterDriver().warmUp().write(0, 0x80);
      const cycle = 12;
      const readTick = driver.frameTick + (241 * 341 + 1 + row - 5) * 4;
      let wasNmiSeen = false;
      let value = 0;
      for (let start = readTick - 4 * cycle; start <= readTick + 4 * cycle; start += cycle) {
        driver.raster.runTo(start);
        if (start === readTick) value = driver.raster.readRegister(2, start);
        driver.raster.runTo(start + cycle / 2);
        wasNmiSeen ||= driver.raster.isNmiLineAsserted;
      }
      return flag(value) + (wasNmiSeen ? 'N' : '-');
    });
    expect(rows).toEqual(['-N', '-N', '-N', '-N', '--', 'V-', 'V-', 'VN', 'VN', 'VN']);
  });
});

describe('NMI line', () => {
  test('is the flag and the enable bit; raised at the flag dot, and again by enabling while the flag is up', () => {
    const driver = atFlag(0);
    const setTick = driver.tick;
    expect(driver.raster.isNmiLineAsserted).toBe(true);
    driver.write(0, 0x00);
    expect(driver.raster.isNmiLineAsserted).toBe(false);
    const enableTick = driver.tick;
    driver.write(0, 0x80).write(0, 0x80);
    expect(driver.raster.isNmiLineAsserted).toBe(true);
    expect(driver.ticksOf('nmi-raised')).toEqual([setTick, enableTick]);
  });

  test('not enabled: the flag comes without an NMI', () => {
    const driver = new RasterDriver().goTo(241, 20);
    expect(driver.raster.isNmiLineAsserted).toBe(false);
    expect(driver.ticksOf('nmi-raised')).toEqual([]);
    expect(flag(driver.read(2))).toBe('V');
  });

  test('a write is listed before the NMI that it raises', () => {
    const driver = atFlag(5).write(0, 0x00);
    driver.events.length = 0;
    driver.write(0, 0x80);
    expect(driver.events.map((event) => event.kind)).toEqual(['register-write', 'nmi-raised']);
  });
});

describe('sprite 0 hit', () => {
  /** Tile 0 all opaque, tile 1 empty; background all tile 0; sprite 0 as given; rendering on from the next frame. */
  function withSprite(y: number, x: number, mask = 0x1e, attribute = 0, tile = 0): RasterDriver {
    const driver = new RasterDriver().warmUp().fill(0x0000, new Uint8Array(16).fill(0xff));
    driver.fillOam(new Uint8Array(256).fill(0xff).map((byte, i) => [y, tile, attribute, x][i] ?? byte));
    return driver.fill(0x2000, [0]).write(0, 0).write(5, 0, 0).goTo(241, 10).write(1, mask).goToNextFrame();
  }
  const isHit = (driver: RasterDriver) => (driver.read(2) & 0x40) !== 0;

  test('Y 0, X 0: (1,2), 7502 dots after (241,1) over a short frame (sprite-0 test program)', () => {
    const driver = withSprite(0, 0).goToNextFrame();
    const flagTick = driver.ticksOf('vblank').at(-1)!;
    const starts = driver.ticksOf('frame-start');
    expect(starts.at(-2)! - starts.at(-3)!).toBe(357_364);
    const shortTick = driver.ticksOf('vblank').at(-2)!;
    expect((starts.at(-2)! + (341 + 2) * 4 - shortTick) / 4).toBe(7502);
    expect((driver.frameTick + (341 + 2) * 4 - flagTick) / 4).toBe(7503);
    expect(isHit(driver.goTo(1, 1))).toBe(false);
    expect(isHit(driver.goTo(1, 2))).toBe(true);
  });

  test.each([
    ['plain', 100, 50, 0x1e, 0, true],
    ['behind the background: priority plays no part', 100, 50, 0x1e, 0x20, true],
    ['x = 254: the pixel counts', 100, 254, 0x1e, 0, true],
    ['x = 255: the last pixel never counts', 100, 255, 0x1e, 0, false],
    ['Y 238: last line of the picture', 238, 50, 0x1e, 0, true],
    ['Y 239: below the picture', 239, 50, 0x1e, 0, false],
    ['sprites off', 100, 50, 0x0e, 0, false],
    ['background off', 100, 50, 0x16, 0, false],
    ['wholly in the left column, sprites hidden there', 100, 0, 0x1a, 0, false],
    ['wholly in the left column, background hidden there', 100, 0, 0x1c, 0, false],
    ['one pixel past the left column, both hidden', 100, 1, 0x18, 0, true],
  ])('%s', (_, y, x, mask, attribute, isExpected) => {
    expect(isHit(withSprite(y, x, mask, attribute).goTo(240, 0))).toBe(isExpected);
  });

  test('a transparent sprite does not hit', () => {
    expect(isHit(withSprite(100, 50, 0x1e, 0, 1).goTo(240, 0))).toBe(false);
  });

  test('the hit of pixel x comes at dot x + 2', () => {
    const driver = withSprite(100, 50);
    expect(isHit(driver.goTo(101, 51))).toBe(false);
    expect(isHit(driver.goTo(101, 52))).toBe(true);
  });

  test('another sprite in the first place does not count, unless the search began with it', () => {
    const driver = withSprite(0xff, 0);
    driver.goTo(241, 0).fillOam([0xff, 0, 0, 0, 100, 0, 0, 50]);
    expect(isHit(driver.goToNextFrame().goTo(240, 0))).toBe(false);
    driver.goToNextFrame().goTo(100, 20).write(3, 4);
    expect(isHit(driver.goTo(240, 0))).toBe(true);
  });
});

describe('sprite overflow', () => {
  function withSprites(count: number): RasterDriver {
    const oam = new Uint8Array(256).map((_, i) => (i % 4 === 0 && i < 4 * count ? 0 : 0xff));
    const driver = new RasterDriver().warmUp().goToNextFrame().fillOam(oam).goTo(241, 10).write(1, 0x18);
    return driver.goToNextFrame();
  }
  const isOver = (driver: RasterDriver) => (driver.read(2) & 0x20) !== 0;

  test('sprites 0..8 in range of line 0: (0,130), 7290 dots after (241,1) without a skip (overflow test program)', () => {
    const driver = withSprites(9);
    expect((driver.frameTick + 130 * 4 - driver.ticksOf('vblank').at(-1)!) / 4).toBe(7290);
    expect(isOver(driver.goTo(0, 129))).toBe(false);
    expect(isOver(driver.goTo(0, 130))).toBe(true);
  });

  test('eight sprites on a line: no overflow', () => {
    expect(isOver(withSprites(8).goTo(240, 0))).toBe(false);
  });

  test('rendering off: no search, no overflow', () => {
    expect(isOver(withSprites(9).write(1, 0).goToNextFrame().goTo(240, 0))).toBe(false);
  });
});
