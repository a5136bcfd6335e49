import { describe, expect, test } from 'vitest';
import { ODD_SKIP_SAMPLE_DOT, RENDERING_BITS_LATENCY_DOTS } from '../../src/references/console-constants.ts';
import { TIMINGS, type TimingId } from '../../src/units/timing.ts';
import { RasterDriver } from './raster-driver.ts';

const TIMING_IDS: readonly TimingId[] = ['60hz', '50hz', '50hz-clone'];

/** Lengths in ticks of `count` frames from frame 1 on, rendering on or off. */
function frameLengths(timing: TimingId, mask: number, count: number): number[] {
  const driver = new RasterDriver({ timing }).warmUp().write(1, mask);
  for (let i = 0; i < count; i++) driver.goToNextFrame();
  const starts = driver.ticksOf('frame-start').slice(1);
  return starts.slice(1).map((tick, i) => tick - starts[i]!);
}

const sum = (lengths: number[]): number => lengths.reduce((total, length) => total + length, 0);

describe('frames (hardware documentation wiki, "Cycle reference chart")', () => {
  test('master clocks: 60 Hz x 11 = 236.25 MHz, 50 Hz = 6 x 4 433 618.75 Hz', () => {
    const rate = (id: TimingId) => TIMINGS[id].masterNumerator / TIMINGS[id].masterDenominator;
    expect(rate('60hz') * 11).toBe(236_250_000);
    expect(rate('50hz')).toBe(6 * 4_433_618.75);
    expect(rate('50hz-clone')).toBe(rate('50hz'));
  });

  test('60 Hz: two rendered frames take 714 732 ticks = 59 561 cycles', () => {
    const lengths = frameLengths('60hz', 0x08, 2);
    expect(lengths).toEqual([357_364, 357_368]);
    expect(sum(lengths)).toBe(59_561 * 12);
  });

  test('60 Hz: 60 rendered frames take 1 786 830 cycles', () => {
    expect(sum(frameLengths('60hz', 0x10, 60)) / 12).toBe(1_786_830);
  });

  test('50 Hz: two frames take 66 495 cycles; clone: one takes 35 464; no frame is short', () => {
    expect(frameLengths('50hz', 0x18, 2)).toEqual([531_960, 531_960]);
    expect(sum(frameLengths('50hz', 0x18, 2)) / 16).toBe(66_495);
    expect(sum(frameLengths('50hz-clone', 0x18, 1)) / 15).toBe(35_464);
  });

  test.each([
    ['60hz', 0x18, 60.098813897],
    ['60hz', 0x00, 60.098477556],
    ['50hz', 0x18, 50.006978908],
    ['50hz-clone', 0x18, 50.006978908],
  ] as const)('frame rate of %s with mask %i: %f Hz (derived)', (timing, mask, rate) => {
    const { masterNumerator, masterDenominator } = TIMINGS[timing];
    const ticks = sum(frameLengths(timing, mask, 2)) / 2;
    expect(masterNumerator / masterDenominator / ticks).toBeCloseTo(rate, 8);
  });

  test('60 Hz: (241,1) of frame 0 is tick 328 728, cycle 27 394 (derived)', () => {
    const driver = new RasterDriver().goToNextFrame();
    expect(driver.ticksOf('vblank')).toEqual([328_728]);
    expect(328_728 / 12).toBe(27_394);
  });

  test('frames, vblanks and pictures are numbered and timed from the start tick', () => {
    const startTick = 5_000_000_003;
    const driver = new RasterDriver({ startTick }).goToNextFrame().goToNextFrame();
    expect(driver.events).toEqual([
      { kind: 'frame-start', tick: startTick, index: 0 },
      { kind: 'vblank', tick: startTick + 328_728 },
      { kind: 'frame-start', tick: startTick + 357_368, index: 1 },
      { kind: 'vblank', tick: startTick + 357_368 + 328_728 },
      { kind: 'frame-start', tick: startTick + 2 * 357_368, index: 2 },
    ]);
    expect(driver.history.get(1)?.lineZeroTick).toBe(startTick + 357_368);
  });

  test('the picture after a vblank carries the targets asked for at that vblank', () => {
    let asked = 0;
    const seen: number[] = [];
    const driver = new RasterDriver({
      targets: () => {
        seen.push(driver.ticksOf('vblank').length);
        return [{ isLive: true, x: ++asked, y: 0, width: 1, height: 1 }];
      },
    });
    expect(driver.history.get(0)?.targets).toEqual([]);
    driver.goToNextFrame().goToNextFrame();
    expect([1, 2].map((index) => driver.history.get(index)?.targets[0]?.x)).toEqual([1, 2]);
    expect(seen).toEqual([1, 2]);
  });
});

