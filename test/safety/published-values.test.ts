import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { displayBytes } from '../../src/references/palette.ts';
import { blockAtDistance, FIELD_SR } from '../../src/safety/field-of-view.ts';
import { FlashAnalyser } from '../../src/safety/flash-analyser.ts';
import { broadcastLuminanceCdM2, contrastRatio, linearOf, relativeLuminance } from '../../src/safety/flash-colour.ts';
import { FLASH_PROFILES, televisionProfile } from '../../src/safety/flash-profile.ts';
import { reducedBytes } from '../../src/safety/reduced-colours.ts';
import { luminanceOf, rateRgb } from '../../src/ui/lag-map/colour-scale.ts';
import { TIMINGS, ticksPerFrame, ticksToSeconds } from '../../src/units/timing.ts';

const grey = (byte: number): number => relativeLuminance(linearOf(byte), linearOf(byte), linearOf(byte));
const profile = (id: string) => FLASH_PROFILES.find((one) => one.id === id)!;

function changesOf(levels: readonly number[], fps: number): number {
  const analyser = new FlashAnalyser({ profile: profile('wcag-a'), size: { scale: 4, pixelAspect: 1 } });
  for (const [k, level] of levels.entries()) analyser.push(new Float64Array(2880).fill(level), k / fps);
  return analyser.worstChanges;
}

describe('levels', () => {
  test('grey 231 is below 0.8 and 232 is not (WCAG 2.2, relative luminance)', () => {
    expect(grey(231)).toBeLessThan(0.8);
    expect(grey(232)).toBeGreaterThanOrEqual(0.8);
  });

  test.each([
    [255, 200.05],
    [230, 160.43],
    [229, 158.94],
  ])('older broadcast formula, level %i: %f cd/m2 (from memory)', (level, expected) =>
    expect(Math.abs(broadcastLuminanceCdM2(level) - expected)).toBeLessThan(0.01),
  );

  test('20 and 160 cd/m2 are 0.10 and 0.80 of a white of 200, 0.05 and 0.40 of one of 400 (ITU-R BT.1702-3, second hand)', () => {
    const shares = (white: number) => [televisionProfile(white).leastChange, televisionProfile(white).darkLimit];
    expect(shares(200)).toEqual([0.1, 0.8]);
    expect(shares(400)).toEqual([0.05, 0.4]);
    expect([profile('tv-1702').leastChange, profile('tv-1702').darkLimit]).toEqual([0.1, 0.8]);
  });
});

describe('areas', () => {
  test('a quarter of 341 x 256 is 21 824 pixels (WCAG 2.2, G176), of 416 x 416 43 264 (Trace RERC, 2024)', () => {
    const quarter = (id: string) => profile(id).leastShare * profile(id).block!.width * profile(id).block!.height;
    expect(profile('wcag-a').block!.width * profile('wcag-a').block!.height).toBe(87_296);
    expect(quarter('wcag-a')).toBe(21_824);
    expect(quarter('trace-24')).toBe(43_264);
  });

  test('a cone of 10 degrees is 0.023909 sr, a quarter 0.005977 (geometry; WCAG 2.2 says 0.006)', () => {
    expect(Math.abs(FIELD_SR - 0.023909)).toBeLessThan(1e-5);
    expect(Math.abs(FIELD_SR / 4 - 0.005977)).toBeLessThan(1e-5);
  });

  test('a quarter of 10 by 7.5 degrees is 0.005712 sr (WCAG 2.2, G176)', () => {
    const { width, height } = blockAtDistance(1, 1);
    expect(Math.abs((width * height) / 4 - 0.005712)).toBeLessThan(1e-5);
  });

  test('24 inch, 1920 x 1080, 60 cm away: 378 x 284 pixels, a quarter is 26 846 (WCAG 2.2, G176, formula 2)', () => {
    const { width, height } = blockAtDistance(60 / 2.54, 91.79);
    expect(Math.abs(width / 378 - 1)).toBeLessThan(0.01);
    expect(Math.abs(height / 284 - 1)).toBeLessThan(0.01);
    expect(Math.abs((width * height) / 4 / 26_846 - 1)).toBeLessThan(0.01);
  });

  test.each([
    [2, 18.4],
    [1.2, 6.6],
  ])('a 20 inch set of 4:3, %f m away: the quarter is %f %% of its screen (derived)', (distanceM, percent) => {
    const { width, height } = blockAtDistance(distanceM, 1);
    const screen = 16 * 0.0254 * (12 * 0.0254);
    expect(Math.abs((25 * width * height) / screen - percent)).toBeLessThan(0.1);
  });
});

