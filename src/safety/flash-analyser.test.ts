import fc from 'fast-check';
import { describe, expect, it, test } from 'vitest';
import { FlashAnalyser, type FlashVerdict } from './flash-analyser.ts';
import { linearOf } from './flash-colour.ts';
import { FlashGovernor } from './flash-governor.ts';
import { FLASH_PROFILES, type FlashProfile } from './flash-profile.ts';

const CONSOLE_60 = 60.0988138;
const CONSOLE_50 = 50.0069786;
const profileOf = (id: string): FlashProfile => FLASH_PROFILES.find((profile) => profile.id === id)!;
const WCAG_A = profileOf('wcag-a');

/** What a frame shows: one level everywhere, or a level by cell. */
type Frame = number | ((column: number, row: number) => number);

interface Run {
  readonly fps?: number;
  readonly scale?: number;
  readonly profile?: FlashProfile;
  readonly pixelAspect?: number;
}

const greys = (frame: Frame): Float64Array => {
  const light = new Float64Array(32 * 30 * 3);
  for (let cell = 0; cell < 960; cell++)
    light.fill(typeof frame === 'number' ? frame : frame(cell % 32, Math.floor(cell / 32)), cell * 3, cell * 3 + 3);
  return light;
};

function analyse(frames: readonly Frame[], run: Run = {}): FlashVerdict {
  const { fps = CONSOLE_60, scale = 4, profile = WCAG_A, pixelAspect = 1 } = run;
  const analyser = new FlashAnalyser({ profile, size: { scale, pixelAspect } });
  for (const [k, frame] of frames.entries()) analyser.push(greys(frame), k / fps);
  return analyser.verdict();
}

const worstOf = ({ worst }: FlashVerdict, counting: 'place' | 'field', kind = 'general'): number =>
  worst.find((one) => one.kind === kind && one.counting === counting)!.changes;
const worstAt = (frames: readonly Frame[], run?: Run): number => worstOf(analyse(frames, run), 'place');
const worstIn = (frames: readonly Frame[], run?: Run): number => worstOf(analyse(frames, run), 'field');

const repeat = <T>(count: number, frames: readonly T[]): T[] => Array.from({ length: count }, () => frames).flat();

/** `shots` times the frames of a shot, `spacing` frames from shot to shot, before and after a scene of a second. */
function shots(count: number, pattern: readonly Frame[], spacing: number, scene: number): Frame[] {
  const one = [...pattern, ...Array.from({ length: spacing - pattern.length }, () => scene)];
  return [...repeat(61, [scene]), ...repeat(count, one), ...repeat(61, [scene])];
}

const BLACK_ONLY = [0];
const BLACK_WHITE = [0, 1];

describe('counts of changes (WCAG 2.2 term and technique G19; derived)', () => {
  test.each([
    [[0.25, 0, 1, 0.25], 3],
    [[0, 1, 0], 2],
    [[0.95, 0, 1, 0.95], 2],
    [[1, 0.85, 1], 0],
    [[1, 0.79, 1], 2],
    [Array.from({ length: 31 }, (_, i) => i / 30), 1],
    [[...Array.from({ length: 31 }, (_, i) => i / 30), 0], 2],
  ])('%j: %i', (frames, changes) => expect(worstAt(frames as number[])).toBe(changes));

  test.each([6, 7])('%i quick changes, either polarity: 6 pass, 7 fail', (changes) => {
    for (const first of [0, 1]) {
      const frames = Array.from({ length: changes + 1 }, (_, i) => (i + first) % 2);
      const verdict = analyse(frames);
      expect(worstOf(verdict, 'place')).toBe(changes);
      expect(verdict.passes).toBe(changes === 6);
    }
  });
});

