import { beforeAll, describe, expect, test } from 'vitest';
import { TIMINGS } from '../../src/units/timing.ts';
import { BankedSlot } from './banked-slot.ts';
import { bundled } from './bundle.ts';
import type { playLong, playScreen } from './long-play.ts';
import { Lot } from './lot.ts';
import { goToNextFrame, playFrame } from './random-play.ts';
import { RasterPair, ramSlot } from './raster-pair.ts';
import { randomScreen } from './screen.ts';

interface LongPlayModule {
  readonly playLong: typeof playLong;
  readonly playScreen: typeof playScreen;
}

const bundledLongPlay = () => bundled<LongPlayModule>('test/raster/long-play.ts');

const MILLION = 1_000_000;

describe('the fast raster unit against the reference: states, codes, values read, events, targets', () => {
  let play: LongPlayModule['playLong'];
  beforeAll(async () => {
    ({ playLong: play } = await bundledLongPlay());
  });

  test('200 million dots with registers touched at random dots in every third line', () => {
    const { dots, accesses, difference } = play({ dots: 200 * MILLION, firstSeed: 1, everyLines: 3 });
    expect(difference).toBeUndefined();
    expect(dots).toBeGreaterThanOrEqual(200 * MILLION);
    expect(accesses).toBeGreaterThan(300_000);
  });

  test('40 million dots with registers touched in one line of 60: many lines at once', () => {
    expect(play({ dots: 40 * MILLION, firstSeed: 10_001, everyLines: 60 }).difference).toBeUndefined();
  });

  test.each([
    ['24 lines', { firstLine: 100, lastLine: 123 }],
    ['the first line', { firstLine: 0, lastLine: 0 }],
    ['none', { firstLine: 0, lastLine: -1 }],
  ])('lines of interest, %s: those lines and all else are equal', (_, draws) => {
    for (const everyLines of [3, 60]) {
      expect(play({ dots: 6 * MILLION, firstSeed: 20_001, everyLines, draws }).difference).toBeUndefined();
    }
  });
});

describe('the comparison itself', () => {
  test('a mask write that reaches the fast unit one dot late shows at its pixel, in each of 80 places', () => {
    for (let seed = 0; seed < 80; seed++) {
      const lot = new Lot(seed);
      const pair = new RasterPair({ timing: '60hz', screen: { ...randomScreen(seed), mask: 0x1e } });
      const [line, dot] = [lot.below(240), 1 + lot.below(250)];
      pair.lateAccess = 0;
      pair.write(1, 0x3e, pair.frameTick + (line * 341 + dot) * 4);
      goToNextFrame(pair);
      // The emphasis of dot d + 2 on is new: pixel d + 1.
      expect(pair.difference).toContain(`picture 0, x ${dot + 1} of line ${line}: `);
    }
  });

  test('late accesses of a random play show where they matter, by pixels, values read and states', async () => {
    const { playScreen: play } = await bundledLongPlay();
    expect(play(2, 3).difference).toBeUndefined();
    const late = Array.from({ length: 80 }, (_, n) => play(2, 3, undefined, 7 * n).difference);
    const seen = late.filter((difference) => difference !== undefined);
    for (const kind of [/^picture/, /^state/, /^\$200/]) expect(seen.filter((text) => kind.test(text))).not.toEqual([]);
    // Most have no effect that depends on the dot; the tick that an event carries is left right, so that it tells nothing.
    expect(seen.length).toBeGreaterThan(12);
    expect(seen.filter((text) => text.startsWith('events'))).toEqual([]);
  });

  test('one wrong byte of state is named', () => {
    const pair = new RasterPair({ timing: '60hz', screen: randomScreen(1) });
    const state = pair.fast.raster.save();
    state.oam[77]! ^= 1;
    pair.fast.raster.load(state);
    pair.compareStates();
    expect(pair.difference).toMatch(/^state\.oam\[77\]: /);
  });
});

test('states exchanged in each dot about an event or a line, in whole and in short frames', () => {
  for (const timing of ['60hz', '50hz', '50hz-clone'] as const) {
    for (const screen of [
      { ...randomScreen(8), control: 0x80 },
      { ...randomScreen(9), mask: 0 },
    ]) {
      const { vblankLine, preRenderLine, linesPerFrame } = TIMINGS[timing];
      for (const line of [1, 240, vblankLine, preRenderLine, linesPerFrame]) {
        for (let dot = -3; dot <= 3; dot++) {
          const pair = new RasterPair({ timing, screen });
          goToNextFrame(pair);
          const { dotDivider } = pair.timing;
          pair.runTo(pair.frameTick + (line * 341 + dot) * dotDivider);
          pair.exchangeStates();
          for (let left = 0; left < 4; left++) pair.read(2, pair.tick + dotDivider);
          goToNextFrame(pair);
          pair.compareStates();
          expect(pair.difference).toBeUndefined();
        }
      }
    }
  }
});

