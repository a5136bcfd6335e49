import { describe, expect, test } from 'vitest';
import { hashNoise } from '../units/noise.ts';
import { FlashLoad } from './flash-load.ts';
import { FLASH_PROFILES } from './flash-profile.ts';
import { FlashWatch } from './flash-watch.ts';
import { PictureCells } from './picture-cells.ts';
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

  test('with them the picture that the first of them changed is kept, also where changes have gone on for long', () => {
    const shownFrom = (levels: readonly number[]) => {
      const watch = new FlashWatch<number>({ profiles: PROFILES, size: { scale: 3, pixelAspect: 1 } });
      for (const [k, level] of levels.entries())
        watch.push({ light: grey(level), timeS: k / 60, picture: () => k, before: () => k - 1 });
      const { before, pictures } = watch.verdicts()[0]!.worstSecond!;
      return [before, pictures[0]!.picture] as const;
    };
    expect(shownFrom([...held(0, 1), ...flashing(20, 0, 1), ...held(0, 2)])).toEqual([
      { timeS: 59 / 60, picture: 59 },
      60,
    ]);
    // Slow changes first: the worst second begins in the middle of them.
    const slow = Array.from({ length: 300 }, (_, k) => Math.floor(k / 12) % 2);
    const [before, first] = shownFrom([...slow, ...flashing(30, 0, 1)]);
    expect(before).toEqual({ timeS: (first - 1) / 60, picture: first - 1 });
  });
});

describe('what passes and yet is much', () => {
  /** What the load says of frames, 60 a second. */
  const loadOfWatched = (frames: readonly { light: Float64Array; codes?: Uint16Array }[], bytes?: Uint8Array) => {
    const watch = new FlashWatch<number>({
      profiles: PROFILES,
      size: { scale: 3, pixelAspect: 1 },
      ...(bytes && { bytes }),
    });
    for (const [k, frame] of frames.entries()) watch.push({ ...frame, timeS: k / 60, picture: () => k });
    const [verdict] = watch.verdicts();
    return {
      passes: verdict!.passes,
      load: verdict!.load.map(({ kind, isAbove }) => [kind, isAbove]),
      worst: verdict!.worst,
    };
  };

  test('changes of single dots are heard: a board whose cells stay as they are', () => {
    const board = (isInverse: boolean) =>
      Uint16Array.from({ length: 256 * 240 }, (_, at) => {
        const isOdd = (Math.floor((at % 256) / 4) + Math.floor(at / 1024)) % 2 === 1;
        return isOdd === isInverse ? 0 : 1;
      });
    const codes = [board(false), board(true)] as const;
    const half = grey(0.5);
    const frames = (period: number) =>
      Array.from({ length: 400 }, (_, k) => ({ light: half, codes: codes[Math.floor(k / period) % 2]! }));
    const bytes = new Uint8Array([0, 0, 0, 255, 255, 255]);
    const fast = loadOfWatched(frames(3), bytes);
    expect([fast.passes, fast.load]).toEqual([
      false,
      [
        ['kept up', true],
        ['long', true],
      ],
    ]);
    // Half of the dots go up and half go down at once: over the field that is two changes each time.
    const most = (counting: string) => fast.worst.find((one) => one.kind === 'general' && one.counting === counting);
    expect([most('place')!.changes, most('dots')!.changes, most('field')!.changes]).toEqual([0, 21, 42]);
    expect(loadOfWatched(frames(12), bytes).passes).toBe(false);
    const slow = loadOfWatched(frames(24), bytes);
    expect([slow.passes, slow.load]).toEqual([
      true,
      [
        ['kept up', false],
        ['long', false],
      ],
    ]);
  });

  test('changes at places are heard: cells take turns, so that few change at once', () => {
    // Each is light for 6 frames and dark for 6, a twelfth of them after the other: 10 changes a second at every place.
    const frames = Array.from({ length: 400 }, (_, k) => {
      const light = grey(0);
      for (let cell = 0; cell < CELLS; cell++) {
        const turn = k + ((cell % 32) + 5 * Math.floor(cell / 32));
        if (turn % 12 < 6) light.fill(1, 3 * cell, 3 * cell + 3);
      }
      return { light };
    });
    const found = loadOfWatched(frames);
    expect(found.worst.filter(({ counting, changes }) => counting === 'field' && changes > 0)).toEqual([]);
    expect([found.passes, found.load]).toEqual([
      false,
      [
        ['kept up', true],
        ['long', true],
      ],
    ]);
  });

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

test('a picture that is told to be the one before counts as one that is compared with it', () => {
  // Black, white, a grey, saturated red.
  const bytes = new Uint8Array([0, 0, 0, 255, 255, 255, 120, 120, 120, 200, 0, 0]);
  for (let seed = 0; seed < 2; seed++) {
    const [told, compared] = [0, 1].map(
      () => new FlashWatch({ profiles: FLASH_PROFILES, size: { scale: 3, pixelAspect: 1 }, bytes }),
    );
    const cells = new PictureCells(8, false, bytes);
    let codes = new Uint16Array(256 * 240);
    for (let frame = 0; frame < 60; frame++) {
      if (hashNoise(seed, frame, 1) < 0.3) {
        const [first, second, edge] = [2, 3, 4].map((k) => hashNoise(seed, frame, k)) as [number, number, number];
        const size = Math.ceil(16 * edge);
        codes = Uint16Array.from(codes, (_, dot) =>
          (Math.floor((dot % 256) / size) + Math.floor(dot / 256 / size)) % 2 === 0
            ? Math.floor(4 * first)
            : Math.floor(4 * second),
        );
      }
      const light = cells.meansOf(codes);
      const { changed, changedCells } = cells;
      const one = { light, timeS: frame / 60, codes, changed, picture: () => frame };
      told!.push({ ...one, isSame: changedCells === 0 });
      compared!.push(one);
    }
    expect(told!.verdicts()).toEqual(compared!.verdicts());
  }
});