describe('shots (derived from the same rules)', () => {
  const GAP = 14;
  test.each([
    ['one black frame', BLACK_ONLY, 0.25, [2, 4, 6, 8]],
    ['one black frame', BLACK_ONLY, 0.5, [2, 4, 6, 8]],
    ['one black frame', BLACK_ONLY, 0.05, [0, 0, 0, 0]],
    ['black, white', BLACK_WHITE, 0.25, [3, 5, 7, 9]],
    ['black, white', BLACK_WHITE, 0.5, [3, 5, 7, 9]],
    ['black, white', BLACK_WHITE, 0, [2, 4, 6, 8]],
    ['black, white', BLACK_WHITE, 0.05, [2, 4, 6, 8]],
    ['black, white', BLACK_WHITE, 0.85, [2, 4, 6, 8]],
    ['black, white', BLACK_WHITE, 0.95, [2, 4, 6, 8]],
    ['black, black, white', [0, 0, 1], 0.25, [3, 5, 7, 9]],
    ['white, black', [1, 0], 0.25, [3, 5, 7, 9]],
  ])('%s, frames %j, over a scene of %f: %o', (_name, pattern, scene, expected) => {
    expect([1, 2, 3, 4].map((count) => worstAt(shots(count, pattern, GAP, scene)))).toEqual(expected);
  });

  test.each([
    [CONSOLE_60, BLACK_ONLY, 0.25, 20, 7],
    [CONSOLE_60, BLACK_ONLY, 0.25, 21, 6],
    [CONSOLE_50, BLACK_ONLY, 0.25, 16, 8],
    [CONSOLE_50, BLACK_ONLY, 0.25, 17, 6],
    [60, BLACK_ONLY, 0.25, 20, 7],
    [CONSOLE_60, BLACK_WHITE, 0.25, 29, 7],
    [CONSOLE_60, BLACK_WHITE, 0.25, 30, 5],
    [CONSOLE_50, BLACK_WHITE, 0.25, 24, 7],
    [CONSOLE_50, BLACK_WHITE, 0.25, 25, 5],
    [60, BLACK_WHITE, 0.25, 29, 7],
    [60, BLACK_WHITE, 0.25, 30, 5],
    [CONSOLE_60, [1], 0, 21, 6],
    [CONSOLE_60, [1], 0, 20, 7],
    [CONSOLE_50, [1], 0, 17, 6],
  ])('at %f frames a second %j over %f every %i frames for long: %i', (fps, pattern, scene, spacing, expected) => {
    expect(worstAt(shots(12, pattern, spacing, scene), { fps })).toBe(expected);
  });

  test.each([
    [8, 8],
    [10, 7],
    [11, 6],
    [12, 6],
    [15, 5],
  ])('black and white in turn, slowed down by %i: %i in the worst second', (slowness, expected) =>
    expect(worstAt(repeat(40, BLACK_WHITE), { fps: CONSOLE_60 / slowness })).toBe(expected),
  );

  test('black and white in turn at every frame: 61 within a second at 60 Hz, 51 at 50 Hz', () => {
    expect(worstAt(repeat(70, BLACK_WHITE))).toBe(61);
    expect(worstAt(repeat(70, BLACK_WHITE), { fps: CONSOLE_50 })).toBe(51);
  });
});

describe('coded flashes, one bit a frame (derived)', () => {
  const bits = (code: string): number[] => [...code].map(Number);
  test.each([
    ['1110100', 5, 4, 9, 8],
    ['0101010', 8, 6, 16, 12],
    ['111101011001000', 9, 8, 17, 16],
    ['101010101010101', 16, 16, undefined, 32],
  ])('%s: %i over 0.25, %i over black; twice %s and %s', (code, onGrey, onBlack, twiceGrey, twiceBlack) => {
    expect(worstAt(shots(1, bits(code), 30, 0.25))).toBe(onGrey);
    expect(worstAt(shots(1, bits(code), 30, 0))).toBe(onBlack);
    if (twiceGrey !== undefined) expect(worstAt(shots(2, bits(code), 30, 0.25))).toBe(twiceGrey);
    expect(worstAt(shots(2, bits(code), 30, 0))).toBe(twiceBlack);
  });
});