describe('seconds', () => {
  test('at 60.000 Hz a shot every 20 frames ends on the second: 7 changes in a closed second, 6 in an open one (derived)', () => {
    const shots = [...Array(61).fill(0.25), ...Array.from({ length: 240 }, (_, k) => (k % 20 === 0 ? 0 : 0.25))];
    expect(changesOf(shots, 60)).toBe(7);
    // A second that leaves out its end sees what the closed one sees of frames that are longer by a hair.
    expect(changesOf(shots, 59.9999)).toBe(6);
  });

  test.each([
    ['60hz', 0.334, 21, 349.42, 332.79],
    ['50hz', 0.36, 19, 379.95, 359.95],
  ] as const)(
    '%s: leading edges %f s apart take %i frames (ITU-R BT.1702-3, second hand)',
    (id, spaceS, frames, ms, lessMs) => {
      const timing = TIMINGS[id];
      // Rendering skips every other frame's odd dot at 60 Hz: half a dot a frame.
      const frameS = ticksToSeconds(timing, ticksPerFrame(timing) - (timing.skipsOddDot ? timing.dotDivider / 2 : 0));
      expect(Math.ceil(spaceS / frameS)).toBe(frames);
      expect(Math.abs(frames * frameS * 1000 - ms)).toBeLessThan(0.01);
      expect(Math.abs((frames - 1) * frameS * 1000 - lessMs)).toBeLessThan(0.01);
    },
  );

  test.each([
    ['1110100', 4],
    ['111101011001000', 8],
  ])('the m-sequence %s has %i runs, and one or two changes more than its inner ones (derived)', (code, runs) => {
    expect(code.match(/1+|0+/g)).toHaveLength(runs);
    const bits = [...code].map(Number);
    const over = (scene: number) =>
      changesOf([...Array(61).fill(scene), ...bits, ...Array(61).fill(scene)], 60.0988138);
    expect([over(0), over(0.25)]).toEqual([runs, runs + 1]);
  });

  test('more frames never lower the worst count (law, seeded)', () => {
    const levels = fc.array(fc.constantFrom(0, 0.05, 0.25, 0.5, 0.85, 1), { minLength: 2, maxLength: 80 });
    fc.assert(
      fc.property(levels, fc.nat(79), (list, cut) => {
        const prefix = list.slice(0, Math.max(1, cut % list.length));
        expect(changesOf(list, 60)).toBeGreaterThanOrEqual(changesOf(prefix, 60));
      }),
      { numRuns: 100, seed: 11 },
    );
  });
});

describe('reduced colours', () => {
  const white = (look: 'dimmed' | 'veiled') => reducedBytes(new Uint8Array([255, 255, 255]), look)[0]!;
  const black = (look: 'dimmed' | 'veiled') => reducedBytes(new Uint8Array([0, 0, 0]), look)[0]!;

  test('a third of the brightness: white becomes 87, relative luminance 0.09531; 89 would be 0.0999 (derived)', () => {
    expect([white('dimmed'), black('dimmed')]).toEqual([87, 0]);
    expect(Math.abs(grey(87) - 0.09531)).toBeLessThan(1e-4);
    expect(Math.abs(grey(89) - 0.0999)).toBeLessThan(1e-4);
  });

  test('a veil: 22 % of the picture over grey 0.20 spans 0.0957, 23 % would span 0.1014 (derived)', () => {
    expect(Math.abs(grey(white('veiled')) - grey(black('veiled')) - 0.0957)).toBeLessThan(1e-3);
    const span = (share: number) => {
      const level = (encoded: number) => (encoded <= 0.04045 ? encoded / 12.92 : ((encoded + 0.055) / 1.055) ** 2.4);
      return level((1 - share) * 0.2 + share) - level((1 - share) * 0.2);
    };
    expect(Math.abs(span(0.22) - 0.0957)).toBeLessThan(1e-4);
    expect(Math.abs(span(0.23) - 0.1014)).toBeLessThan(1e-4);
  });

  test.each(['dimmed', 'veiled'] as const)(
    '%s: no two colours of the console are a flash apart, none is red',
    (look) => {
      for (const swaps of [false, true]) {
        const bytes = reducedBytes(displayBytes(swaps), look);
        const levels = Array.from({ length: bytes.length / 3 }, (_, code) => bytes.subarray(3 * code, 3 * code + 3));
        const luminances = levels.map(([red, green, blue]) =>
          relativeLuminance(linearOf(red!), linearOf(green!), linearOf(blue!)),
        );
        expect(Math.max(...luminances) - Math.min(...luminances)).toBeLessThan(0.1);
        expect(levels.every(([red, green, blue]) => red === green && green === blue)).toBe(true);
      }
    },
  );
});

describe('scales and contrast', () => {
  test.each([
    [0x76, 4.542],
    [0x77, 4.478],
    [0x94, 3.033],
    [0x95, 2.995],
  ])('grey %i on white: %f (WCAG 2.2, contrast ratio)', (byte, expected) =>
    expect(Math.abs(contrastRatio(1, grey(byte)) - expected)).toBeLessThan(0.001),
  );

  test('the colours of rates never get darker over 256 steps (cividis: PLoS ONE 13(7) e0199239, 2018)', () => {
    const steps = Array.from({ length: 256 }, (_, i) => luminanceOf(rateRgb(i / 255)));
    for (const [i, step] of steps.entries()) if (i > 0) expect(step).toBeGreaterThanOrEqual(steps[i - 1]!);
  });
});
