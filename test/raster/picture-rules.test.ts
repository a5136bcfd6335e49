import { describe, expect, test } from 'vitest';
import { COLOUR_BITS_LATENCY_DOTS, RENDERING_BITS_LATENCY_DOTS } from '../../src/references/console-constants.ts';
import { expectedPicture } from './expected-picture.ts';
import { RasterDriver } from './raster-driver.ts';
import { randomScreen, showScreen } from './screen.ts';

/** Tile 0 empty, 1 one plane full (pattern 1), 2 the other (pattern 2), 3 only its top left dot, 4 only its top row. */
const TILES = new Uint8Array(5 * 16);
TILES.fill(0xff, 16, 24).fill(0xff, 40, 48);
TILES[48] = 0x80;
TILES[64] = 0xff;

/** Palette cell n holds colour n, so that codes tell cells; cells of one memory hold the lower number. */
const CELLS = Uint8Array.from({ length: 32 }, (_, cell) => (cell % 4 === 0 ? cell % 16 : cell));

interface Scene {
  sprites?: number[][];
  /** Tile of every place of the first name table. */
  tile?: number;
  mask?: number;
  control?: number;
}

/** A scene at (0,0) of a frame that shows it. */
function scene({ sprites = [], tile = 0, mask = 0x1e, control = 0 }: Scene): RasterDriver {
  const oam = new Uint8Array(256).fill(0xff);
  sprites.forEach((sprite, n) => {
    oam.set(sprite, n * 4);
  });
  const driver = new RasterDriver().warmUp().fill(0, TILES).fill(0x3f00, CELLS).fillOam(oam);
  driver.fill(0x2000, new Uint8Array(960).fill(tile)).goTo(241, 10);
  return driver.write(0, control).write(5, 0, 0).write(1, mask).goToNextFrame();
}

/** Codes of a stretch of a line. */
const row = (driver: RasterDriver, y: number, from: number, to: number): number[] =>
  Array.from(driver.goTo(240, 0).codes.subarray(y * 256 + from, y * 256 + to));

const run = (length: number, code: number): number[] => Array.from({ length }, () => code);

describe('who wins a pixel (hardware documentation wiki, "PPU rendering", "PPU sprite priority")', () => {
  const FRONT = 0x00;
  const BEHIND = 0x20;
  test.each([
    ['neither opaque: backdrop', 0, 0, FRONT, 0],
    ['sprite alone, in front', 0, 1, FRONT, 0x11],
    ['sprite alone, behind', 0, 1, BEHIND, 0x11],
    ['background alone', 2, 0, FRONT, 2],
    ['both, sprite in front', 2, 1, FRONT, 0x11],
    ['both, sprite behind', 2, 1, BEHIND, 2],
  ])('%s', (_, tile, spriteTile, attribute, code) => {
    expect(row(scene({ tile, sprites: [[49, spriteTile, attribute, 80]] }), 50, 80, 88)).toEqual(run(8, code));
  });

  test('the lower entry wins among sprites before its own priority is asked', () => {
    const sprites = [
      [49, 1, 0x21, 80],
      [49, 1, 0x02, 80],
    ];
    expect(row(scene({ tile: 2, sprites }), 50, 80, 84)).toEqual(run(4, 2));
    expect(row(scene({ tile: 0, sprites }), 50, 80, 84)).toEqual(run(4, 0x15));
  });

  test('a transparent dot of the lower entry lets the higher one through', () => {
    const sprites = [
      [49, 3, 0x01, 80],
      [49, 1, 0x02, 80],
    ];
    expect(row(scene({ sprites }), 50, 80, 84)).toEqual([0x15, 0x19, 0x19, 0x19]);
  });
});