describe('the calibration flash over a scene (derived)', () => {
  const COLOURS = {
    white: [255, 255, 255],
    blue: [0, 0, 255],
    'light blue': [100, 150, 255],
    'grey 128': [128, 128, 128],
    'grey 89': [89, 89, 89],
  } as const;
  const EXPECTED: Readonly<Record<string, readonly number[]>> = {
    0: [2, 0, 2, 2, 0],
    0.05: [2, 0, 2, 2, 0],
    0.15: [2, 0, 2, 0, 0],
    0.25: [2, 2, 0, 0, 2],
    0.3: [2, 2, 0, 0, 2],
    0.5: [2, 2, 2, 2, 2],
  };

  test.each(Object.entries(EXPECTED))(
    'scene of %s: white, blue, light blue, greys 128 and 89 give %j',
    (scene, row) => {
      const counts = Object.values(COLOURS).map((bytes) => {
        const analyser = new FlashAnalyser({ profile: WCAG_A, size: { scale: 4, pixelAspect: 1 } });
        const flash = new Float64Array(2880).map((_, i) => linearOf(bytes[i % 3]!));
        for (let k = 0; k < 40; k++) analyser.push(k >= 10 && k < 20 ? flash : greys(Number(scene)), k / CONSOLE_60);
        return worstOf(analyser.verdict(), 'place');
      });
      expect(counts).toEqual(row);
    },
  );

  test('ten black and ten white frames over 0.25: 3; five pairs of one frame each: 11, which fails', () => {
    expect(worstAt([...repeat(20, [0.25]), ...repeat(10, [0]), ...repeat(10, [1]), ...repeat(20, [0.25])])).toBe(3);
    const pairs = analyse([...repeat(20, [0.25]), ...repeat(5, [1, 0]), ...repeat(20, [0.25])]);
    expect([worstOf(pairs, 'place'), pairs.passes]).toEqual([11, false]);
  });
});

