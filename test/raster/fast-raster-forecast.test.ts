import { describe, expect, test } from 'vitest';
import { ReferenceRaster } from '../../src/console/raster/reference-raster.ts';
import { PictureHistory } from '../../src/picture/picture.ts';
import type { TraceEvent } from '../../src/trace/trace.ts';
import type { TimingId } from '../../src/units/timing.ts';
import { Lot } from './lot.ts';
import { goToNextFrame } from './random-play.ts';
import { RasterPair } from './raster-pair.ts';
import { randomScreen, type Screen } from './screen.ts';

const TIMINGS: readonly TimingId[] = ['60hz', '50hz', '50hz-clone'];

/** What the reference does if nobody touches it, from its present dot to the end of the next frame. */
interface Future {
  readonly hitTick: number;
  readonly overflowTick: number;
  /** Dots in which a flag that is up falls, by the reads of the walk itself vblank left aside. */
  readonly fallTicks: readonly number[];
  readonly events: readonly TraceEvent[];
}

/** A reference of its own that goes on from where the pair stands. */
function cloneReference(pair: RasterPair, events: TraceEvent[]): ReferenceRaster {
  const history = new PictureHistory(2);
  while (history.newest < pair.reference.history.newest) history.begin(0, []);
  const clone = new ReferenceRaster({
    timing: pair.timing,
    slot: pair.reference.slot,
    history,
    trace: { put: (event) => events.push(event) },
    hooks: { targetsForNextPicture: () => [] },
  });
  clone.load(pair.reference.raster.save());
  return clone;
}

function futureOf(pair: RasterPair): Future {
  const { timing } = pair;
  const events: TraceEvent[] = [];
  const end = pair.frameTick + 2 * timing.linesPerFrame * timing.dotsPerLine * timing.dotDivider;
  cloneReference(pair, events).runTo(end);
  const reader = cloneReference(pair, []);
  let flags = reader.readRegister(2, pair.tick) & 0x60;
  let hitTick = Infinity;
  let overflowTick = Infinity;
  const fallTicks: number[] = [];
  const frameEnd = events.find(({ kind }) => kind === 'frame-start')!.tick;
  const firstDot = pair.frameTick + Math.floor((pair.tick - pair.frameTick) / timing.dotDivider) * timing.dotDivider;
  for (let tick = firstDot + timing.dotDivider; tick < frameEnd; tick += timing.dotDivider) {
    reader.runTo(tick);
    const now = reader.readRegister(2, tick) & 0x60;
    if ((now & ~flags & 0x40) !== 0) hitTick = tick;
    if ((now & ~flags & 0x20) !== 0) overflowTick = tick;
    if ((flags & ~now) !== 0) fallTicks.push(tick);
    flags = now;
  }
  return { hitTick, overflowTick, fallTicks, events };
}

const firstTick = (events: readonly TraceEvent[], kind: TraceEvent['kind']): number =>
  events.find((event) => event.kind === kind)?.tick ?? Infinity;

function checkForecast(pair: RasterPair): Future {
  const { raster } = pair.fast;
  const future = futureOf(pair);
  const vblankTick = firstTick(future.events, 'vblank');
  const frameTick = firstTick(future.events, 'frame-start');
  const { dotDivider, dotsPerLine, preRenderLine } = pair.timing;
  const thisClear = pair.frameTick + (preRenderLine * dotsPerLine + 1) * dotDivider;
  const clearTick = pair.tick < thisClear ? thisClear : frameTick + thisClear - pair.frameTick;
  const nextEvent = Math.min(vblankTick, frameTick, clearTick);
  const status = Math.min(nextEvent, future.hitTick, future.overflowTick);
  // The order of the questions must not matter: the first is asked again at the end.
  expect(raster.statusConstantUntil()).toBeLessThanOrEqual(status);
  expect(raster.spriteZeroHitTick()).toBe(future.hitTick);
  expect(raster.overflowTick()).toBe(future.overflowTick);
  expect(raster.nextVblankTick()).toBe(vblankTick);
  expect(raster.nextNmiTick()).toBe(firstTick(future.events, 'nmi-raised'));
  expect(raster.nextClearTick()).toBe(clearTick);
  for (const tick of future.fallTicks) expect(tick).toBe(thisClear);
  // An odd frame's end may be looked at one dot early.
  expect([0, dotDivider]).toContain(nextEvent - raster.nextEventTick);
  expect(raster.statusConstantUntil()).toBe(Math.min(status, raster.nextEventTick));
  pair.compareStates();
  expect(pair.difference).toBeUndefined();
  return future;
}

