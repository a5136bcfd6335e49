import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { TimingId } from '../../src/units/timing.ts';
import { expectedHit, expectedOverflow, expectedPicture } from './expected-picture.ts';
import { randomScreen, type Screen, showScreen } from './screen.ts';

const ALL_DOTS = 256 * 240;

/** The first pixel that differs, in words; undefined when the pictures are equal to the byte. */
function firstDifference(found: Uint16Array, expected: Uint16Array): string | undefined {
  for (let i = 0; i < ALL_DOTS; i++) {
    if (found[i] !== expected[i]) {
      return `pixel ${i % 256} of line ${Math.floor(i / 256)}: ${found[i]!.toString(16)} for ${expected[i]!.toString(16)}`;
    }
  }
  return undefined;
}

const drawn = (screen: Screen): Uint16Array => showScreen(screen).goTo(240, 0).codes.slice();

const withHeight = (screen: Screen, height: number): Screen => ({
  ...screen,
  control: (screen.control & ~0x20) | (height === 16 ? 0x20 : 0),
});

describe('whole pictures against a per-pixel formula', () => {
  test.each([8, 16])(
    'two pictures each of 40 screens drawn by lot, sprites of %i lines, equal to the byte',
    (height) => {
      fc.assert(
        fc.property(fc.integer(), (seed) => {
          const screen = withHeight(randomScreen(seed), height);
          const expected = expectedPicture(screen);
          const driver = showScreen(screen).goTo(240, 0);
          expect(firstDifference(driver.codes, expected)).toBeUndefined();
          expect(firstDifference(driver.goToNextFrame().goTo(240, 0).codes, expected)).toBeUndefined();
        }),
        { seed: 240 + height, numRuns: 40 },
      );
    },
  );

  test.each(['50hz', '50hz-clone'] satisfies TimingId[])('the picture is the same on %s', (timing) => {
    const screen = randomScreen(50);
    expect(firstDifference(showScreen(screen, timing).goTo(240, 0).codes, expectedPicture(screen))).toBeUndefined();
  });

  test('one layer alone, and none', () => {
    for (const mask of [0x0a, 0x14, 0x08, 0x10]) {
      const screen = { ...randomScreen(3), mask };
      expect(firstDifference(drawn(screen), expectedPicture(screen))).toBeUndefined();
    }
  });

  test('the formula notices an error of one dot in any of 30 screens', () => {
    fc.assert(
      fc.property(fc.integer(), fc.nat(ALL_DOTS - 1), (seed, at) => {
        const screen = randomScreen(seed);
        const expected = expectedPicture(screen);
        const scrolled = { ...screen, scrollX: screen.scrollX ^ 1 };
        expect(firstDifference(drawn(scrolled), expected)).toBeDefined();
        const oam = screen.oam.map((byte, i) => (i % 4 === 3 ? (byte + 1) & 0xff : byte));
        expect(firstDifference(drawn({ ...screen, oam }), expected)).toBeDefined();
        const late = drawn(screen);
        late.copyWithin(1, 0);
        expect(firstDifference(late, expected)).toBeDefined();
        const wrong = expected.slice();
        wrong[at]! ^= 1;
        expect(firstDifference(wrong, expected)).toContain(`pixel ${at % 256} of line ${Math.floor(at / 256)}:`);
      }),
      { seed: 1, numRuns: 30 },
    );
  });
});

describe('sprite flags against the same formula', () => {
  test.each([8, 16])('sprite 0 hit rises at its dot and not before, sprites of %i lines', (height) => {
    let hits = 0;
    fc.assert(
      fc.property(fc.integer(), (seed) => {
        const screen = withHeight(randomScreen(seed), height);
        const driver = showScreen(screen);
        const hit = expectedHit(screen);
        if (hit !== undefined) {
          hits++;
          expect(driver.goTo(hit.line, hit.dot - 1).read(2) & 0x40).toBe(0);
          expect(driver.goTo(hit.line, hit.dot).read(2) & 0x40).toBe(0x40);
        }
        expect(driver.goTo(240, 0).read(2) & 0x40).toBe(hit === undefined ? 0 : 0x40);
      }),
      { seed: 40 + height, numRuns: 40 },
    );
    expect(hits).toBeGreaterThan(10);
    expect(hits).toBeLessThan(40);
  });

  test('overflow is up at the end of the picture as the diagonal search says', () => {
    let overflows = 0;
    fc.assert(
      fc.property(fc.integer(), fc.integer({ min: 0, max: 64 }), (seed, count) => {
        const screen = randomScreen(seed);
        // Fewer sprites in range, so that both outcomes are met; tile, attribute and x still lie in the search's way.
        const oam = screen.oam.map((byte, i) => (i % 4 === 0 && i >= 4 * count ? 0xf0 | (byte & 15) : byte));
        const sparse = { ...screen, oam };
        const isExpected = expectedOverflow(sparse);
        if (isExpected) overflows++;
        expect(showScreen(sparse).goTo(240, 0).read(2) & 0x20).toBe(isExpected ? 0x20 : 0);
      }),
      { seed: 20, numRuns: 60 },
    );
    expect(overflows).toBeGreaterThan(5);
    expect(overflows).toBeLessThan(55);
  });
});