describe('area', () => {
  const boxFrame =
    (dots: number): Frame =>
    (column, row) =>
      column < dots / 8 && row < dots / 8 ? 1 : 0;

  test.each([
    [32, 3, 1, 0.1056],
    [32, 4, 1, 0.1877],
    [48, 3, 1, 0.2375],
    [48, 4, 1, 0.4223],
    [48, 3, 8 / 7, 0.2715],
  ])(
    'a box of %i dots shown at %fx, dots %f wide, is %f of the 341 x 256 block (G176)',
    (dots, scale, pixelAspect, share) => {
      const profile = { ...WCAG_A, leastShare: 0, isShareStrict: true };
      const { worst } = analyse([0, boxFrame(dots), 0], { scale, pixelAspect, profile });
      expect(worst[0]!.share).toBeCloseTo(share, 3);
    },
  );

  test('a picture of 144 x 135 CSS pixels passes whatever it shows: 0.223 of the block', () => {
    const verdict = analyse(repeat(60, BLACK_WHITE), { scale: 135 / 240, pixelAspect: 1 });
    expect(verdict.passes).toBe(true);
    const loose = analyse(repeat(60, BLACK_WHITE), {
      scale: 135 / 240,
      profile: { ...WCAG_A, leastShare: 0, isShareStrict: true },
    });
    expect(loose.worst[0]!.share).toBeCloseTo(0.2227, 3);
  });

  test('a picture of 256 x 240 that alternates fails: 0.704 of the block', () => {
    const { passes, worst } = analyse(repeat(60, BLACK_WHITE), { scale: 1 });
    expect(passes).toBe(false);
    expect(worst[0]!.share).toBeCloseTo(0.7038, 3);
  });

  test.each([
    [48, 4],
    [32, 2],
  ])('over the field at 4x a shot with a box of %i dots over 0.25 makes %i changes', (dots, expected) => {
    const frame: Frame = (column, row) =>
      column >= 12 && column < 12 + dots / 8 && row >= 12 && row < 12 + dots / 8 ? 1 : 0;
    expect(worstIn([...repeat(30, [0.25]), 0, frame, ...repeat(30, [0.25])])).toBe(expected);
  });

  // A target a frame after one black frame; the boxes of 32 dots far apart, those of 48 dots side by side.
  test.each([
    [32, 12, 3, 2],
    [32, 12, 4, 2],
    [48, 6, 4, 6],
  ])(
    'three boxes of %i dots one after another, %i cells from one to the next, at %fx: %i over the field',
    (dots, step, scale, expected) => {
      const box =
        (place: number): Frame =>
        (column, row) =>
          column >= place * step && column < place * step + dots / 8 && row >= 12 && row < 12 + dots / 8 ? 1 : 0;
      const frames = [...repeat(30, [0.25]), 0, box(0), box(1), box(2), ...repeat(30, [0.25])];
      expect(worstIn(frames, { scale })).toBe(expected);
      expect(worstAt(frames, { scale })).toBeLessThanOrEqual(4);
    },
  );

  test.each([
    [32, 3, true, 0.1056],
    [32, 4, true, 0.1877],
    [48, 3, true, 0.2375],
    [48, 4, false, 0.4223],
  ])('a code of 15 bits in a box of %i dots over black at %fx: passes %s, share %f', (dots, scale, passes, share) => {
    const box: Frame = (column, row) => (column < dots / 8 && row < dots / 8 ? 1 : 0);
    const frames = [...'111101011001000'].map((bit) => (bit === '1' ? box : 0));
    const verdict = analyse([...repeat(30, [0 as Frame]), ...frames, ...repeat(30, [0 as Frame])], { scale });
    expect(verdict.passes).toBe(passes);
    const loose = { ...WCAG_A, leastShare: 0.001 };
    const counted = analyse([...repeat(30, [0 as Frame]), ...frames, ...repeat(30, [0 as Frame])], {
      scale,
      profile: loose,
    });
    expect(worstOf(counted, 'place')).toBe(8);
    expect(counted.worst[0]!.share).toBeCloseTo(share, 3);
  });

  test('flashes that move from place to place fail over the field, not at a place', () => {
    // Eight columns of cells after each other are lit for two frames each: a third of the 11 cells that the block is wide.
    const frames: Frame[] = Array.from(
      { length: 60 },
      (_, k) => (column: number) => (Math.floor(column / 4) === Math.floor(k / 3) % 8 && k % 3 > 0 ? 1 : 0),
    );
    const verdict = analyse(frames, { scale: 4 });
    expect(worstOf(verdict, 'field')).toBeGreaterThanOrEqual(7);
    expect(worstOf(verdict, 'place')).toBeLessThan(7);
  });
});

describe('red', () => {
  const redCount = (a: readonly number[], b: readonly number[], kind: string, profile = WCAG_A): number => {
    const analyser = new FlashAnalyser({ profile, size: { scale: 4, pixelAspect: 1 } });
    const frameOf = (bytes: readonly number[]) => new Float64Array(2880).map((_, i) => linearOf(bytes[i % 3]!));
    for (let k = 0; k < 5; k++) analyser.push(frameOf(k % 2 === 0 ? a : b), k / 60);
    return worstOf(analyser.verdict(), 'place', kind);
  };

  // Pairs: WCAG 2.2 working definition (0.2 in u'v', ratio 0.8) and the older test; swatches of the Trace RERC test media.
  test.each([
    ['red, black', [255, 0, 0], [0, 0, 0], 4, 4],
    ['red, white', [255, 0, 0], [255, 255, 255], 4, 4],
    ['red, blue', [255, 0, 0], [0, 0, 255], 4, 4],
    ['red, green', [255, 0, 0], [0, 255, 0], 4, 4],
    ['red, orange', [255, 0, 0], [255, 128, 0], 0, 4],
    ['brick, black', [181, 49, 32], [0, 0, 0], 0, 4],
    ['205 78 78, 60 132 132', [205, 78, 78], [60, 132, 132], 0, 4],
    ['205 78 78, 31 134 134', [205, 78, 78], [31, 134, 134], 4, 4],
    ['220 55 104, 129 107 193', [220, 55, 104], [129, 107, 193], 0, 4],
    ['220 55 104, 119 109 197', [220, 55, 104], [119, 109, 197], 4, 4],
    ['magenta, black', [255, 0, 255], [0, 0, 0], 0, 0],
  ])('%s', (_name, a, b, newer, older) => {
    expect([redCount(a, b, 'red'), redCount(a, b, 'older red')]).toEqual([newer, older]);
  });

  test('every change to or from saturated red counts on television (BT.1702-3, second hand)', () => {
    expect(redCount([255, 0, 0], [255, 128, 0], 'saturated red', profileOf('tv-1702'))).toBe(0);
    expect(redCount([181, 49, 32], [0, 0, 0], 'saturated red', profileOf('tv-1702'))).toBe(4);
  });
});

