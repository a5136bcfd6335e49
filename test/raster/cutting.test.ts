import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { Fingerprint } from '../../src/units/hash.ts';
import { hashNoise } from '../../src/units/noise.ts';
import { type TimingId, ticksPerFrame } from '../../src/units/timing.ts';
import { RasterDriver } from './raster-driver.ts';
import { randomScreen, showScreen } from './screen.ts';

interface Access {
  readonly tick: number;
  readonly register: number;
  /** -1 for a read. */
  readonly value: number;
}

/** Accesses at ticks drawn by lot over one and a half frames, half of them close together in mid-line. */
function randomAccesses(seed: number, from: number, frameTicks: number): Access[] {
  const draw = (stream: number, i: number, range: number) => Math.floor(hashNoise(seed, stream, i) * range);
  const accesses = Array.from({ length: 60 }, (_, i) => ({
    tick: from + (i % 2 === 0 ? draw(20, i, frameTicks * 1.5) : draw(20, i - 1, frameTicks * 1.5) + draw(21, i, 40)),
    register: draw(22, i, 8),
    value: draw(23, i, 3) === 0 ? -1 : draw(24, i, 256),
  }));
  // Rendering stays on most of the time, or there would be little to see.
  return accesses
    .map((access) => (access.register === 1 && access.value >= 0 ? { ...access, value: access.value | 0x18 } : access))
    .sort((a, b) => a.tick - b.tick);
}

/** Carry the accesses out; everything that can be seen goes into one fingerprint. */
function playOn(driver: RasterDriver, accesses: readonly Access[], end: number, cuts: readonly number[]): string {
  const seen = new Fingerprint();
  const stops = [...accesses, ...cuts.map((tick) => ({ tick, register: -1, value: 0 }))].sort(
    (a, b) => a.tick - b.tick,
  );
  for (const { tick, register, value } of stops) {
    driver.raster.runTo(tick);
    if (register < 0) continue;
    if (value < 0) seen.addInt(driver.raster.readRegister(register, tick));
    else driver.raster.writeRegister(register, value, tick);
  }
  driver.raster.runTo(end);
  for (const event of driver.events) seen.addText(JSON.stringify(event));
  for (let index = Math.max(0, driver.history.newest - 1); index <= driver.history.newest; index++) {
    seen.addBytes(driver.history.get(index)!.codes);
  }
  return seen.addText(JSON.stringify(driver.raster.save())).digest();
}

/** The screen shown, with the events of putting it up forgotten. */
function shown(seed: number, timing: TimingId): RasterDriver {
  const driver = showScreen(randomScreen(seed), timing);
  driver.events.length = 0;
  return driver;
}

const settings = fc.record({
  seed: fc.integer(),
  timing: fc.constantFrom<TimingId>('60hz', '50hz', '50hz-clone'),
  cuts: fc.array(fc.double({ min: 0, max: 1.9, noNaN: true }), { minLength: 1, maxLength: 30 }),
});

describe('cutting', () => {
  test('runTo called in pieces, at any ticks, gives the same bytes as in one go', () => {
    fc.assert(
      fc.property(settings, ({ seed, timing, cuts }) => {
        const plain = shown(seed, timing);
        const frameTicks = ticksPerFrame(plain.timing);
        const from = plain.tick;
        const accesses = randomAccesses(seed, from, frameTicks);
        const cutTicks = cuts.map((frames) => from + Math.floor(frames * frameTicks));
        const close = accesses.flatMap(({ tick }) => [tick - 1, tick + 1, tick + 5]);
        const end = from + 2 * frameTicks;
        expect(playOn(shown(seed, timing), accesses, end, [...cutTicks, ...close])).toBe(
          playOn(plain, accesses, end, []),
        );
      }),
      { seed: 11, numRuns: 25 },
    );
  });

  test('the fingerprint notices an access that comes one dot late', () => {
    const accesses = (driver: RasterDriver) => [{ tick: driver.tick + 4 * (341 * 60 + 100), register: 1, value: 0xf8 }];
    const plain = shown(4, '60hz');
    const late = shown(4, '60hz');
    const end = plain.tick + 357_368;
    expect(
      playOn(
        late,
        accesses(late).map((access) => ({ ...access, tick: access.tick + 4 })),
        end,
        [],
      ),
    ).not.toBe(playOn(plain, accesses(plain), end, []));
  });
});