describe('sprites', () => {
  test('stand one line below their Y and from their X on, 8 by 8', () => {
    const driver = scene({ sprites: [[49, 1, 0, 80]] });
    expect(row(driver, 50, 79, 89)).toEqual([0, ...run(8, 0x11), 0]);
    expect([49, 50, 57, 58].map((y) => row(driver, y, 80, 81)[0])).toEqual([0, 0x11, 0x11, 0]);
  });

  test('line 0 has none (wiki, "PPU sprite evaluation")', () => {
    const driver = scene({
      sprites: [
        [0xff, 1, 0, 80],
        [239, 1, 0, 80],
        [0, 1, 0, 80],
      ],
    });
    driver.goToNextFrame();
    expect(row(driver, 0, 0, 256)).toEqual(run(256, 0));
    expect(row(driver, 1, 80, 81)).toEqual([0x11]);
  });

  test('eight on a line: the ninth is not shown', () => {
    const sprites = Array.from({ length: 9 }, (_, n) => [49, 1, 0, 16 + n * 16]);
    const line = row(scene({ sprites }), 50, 0, 256);
    expect(sprites.map(([, , , x]) => line[x!])).toEqual([...run(8, 0x11), 0]);
  });

  test.each([
    ['no flip', 0x00, 50, 80],
    ['left to right', 0x40, 50, 87],
    ['upside down', 0x80, 57, 80],
    ['both', 0xc0, 57, 87],
  ])('flip: %s', (_, attribute, y, x) => {
    const { codes } = scene({ sprites: [[49, 3, attribute, 80]] }).goTo(240, 0);
    expect(codes.findIndex((code) => code !== 0)).toBe(y * 256 + x);
    expect(codes.filter((code) => code !== 0)).toHaveLength(1);
  });

  test('16 lines: two tiles on end, table by bit 0 of the number, flipped over the whole height', () => {
    const upright = scene({ control: 0x20, sprites: [[49, 2, 0, 80]] });
    expect([50, 57, 58].map((y) => row(upright, y, 81, 82)[0])).toEqual([0x12, 0x12, 0]);
    expect(row(upright, 58, 80, 81)).toEqual([0x11]);
    const flipped = scene({ control: 0x20, sprites: [[49, 2, 0x80, 80]] });
    expect([65, 58, 57].map((y) => row(flipped, y, 81, 82)[0])).toEqual([0x12, 0x12, 0]);
    expect(row(flipped, 57, 80, 81)).toEqual([0x11]);
    expect(row(scene({ control: 0x20, sprites: [[49, 3, 0, 80]] }), 50, 80, 88)).toEqual(run(8, 0));
  });

  test('tables: sprites of 8 lines follow bit 3 of $2000, the background bit 4', () => {
    expect(row(scene({ control: 0x08, sprites: [[49, 1, 0, 80]] }), 50, 80, 81)).toEqual([0]);
    expect(row(scene({ control: 0x10, tile: 1 }), 50, 80, 81)).toEqual([0]);
  });
});

describe('left column (wiki, "PPU registers")', () => {
  test.each([
    [0x1e, [0x11, 0x11, 2]],
    [0x1c, [0x11, 0x11, 2]],
    [0x1a, [2, 2, 2]],
    [0x18, [0, 0, 2]],
  ])('mask %i: a hidden layer is transparent there', (mask, [first, seventh, eighth]) => {
    const line = row(scene({ tile: 2, mask, sprites: [[49, 1, 0, 0]] }), 50, 0, 9);
    expect([line[0], line[7], line[8]]).toEqual([first, seventh, eighth]);
  });

  test('only the first eight columns are hidden', () => {
    expect(row(scene({ tile: 2, mask: 0x1c }), 50, 0, 16)).toEqual([...run(8, 0), ...run(8, 2)]);
  });
});