describe('odd frames of the 60 Hz unit (hardware documentation wiki, "PPU frame timing")', () => {
  /** Length of an odd frame, the mask written this many dots after (261,0). */
  function oddFrameWith(before: number, after: number, dot: number): number {
    const driver = new RasterDriver().warmUp().write(1, before);
    driver.goTo(261, dot).write(1, after).goToNextFrame();
    const [, start, end] = driver.ticksOf('frame-start');
    return (end! - start!) / 4;
  }
  const lastDot = ODD_SKIP_SAMPLE_DOT - RENDERING_BITS_LATENCY_DOTS;

  test('switched on in time to be in force at the sampling dot: short; one dot later: long', () => {
    expect(oddFrameWith(0x00, 0x08, lastDot)).toBe(89_341);
    expect(oddFrameWith(0x00, 0x08, lastDot + 1)).toBe(89_342);
  });

  test('switched off likewise', () => {
    expect(oddFrameWith(0x08, 0x00, lastDot)).toBe(89_342);
    expect(oddFrameWith(0x08, 0x00, lastDot + 1)).toBe(89_341);
  });

  test('parity changes in every frame, rendering or not', () => {
    const driver = new RasterDriver().warmUp().goToNextFrame().write(1, 0x18);
    for (let i = 0; i < 3; i++) driver.goToNextFrame();
    const starts = driver.ticksOf('frame-start');
    expect(starts.slice(1).map((tick, i) => (tick - starts[i]!) / 4)).toEqual([89_342, 89_342, 89_342, 89_341, 89_342]);
  });

  test('a short frame has no (261,340): (0,0) follows (261,339)', () => {
    const driver = new RasterDriver().warmUp().write(1, 0x18).goTo(261, 339);
    expect(driver.history.newest).toBe(1);
    expect(driver.goOn(1).history.newest).toBe(2);
    expect(driver.raster.save().clock).toMatchObject({ line: 0, dot: 0 });
  });
});

describe.each(TIMING_IDS)('flags by dot, %s', (timing) => {
  const { vblankLine, preRenderLine } = TIMINGS[timing];
  const flags = (driver: RasterDriver) => driver.raster.save().registers;

  test(`vblank is set at (${vblankLine},1) and cleared at (${preRenderLine},1) (wiki, "PPU registers"; die analysis)`, () => {
    const driver = new RasterDriver({ timing });
    expect(flags(driver.goTo(vblankLine, 0)).isVblank).toBe(false);
    expect(flags(driver.goTo(vblankLine, 1)).isVblank).toBe(true);
    expect(flags(driver.goTo(preRenderLine, 0)).isVblank).toBe(true);
    expect(flags(driver.goTo(preRenderLine, 1)).isVblank).toBe(false);
  });

  test('set to clear: 6820 dots at 60 Hz and on the clone, 23 870 at 50 Hz (wiki, "PPU frame timing")', () => {
    const driver = new RasterDriver({ timing }).goTo(vblankLine, 1);
    const dots = timing === '50hz' ? 23_870 : 6820;
    expect(flags(driver.goOn(dots - 1)).isVblank).toBe(true);
    expect(flags(driver.goOn(1)).isVblank).toBe(false);
  });

  test('sprite 0 hit and overflow are cleared at the same dot', () => {
    const driver = new RasterDriver({ timing }).warmUp();
    driver.fill(0x0000, new Uint8Array(16).fill(0xff)).fillOam(new Uint8Array(256)).write(1, 0x1e);
    driver.goToNextFrame().goTo(preRenderLine, 0);
    expect(flags(driver)).toMatchObject({ isSpriteZeroHit: true, isOverflow: true });
    driver.goTo(preRenderLine, 1);
    expect(flags(driver)).toMatchObject({ isSpriteZeroHit: false, isOverflow: false });
  });

  test('$2000, $2001, $2005 and $2006 take no writes before the first (P,1) (wiki, "PPU power up state")', () => {
    const driver = new RasterDriver({ timing }).goTo(preRenderLine, 0);
    for (const register of [0, 1, 5, 6]) driver.raster.writeRegister(register, 0x9f, driver.tick);
    expect(driver.raster.save()).toMatchObject({
      registers: { control: 0, mask: 0, latch: 0x9f },
      scroll: { t: 0, x: 0, w: 0 },
    });
    driver.goTo(preRenderLine, 1);
    for (const register of [0, 1, 5]) driver.raster.writeRegister(register, 0x9f, driver.tick);
    expect(driver.raster.save()).toMatchObject({
      registers: { control: 0x9f, mask: 0x9f },
      scroll: { t: 0x0c13, x: 7, w: 1 },
    });
  });
});