describe('saving and loading', () => {
  /** A raster of its own that stands where this one stands. */
  function twinOf(driver: RasterDriver, seed: number): RasterDriver {
    const twin = new RasterDriver({ timing: driver.timing.id, mirroring: randomScreen(seed).mirroring });
    while (twin.history.newest < driver.history.newest) {
      const picture = driver.history.get(twin.history.newest + 1);
      twin.history.begin(picture?.lineZeroTick ?? 0, picture?.targets ?? []).codes.set(picture?.codes ?? []);
    }
    twin.history.get(driver.history.newest)!.codes.set(driver.codes);
    twin.events.length = 0;
    twin.slot.load(driver.slot.save());
    twin.raster.load(driver.raster.save());
    return twin;
  }

  test('load(save(x)) goes on identically from any tick, changes under way included', () => {
    fc.assert(
      fc.property(settings, fc.nat(59), fc.nat(30), ({ seed, timing }, nth, after) => {
        const driver = shown(seed, timing);
        const frameTicks = ticksPerFrame(driver.timing);
        const from = driver.tick;
        const accesses = randomAccesses(seed, from, frameTicks);
        const at = accesses[nth]!.tick + after;
        playOn(
          driver,
          accesses.filter(({ tick }) => tick <= at),
          at,
          [],
        );
        driver.events.length = 0;
        const twin = twinOf(driver, seed);
        const rest = accesses.filter(({ tick }) => tick > at);
        const end = from + 2 * frameTicks;
        expect(playOn(twin, rest, end, [])).toBe(playOn(driver, rest, end, []));
      }),
      { seed: 12, numRuns: 30 },
    );
  });

  test.each([
    ['a mask write', [{ register: 1, value: 0xe0 }]],
    [
      'the second address write',
      [
        { register: 6, value: 0x25 },
        { register: 6, value: 0x31 },
      ],
    ],
  ])('one dot after %s, the change under way is kept', (_, writes) => {
    const driver = shown(9, '60hz').goTo(70, 123);
    for (const { register, value } of writes) driver.raster.writeRegister(register, value, driver.tick);
    driver.goOn(1).events.length = 0;
    const twin = twinOf(driver, 9);
    const end = driver.frameTick + 100 * 341 * 4;
    expect(playOn(twin, [], end, [])).toBe(playOn(driver, [], end, []));
  });

  test('a saved state does not change when the raster runs on', () => {
    const driver = shown(9, '60hz');
    const saved = driver.goTo(70, 123).raster.save();
    const before = JSON.stringify(saved);
    driver.goToNextFrame();
    expect(JSON.stringify(saved)).toBe(before);
  });

  test('a state whose picture is not in progress is refused', () => {
    const driver = shown(9, '60hz');
    const { raster } = new RasterDriver();
    expect(() => raster.load(driver.raster.save())).toThrow(
      expect.objectContaining({
        code: 'STATE_FIELD',
        details: expect.objectContaining({ field: 'raster.clock.frame' }),
      }),
    );
  });
});

describe('ticks past 32 bits', () => {
  test('a start at any tick gives the same picture and the same events, moved', () => {
    const screen = randomScreen(31);
    const start = 2 ** 33 + 7;
    const [early, late] = [0, start].map((tick) => showScreen(screen, '60hz', tick).goTo(240, 0)) as [
      RasterDriver,
      RasterDriver,
    ];
    expect(late.codes).toEqual(early.codes);
    expect(late.events).toEqual(early.events.map((event) => ({ ...event, tick: event.tick + start })));
  });
});