describe('colour codes', () => {
  test.each([
    [0x00, 0x02c],
    [0x20, 0x06c],
    [0x40, 0x0ac],
    [0x80, 0x12c],
    [0xe0, 0x1ec],
    [0x01, 0x020],
    [0xe1, 0x1e0],
  ])('emphasis and grey, mask bits %i: code %i', (bits, code) => {
    const driver = scene({})
      .goTo(241, 10)
      .fill(0x3f00, [0x2c])
      .write(0, 0)
      .write(5, 0, 0)
      .write(1, 0x1e | bits);
    expect(row(driver.goToNextFrame(), 100, 0, 4)).toEqual(run(4, code));
    expect(row(driver.goToNextFrame().write(1, bits), 100, 0, 4)).toEqual(run(4, code));
  });

  test('rendering off: backdrop, or the cell under v while v points into the palette (backdrop override)', () => {
    const driver = scene({ mask: 0 });
    driver.fill(0x3f00, [0x21]).write(6, 0x20, 0x00).goTo(50, 0).write(6, 0x3f, 0x1a);
    driver.goTo(60, 0).write(6, 0x00, 0x00);
    expect([40, 55, 70].map((y) => row(driver, y, 100, 101)[0])).toEqual([0x21, 0x1a, 0x21]);
  });
});

describe('writes in mid-line', () => {
  test('colour bits and rendering bits take effect their number of dots after the write', () => {
    const driver = scene({ tile: 2 }).goTo(50, 100);
    driver.raster.writeRegister(1, 0xe0, driver.tick);
    const line = row(driver, 50, 0, 256);
    expect(line.findIndex((code) => code >= 0x1c0)).toBe(100 + COLOUR_BITS_LATENCY_DOTS - 1);
    expect(line.findIndex((code) => (code & 0x3f) === 0)).toBe(100 + RENDERING_BITS_LATENCY_DOTS - 1);
  });

  test('off over a reload (dots 17..19), the shifters run empty: dots 28..32 lack their tile (derived)', () => {
    const driver = scene({ tile: 2, mask: 0x0a }).goTo(50, 17 - RENDERING_BITS_LATENCY_DOTS);
    driver.raster.writeRegister(1, 0x00, driver.tick);
    driver.goOn(3).raster.writeRegister(1, 0x0a, driver.tick);
    const empty = row(driver, 50, 0, 256).flatMap((code, x) => (code === 0 ? [x + 1] : []));
    expect(empty).toEqual([17, 18, 19, 28, 29, 30, 31, 32]);
  });

  test('$2005 in a line moves the lines below it sideways', () => {
    const screen = { ...randomScreen(77), mask: 0x1e };
    const moved = { ...screen, scrollX: 91 };
    const driver = showScreen(screen).goTo(99, 200).write(5, 91, 0).goTo(240, 0);
    const at = 100 * 256;
    // The fine x of line 99 changes at once, at the dot after the write; the rest from dot 257 on.
    expect(driver.codes.subarray(0, 99 * 256)).toEqual(expectedPicture(screen).subarray(0, 99 * 256));
    expect(driver.codes.subarray(at)).toEqual(expectedPicture(moved).subarray(at));
  });

  test('$2006 $2005 $2005 $2006 between lines moves to any row and column (wiki, "PPU scrolling")', () => {
    const screen = { ...randomScreen(78), mask: 0x1e, mirroring: 'vertical' as const };
    const target = { ...screen, control: screen.control & ~3, scrollX: 0x7d, scrollY: 50 };
    const wanted = 150;
    const driver = showScreen(screen).goTo(99, 290);
    driver
      .write(6, 0)
      .write(5, wanted, 0x7d)
      .write(6, ((wanted & 0x38) << 2) | (0x7d >> 3))
      .goTo(240, 0);
    expect(driver.codes.subarray(0, 100 * 256)).toEqual(expectedPicture(screen).subarray(0, 100 * 256));
    expect(driver.codes.subarray(100 * 256)).toEqual(expectedPicture(target).subarray(100 * 256));
  });

  test('pixel x is in the picture after dot x + 1, and not before', () => {
    const driver = scene({ tile: 2 });
    driver.codes.fill(0x1ff);
    driver.goTo(50, 100);
    expect(Array.from(driver.codes.subarray(50 * 256 + 98, 50 * 256 + 102))).toEqual([2, 2, 0x1ff, 0x1ff]);
  });
});