describe('other profiles', () => {
  test('television counts the whole raster: a box of 48 dots is 3.75 % of it, the black frame counts', () => {
    const box: Frame = (column, row) => (column < 6 && row < 6 ? 1 : 0);
    expect(worstAt(repeat(30, [0, box]), { profile: profileOf('tv-1702') })).toBe(0);
    expect(worstAt(shots(4, BLACK_ONLY, 14, 0.25), { profile: profileOf('tv-1702') })).toBe(8);
  });

  test('slow ramps do not count under the proposed guidelines of 2024', () => {
    const ramp = (steps: number) => [
      ...Array.from({ length: steps }, (_, i) => i / steps),
      ...Array.from({ length: steps }, (_, i) => 1 - i / steps),
    ];
    // A tenth of the way takes 6 frames of 60 steps: 100 ms.
    expect(worstAt(repeat(3, ramp(60)), { profile: profileOf('trace-24') })).toBe(0);
    expect(worstAt(repeat(3, ramp(6)), { profile: profileOf('trace-24') })).toBeGreaterThan(4);
  });

  test('a flash out of a picture that drifts a little counts under them', () => {
    const drifting = repeat(5, [0, 0.001, 0.002, 0.003, 0.004, 0.005, 1, 0.999, 0.998, 0.997, 0.996, 0.995]);
    expect(worstAt(drifting, { profile: profileOf('trace-24') })).toBe(9);
  });

  test('a flash out of a picture that stood still counts under them', () => {
    const standing = repeat(3, [...repeat(8, [0]), ...repeat(8, [1])]);
    expect(worstAt(standing, { profile: profileOf('trace-24') })).toBe(5);
  });

  test('one flashing cell fails the strictest profile and no other', () => {
    const frames = repeat(10, [0, ((column, row) => (column === 0 && row === 0 ? 1 : 0)) as Frame]);
    const passes = FLASH_PROFILES.map((profile) => [profile.id, analyse(frames, { profile }).passes]);
    expect(Object.fromEntries(passes)).toEqual({
      'wcag-a': true,
      'wcag-aaa': false,
      'tv-1702': true,
      'trace-24': true,
    });
  });
});