describe('cartridges that switch', () => {
  function playWithSwitches(seed: number, switchOneIn: number, unmappedOneIn: number): RasterPair {
    const screen = randomScreen(seed);
    const pattern = Uint8Array.from({ length: 32768 }, (_, i) => screen.pattern[(i * 7) & 8191]!);
    const slot = () => new BankedSlot(pattern);
    const pair = new RasterPair({ timing: seed % 2 === 0 ? '60hz' : '50hz', screen, slot });
    const lot = new Lot(seed);
    for (let frame = 0; frame < 3; frame++) {
      const end = pair.frameTick + 240 * 341 * pair.timing.dotDivider;
      while (pair.tick < end) {
        const tick = pair.tick + lot.below(switchOneIn);
        const bank = lot.below(8);
        const offset = lot.oneIn(unmappedOneIn) ? [-1, -5000, 32000, 40960][lot.below(4)]! : lot.below(32) * 1024;
        const arrangement = lot.below(4);
        pair.changeSlots(tick, (changed) => {
          if (!(changed instanceof BankedSlot)) return;
          changed.banks[bank] = offset;
          changed.arrangement = arrangement;
        });
        if (lot.oneIn(3)) pair.read(2, pair.tick);
      }
      playFrame(pair, lot, { everyLines: 40, darkOneIn: 20 });
      pair.compareStates();
    }
    return pair;
  }

  test('banks and mirroring at random ticks, also in mid-line', () => {
    for (let seed = 0; seed < 12; seed++) expect(playWithSwitches(seed, 30_000, 1e9).difference).toBeUndefined();
  });

  test('with banks where no memory answers', () => {
    for (let seed = 0; seed < 6; seed++) expect(playWithSwitches(seed, 40_000, 3).difference).toBeUndefined();
  });

  test('the fast unit must be told: a switch behind its back shows', () => {
    const pair = new RasterPair({ timing: '60hz', screen: { ...randomScreen(4), mask: 0x1e } });
    pair.runTo(pair.frameTick + 100 * 341 * 4);
    for (const { slot } of [pair.reference, pair.fast]) slot.pattern.fill(0xff);
    goToNextFrame(pair);
    expect(pair.difference).toContain('picture 0');
  });
});

describe('pictures drawn late, or not at all', () => {
  const screen = { ...randomScreen(5), mask: 0x1e };

  test('dots are not there before catchUpTo, and stand up to its tick after it', () => {
    const pair = new RasterPair({ timing: '60hz', screen });
    const { raster, history } = pair.fast;
    const { codes } = history.get(0)!;
    const tick = pair.frameTick + (120 * 341 + 77) * 4;
    pair.runTo(tick);
    expect(codes.every((code) => code === 0)).toBe(true);
    raster.catchUpTo(tick);
    pair.comparePictureInProgress();
    expect(pair.difference).toBeUndefined();
    expect(codes.subarray(121 * 256).every((code) => code === 0)).toBe(true);
    expect(codes.subarray(0, 120 * 256 + 77)).toEqual(pair.reference.history.get(0)!.codes.subarray(0, 120 * 256 + 77));
  });

  test('a line looked at while it is drawn is drawn again when a write changes the rest of it', () => {
    const pair = new RasterPair({ timing: '60hz', screen });
    const start = pair.frameTick + 120 * 341 * 4;
    for (const [dot, mask] of [
      [60, 0x3e],
      [130, 0x1f],
      [200, 0x18],
    ] as const) {
      pair.runTo(start + (dot - 20) * 4);
      pair.comparePictureInProgress();
      pair.write(1, mask, start + dot * 4);
      pair.comparePictureInProgress();
    }
    goToNextFrame(pair);
    expect(pair.difference).toBeUndefined();
  });

  test('lines that nobody looks at are left alone, and the picture says which are drawn', () => {
    const draws = { firstLine: 50, lastLine: 60 };
    const pair = new RasterPair({ timing: '60hz', screen, draws });
    goToNextFrame(pair);
    const { codes, drawn } = pair.fast.history.get(0)!;
    expect(drawn).toEqual(draws);
    expect(codes.subarray(0, 50 * 256).every((code) => code === 0)).toBe(true);
    expect(codes.subarray(61 * 256).every((code) => code === 0)).toBe(true);
    expect(pair.difference).toBeUndefined();
  });

  test('a load into a unit that draws fewer lines narrows the picture in progress', () => {
    const pair = new RasterPair({ timing: '60hz', screen, draws: { firstLine: 50, lastLine: 60 } });
    const picture = pair.fast.history.get(0)!;
    picture.drawn = { firstLine: 55, lastLine: 239 };
    pair.fast.raster.load(pair.reference.raster.save());
    expect(picture.drawn).toEqual({ firstLine: 55, lastLine: 60 });
  });
});

test('pattern RAM written while it is shown, through the unit', () => {
  for (let seed = 0; seed < 10; seed++) {
    const screen = randomScreen(seed);
    const pair = new RasterPair({ timing: '60hz', screen, slot: () => ramSlot(screen) });
    const lot = new Lot(seed);
    for (let i = 0; i < 200; i++) {
      const tick = pair.tick + lot.below(3000);
      const address = lot.below(0x3000);
      pair.write(6, address >> 8, tick);
      pair.write(6, address & 0xff, tick + 12);
      for (let n = 0; n < 4; n++) pair.write(7, lot.below(256), tick + 36 + 12 * n);
    }
    goToNextFrame(pair);
    pair.compareStates();
    expect(pair.difference).toBeUndefined();
  }
});

test('a state whose next tick is not that of its dot is refused', () => {
  const pair = new RasterPair({ timing: '60hz', screen: randomScreen(1) });
  const state = pair.fast.raster.save();
  state.clock.nextTick += 4;
  expect(() => pair.fast.raster.load(state)).toThrow(
    expect.objectContaining({
      code: 'STATE_FIELD',
      details: expect.objectContaining({ field: 'raster.clock.nextTick' }),
    }),
  );
});
