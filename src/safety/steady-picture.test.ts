import fc from 'fast-check';
import { expect, it, test } from 'vitest';
import { FlashAnalyser } from './flash-analyser.ts';
import { FlashGovernor } from './flash-governor.ts';
import { FLASH_PROFILES } from './flash-profile.ts';
import { SteadyPicture } from './steady-picture.ts';

const SIZE = { scale: 1.25, pixelAspect: 1 };
const PROFILE = FLASH_PROFILES.find(({ id }) => id === 'wcag-a')!;
const grey = (level: number): Float64Array => new Float64Array(32 * 30 * 3).fill(level);
/** A scene with a bright patch of so many cells at a place. */
function patch(scene: number, cells: number, at: number): Float64Array {
  return grey(scene).fill(1, 3 * at, 3 * (at + cells));
}

test('flashes of a shot are not drawn, the scene before them stays', () => {
  const picture = new SteadyPicture(new FlashGovernor(SIZE));
  const frames = [0.3, 0.3, 0, 0, 1, 0, 0.3, 0.3];
  expect(frames.map((level, k) => picture.draws(grey(level), k / 60))).toEqual([
    true,
    true,
    false,
    false,
    false,
    false,
    true,
    true,
  ]);
});

test.each([
  ['60 Hz', 60.0988],
  ['50 Hz', 50.007],
])(
  'the longest script of a shot is not drawn at %s: six black pictures, three boxes of two, two black ones',
  (_name, fps) => {
    const picture = new SteadyPicture(new FlashGovernor(SIZE));
    const black = grey(0);
    const boxes = [300, 450, 600].flatMap((at) => [patch(0, 9, at), patch(0, 9, at)]);
    const script = [...Array(6).fill(black), ...boxes, black, black];
    picture.draws(grey(0.3), 0);
    expect(script.map((light, k) => picture.draws(light, (k + 1) / fps))).not.toContain(true);
  },
);

test('another scene is drawn when it has stood for 0.3 s', () => {
  const picture = new SteadyPicture(new FlashGovernor(SIZE));
  picture.draws(grey(0.3), 0);
  const drawn = Array.from({ length: 25 }, (_, k) => picture.draws(grey(0.9), (k + 1) / 60));
  expect(drawn.indexOf(true)).toBe(18);
});

test('what moves in the scene is drawn at once', () => {
  const picture = new SteadyPicture(new FlashGovernor(SIZE));
  expect(Array.from({ length: 6 }, (_, k) => picture.draws(patch(0.3, 9, 9 * k), k / 60))).not.toContain(false);
});

it('what is drawn never makes more than 6 changes in a second, for any frames at any times', () => {
  const frame = fc
    .tuple(fc.constantFrom(0, 0.3, 0.6, 1), fc.nat(200), fc.nat(700))
    .map(([scene, cells, at]) => patch(scene, cells, at));
  const step = fc.constantFrom(0.004, 1 / 60, 0.1, 0.25);
  fc.assert(
    fc.property(fc.array(fc.tuple(frame, step), { minLength: 5, maxLength: 60 }), (list) => {
      const judge = new FlashAnalyser({ profile: PROFILE, size: SIZE });
      const picture = new SteadyPicture(new FlashGovernor(SIZE));
      let [timeS, shown] = [0, grey(0)];
      for (const [light, after] of list) {
        if (picture.draws(light, timeS)) shown = light;
        judge.push(shown, timeS);
        timeS += after;
      }
      expect(judge.worstChanges).toBeLessThanOrEqual(6);
    }),
    { numRuns: 40, seed: 5 },
  );
});
