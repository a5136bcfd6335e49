import { describe, expect, test } from 'vitest';
import { FlashLoad } from './flash-load.ts';
import { FLASH_PROFILES } from './flash-profile.ts';
import { FlashWatch } from './flash-watch.ts';
import { SceneCuts } from './scene-cuts.ts';

const CELLS = 32 * 30;
const grey = (level: number): Float64Array => new Float64Array(3 * CELLS).fill(level);
const PROFILES = FLASH_PROFILES.filter(({ id }) => id === 'wcag-a');

/** Seconds of a level, 60 frames each. */
const held = (level: number, s: number): number[] => Array(Math.round(60 * s)).fill(level);
const flashing = (count: number, dark: number, light: number): number[] =>
  Array.from({ length: count }, (_, k) => (k % 2 === 0 ? light : dark));

function watched(levels: readonly number[]) {
  const watch = new FlashWatch<number>({ profiles: PROFILES, size: { scale: 3, pixelAspect: 1 } });
  for (const [k, level] of levels.entries()) watch.push({ light: grey(level), timeS: k / 60, picture: () => k });
  return watch.verdicts()[0]!;
}

describe('scenes', () => {
  test('title, street and title again are three; a flash within the street is none', () => {
    const cuts = new SceneCuts();
    const levels = [...held(0.05, 2), ...held(0.5, 1), 0, 0, 1, 1, ...held(0.5, 2), ...held(0.05, 2)];
    const begins = levels.flatMap((level, k) => {
      const step = cuts.push(grey(level), k / 60);
      return step.kind === 'begins' ? [step.fromS] : [];
    });
    expect(begins).toEqual([0, 2, expect.closeTo(5 + 4 / 60, 6)]);
  });

  test('each scene has its own worst, the stream that of the worst scene', () => {
    const { scenes, worst, passes } = watched([
      ...held(0.05, 1.5),
      ...flashing(4, 0.05, 0.5),
      ...held(0.05, 1.5),
      ...held(0.5, 2),
      ...flashing(20, 0, 1),
      ...held(0.5, 2),
    ]);
    const most = (list: typeof worst) => Math.max(...list.map(({ changes }) => changes));
    expect(scenes.map((scene) => [scene.passes, most(scene.worst) > 6])).toEqual([
      [true, false],
      [false, true],
    ]);
    expect(passes).toBe(false);
    expect(most(worst)).toBe(most(scenes[1]!.worst));
  });

  test('the pictures of the worst second are kept, 8 at most', () => {
    const { worstSecond } = watched([...held(0, 1), ...flashing(20, 0, 1), ...held(0, 2)]);
    expect(worstSecond!.pictures.map(({ picture }) => picture)).toEqual([60, 61, 62, 63, 64, 65, 66, 67]);
    expect(worstSecond!.left).toBe(12);
    expect(watched(held(0.3, 2)).worstSecond).toBeNull();
  });
});

describe('what passes and yet is much', () => {
  const loadOf = (changes: number, seconds: number) => {
    const load = new FlashLoad();
    for (let k = 0; k < seconds * 10; k++) load.push(changes, k / 10);
    return load.found.map(({ kind }) => kind);
  };

  test.each([
    [4, 3, []],
    [4, 4.5, ['kept up']],
    [4, 6, ['kept up', 'long']],
    [3, 6, ['long']],
    [1, 9, []],
  ] as const)(
    '%i changes a second for %f s: %j (our choice; ITU-R BT.1702-3, second hand)',
    (changes, seconds, kinds) => {
      expect(loadOf(changes, seconds)).toEqual(kinds);
    },
  );
});