/** A screen that often hits and overflows. */
function crowdedScreen(seed: number): Screen {
  const screen = randomScreen(seed);
  const lot = new Lot(seed);
  const oam = screen.oam.map((byte, i) => (i % 4 === 0 && lot.oneIn(3) ? 100 + lot.below(12) : byte));
  oam[0] = lot.below(235);
  return { ...screen, oam, mask: lot.oneIn(8) ? screen.mask & 0x0f : screen.mask };
}

/** A pair at a tick drawn by lot, after a few writes. */
function pairSomewhere(seed: number): RasterPair {
  const lot = new Lot(seed);
  const pair = new RasterPair({ timing: TIMINGS[seed % 3]!, screen: crowdedScreen(seed) });
  const { linesPerFrame, dotsPerLine, dotDivider } = pair.timing;
  const frameTicks = linesPerFrame * dotsPerLine * dotDivider;
  if (lot.oneIn(2)) pair.runTo(pair.frameTick + frameTicks);
  pair.runTo(pair.frameTick + lot.below(frameTicks - 20 * dotDivider));
  for (let left = lot.below(3); left > 0; left--) {
    const mask = lot.oneIn(4) ? lot.below(256) : 0x18 | lot.below(256);
    const [register, value] = [[1, mask] as const, [5, lot.below(256)] as const, [0, lot.below(256)] as const][
      lot.below(3)
    ]!;
    pair.write(register, value, pair.tick + lot.below(30));
  }
  if (lot.oneIn(2)) pair.write(0, 0x80 | lot.below(64), pair.tick + lot.below(30));
  pair.runTo(pair.tick + lot.below(4 * dotDivider));
  return pair;
}

describe('what the fast unit foretells against the walk of the reference, dot by dot', () => {
  test('flags, events and NMI, from 60 places in frames drawn by lot, changes under way included', () => {
    const met = { hits: 0, overflows: 0 };
    for (let seed = 0; seed < 60; seed++) {
      const pair = pairSomewhere(seed);
      const { hitTick, overflowTick } = checkForecast(pair);
      if (hitTick < Infinity) met.hits++;
      if (overflowTick < Infinity) met.overflows++;
    }
    expect(met.hits).toBeGreaterThan(8);
    expect(met.overflows).toBeGreaterThan(8);
  });

  test('around the dot of the vblank flag, with and without a read one dot before it', () => {
    for (const timing of TIMINGS) {
      for (let dots = -3; dots <= 3; dots++) {
        for (const isRead of [false, true]) {
          const pair = new RasterPair({ timing, screen: { ...randomScreen(8), control: 0x80 } });
          const { vblankLine, dotsPerLine, dotDivider } = pair.timing;
          const tick = pair.frameTick + (vblankLine * dotsPerLine + 1 + dots) * dotDivider;
          if (isRead) pair.read(2, tick);
          else pair.runTo(tick);
          checkForecast(pair);
        }
      }
    }
  });

  test('an odd frame whose rendering bits change about the dot that decides its length', () => {
    for (let dot = 334; dot <= 339; dot++) {
      for (const [before, after] of [
        [0x1e, 0],
        [0, 0x1e],
      ] as const) {
        const pair = new RasterPair({ timing: '60hz', screen: { ...randomScreen(8), control: 0x80, mask: before } });
        goToNextFrame(pair);
        pair.write(1, after, pair.frameTick + (261 * 341 + dot) * 4);
        checkForecast(pair);
      }
    }
  });

  test('a question draws nothing and moves nothing', () => {
    const pair = new RasterPair({ timing: '60hz', screen: { ...randomScreen(5), mask: 0x1e } });
    pair.runTo(pair.frameTick + 150 * 341 * 4);
    checkForecastOnly(pair);
    expect(pair.fast.history.get(0)!.codes.every((code) => code === 0)).toBe(true);
  });
});

function checkForecastOnly({ fast }: RasterPair): void {
  expect(fast.raster.spriteZeroHitTick()).toBeGreaterThan(0);
  expect(fast.raster.statusConstantUntil()).toBeLessThanOrEqual(fast.raster.nextEventTick);
}