describe('laws', () => {
  const level = fc.constantFrom(0, 0.05, 0.2, 0.5, 0.85, 1);
  const cell = fc.tuple(fc.nat(31), fc.nat(29), level);
  const frame = fc.tuple(level, fc.array(cell, { maxLength: 4 })).map(
    ([ground, boxes]): Frame =>
      (column, row) =>
        boxes.find(([x, y]) => Math.abs(column - x) < 8 && Math.abs(row - y) < 8)?.[2] ?? ground,
  );

  /** Most opposing changes that can be picked from these levels, each from a picked one to a later one: by its definition. */
  function mostChanges(levels: readonly number[]): number {
    const counts = (low: number, high: number): boolean => high - low >= 0.1 - 1e-12 && low < 0.8;
    const rising = levels.map(() => 0);
    const falling = levels.map(() => 0);
    for (let k = 0; k < levels.length; k++) {
      for (let i = 0; i < k; i++) {
        if (counts(levels[i]!, levels[k]!)) rising[k] = Math.max(rising[k]!, falling[i]! + 1);
        if (counts(levels[k]!, levels[i]!)) falling[k] = Math.max(falling[k]!, rising[i]! + 1);
      }
    }
    return Math.max(0, ...rising, ...falling);
  }

  it('within a second the count is the most changes that can be picked', () => {
    const anyLevel = fc.double({ min: 0, max: 1, noNaN: true });
    fc.assert(
      fc.property(fc.array(fc.oneof(level, anyLevel), { minLength: 2, maxLength: 30 }), (levels) => {
        expect(worstAt(levels)).toBe(mostChanges(levels));
      }),
      { numRuns: 300, seed: 1 },
    );
  });

  it('where a sequence begins in time makes no difference, nor does a steady picture before and after it', () => {
    fc.assert(
      fc.property(fc.array(frame, { minLength: 2, maxLength: 20 }), (frames) => {
        const padded = [...repeat(40, [frames[0]!]), ...frames, ...repeat(20, [frames[frames.length - 1]!])];
        expect(analyse(padded).worst.map(({ changes }) => changes)).toEqual(
          analyse(frames).worst.map(({ changes }) => changes),
        );
      }),
      { numRuns: 60, seed: 2 },
    );
  });

  it('governed frames never make more than 6 changes in a second, for any frames at any times', () => {
    const step = fc.constantFrom(0, 0.004, 1 / 60, 0.05, 0.2);
    fc.assert(
      fc.property(fc.array(fc.tuple(level, step), { minLength: 5, maxLength: 80 }), (list) => {
        const governor = new FlashGovernor({ scale: 4, pixelAspect: 1 });
        const shown: { level: number; timeS: number }[] = [];
        let timeS = 0;
        for (const [next, after] of list) {
          const before = shown[shown.length - 1]?.level ?? 0;
          shown.push({ level: governor.admits(greys(next), timeS) ? next : before, timeS });
          timeS += after;
        }
        for (const { timeS: end } of shown) {
          const second = shown.filter((frame) => frame.timeS <= end && frame.timeS >= end - 1);
          expect(mostChanges(second.map((frame) => frame.level))).toBeLessThanOrEqual(6);
        }
      }),
      { numRuns: 60, seed: 3 },
    );
  });

  it('a governor lets through what is harmless', () => {
    const governor = new FlashGovernor({ scale: 4, pixelAspect: 1 });
    const admitted = Array.from({ length: 120 }, (_, k) => governor.admits(greys(k % 30 === 0 ? 0 : 0.5), k / 60));
    expect(admitted).not.toContain(false);
  });
});

test.each([
  [
    'a frame of another size',
    () => new FlashAnalyser({ profile: WCAG_A, size: { scale: 1, pixelAspect: 1 } }).push(new Float64Array(3), 0),
  ],
  [
    'cells that do not divide the picture',
    () => new FlashAnalyser({ profile: WCAG_A, size: { scale: 1, pixelAspect: 1 }, cellDots: 7 }),
  ],
  ['a size of 0', () => new FlashAnalyser({ profile: WCAG_A, size: { scale: 0, pixelAspect: 1 } })],
])('%s is refused', (_name, act) => expect(act).toThrow(/allowed|expected|is /));

test('trace-24: a picture that stood for long was shown until the next one, also two pictures later', () => {
  const profile = FLASH_PROFILES.find(({ id }) => id === 'trace-24')!;
  const analyser = new FlashAnalyser({
    profile,
    size: { scale: 20, pixelAspect: 1 },
    raster: { width: 32, height: 32 },
  });
  const told = [
    [0, 0],
    [0.09, 1],
    [0.18, 1.01],
    [0.09, 2],
    [0, 2.01],
  ] as const;
  const changed = told.map(([level, timeS]) => {
    analyser.push(new Float64Array(3 * 16).fill(level), timeS);
    return analyser.hasChanged;
  });
  // 0 to 0.18 within 10 ms, and back.
  expect(changed).toEqual([false, false, true, false, true]);
});
