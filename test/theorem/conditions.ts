import { spotShare } from '../../src/light/optics/index.ts';
import type { ShotResult } from '../../src/shot/shot.ts';
import { hashNoise } from '../../src/units/noise.ts';
import type { StreetShot } from './calibrated-visit.ts';
import { type TheoremPath, TUBE } from './light-paths.ts';
import { type Aim, builtFiles, frameMs, LAMPS, NOWHERE } from './practice-street.ts';
import {
  calibratedWith,
  lampsApart,
  MARK_AT_THE_TOP,
  NO_DARK_TEST,
  NO_REWIND,
  ONE_BLACK_PICTURE,
  ONE_PICTURE_A_BOX,
  TWO_BLACK_PICTURES,
  WHITE_SCENE,
} from './program-changes.ts';
import { atDelays, countShots, range, type ShotCount } from './shot-count.ts';

/** A condition kept, and broken alone. */
export type Comparison = Readonly<Record<string, ShotCount>>;

const built = builtFiles('calibrated');
const lcd = (more: Readonly<Record<string, number>> = {}, isBuffered = false): TheoremPath => ({
  name: 'LCD',
  panel: { kind: 'lcd', ...more },
  isBuffered,
});
const lamps = (...numbers: readonly number[]): StreetShot[] =>
  numbers.map((k) => ({ aim: LAMPS[k]!, laterMs: 13.7 * k }));
const FOUR: readonly StreetShot[] = [...lamps(0, 1, 2), { aim: NOWHERE, laterMs: 50 }];
/** Ten delays that fall everywhere in a frame. */
const TEN = range(1.3, 95, 10.1);

/**
 * (i), the place of the mark: a panel that shows all rows within 1 ms, calibrated in line 12. The lowest lamp's light comes
 * 192 / 240 x (15.24 - 1) = 11.4 ms before it is expected: more than H T / 2 - g = 7.9 ms with H = 1, less than 16.2 with H = 2.
 */
export function farFromTheMark(delays = TEN): Comparison {
  const visit = { path: lcd({ scanMs: 1, riseMs: 2, fallMs: 2 }, true), mark: { x: 128, y: 12 } };
  const onePicture = calibratedWith(MARK_AT_THE_TOP, ONE_PICTURE_A_BOX);
  const twoPictures = calibratedWith(MARK_AT_THE_TOP);
  return {
    'H = 2': countShots(atDelays(twoPictures, delays, visit), () => FOUR),
    'H = 1, near rows': countShots(atDelays(onePicture, delays, visit), () => lamps(0, 1)),
    'H = 1, far row': countShots(atDelays(onePicture, delays, visit), () => lamps(2)),
  };
}

/** A spot of 8 dots radius, a panel that takes 50 ms to rise, a threshold at 0.4 of white. */
const WEAK: TheoremPath = {
  ...lcd({ riseMs: 50, fallMs: 5 }),
  sensor: { thresholdCdM2: 140 },
  optics: { radiusDots: 8 },
};
const CORNER: Aim = { x: LAMPS[1]!.x + 7.9, y: LAMPS[1]!.y + 7.9 };

/**
 * (i), the strength of the light: tau ln((1 - theta) / (1 - theta / a)) with tau = 50 ms / ln 9 is 2.8 ms at the middle of the
 * lamp (a = 0.88) and 20 ms at its corner (a = 0.53): more than T - g.
 */
export function tooLittleLight(delays = TEN) {
  const more = { limits: { hitShare: 0.5, nothingShare: 0.1 } };
  const box = { x: LAMPS[1]!.x - 12, y: LAMPS[1]!.y - 12, width: 24, height: 24 };
  const visits = (path: TheoremPath) => atDelays(built, delays, { path, more });
  const quick = { ...WEAK, panel: { ...WEAK.panel, riseMs: 5 } };
  return {
    middle: countShots(visits(WEAK), () => lamps(1)),
    corner: countShots(visits(WEAK), () => [{ aim: CORNER, laterMs: 0 }]),
    'corner, quick panel': countShots(visits(quick), () => [{ aim: CORNER, laterMs: 0 }]),
    shares: { middle: spotShare(LAMPS[1]!, 8, box), corner: spotShare(CORNER, 8, box) },
  };
}

/** A tube seen through a spot of one dot, above 200 cd/m2 (lit for 1.3 ms a picture) or above 2,000 (0.24 ms: less than g). */
const fineSpot = (thresholdCdM2: number): TheoremPath => ({
  ...TUBE,
  optics: { radiusDots: 1 },
  sensor: { thresholdCdM2 },
});

/** In a shot at a lamp no read fell into any of the lit times of its flash. */
function isFlashUnseen({ flips, reads, ticks: { lightAtSpot } }: ShotResult): boolean {
  const from = flips.findIndex((tick, i) => i % 2 === 0 && tick >= lightAtSpot!);
  if (from < 0) return false;
  return [0, 2].every((i) => {
    const [on, off] = [flips[from + i]!, flips[from + i + 1]!];
    return !reads.some((tick) => tick >= on && tick < off);
  });
}

/**
 * (ii): the flash of the mark's row falls between two reads at delays near 7.9 ms, that of the upper lamp's near 13.2, that of
 * the lower lamp's near 2.5. `unseen`: shots at a lamp in which that is so by the trace.
 */
export function shortFlash(delays: readonly number[]) {
  const by = { unseen: 0, unseenAndMissed: 0, missed: 0 };
  const look = (result: ShotResult): void => {
    const isMissed = result.judgement === 'miss';
    const isUnseen = result.truth.kind === 'target' && isFlashUnseen(result);
    if (isMissed) by.missed++;
    if (isUnseen) by.unseen++;
    if (isMissed && isUnseen) by.unseenAndMissed++;
  };
  const short = countShots(atDelays(built, delays, { path: fineSpot(2000) }), () => FOUR, look);
  const long = countShots(atDelays(built, delays, { path: fineSpot(200) }), () => FOUR);
  return { short, long, ...by };
}

/** A sky as bright as white, a panel that takes 50 ms to fall, a threshold at 0.3 of white. */
const SLOW: TheoremPath = { ...lcd({ riseMs: 5, fallMs: 50 }), sensor: { thresholdCdM2: 105 } };

/** (iii): as many black pictures as the rule says, or one; with the dark test and without it. */
export function brightSky(delays = TEN): Comparison {
  const count = (...changes: readonly Readonly<Record<string, string>>[]) =>
    countShots(atDelays(calibratedWith(WHITE_SCENE, ...changes), delays, { path: SLOW }), () => FOUR);
  return {
    'the rule': count(),
    'no dark test': count(NO_DARK_TEST),
    'two black pictures': count(TWO_BLACK_PICTURES),
    'two black pictures, no dark test': count(TWO_BLACK_PICTURES, NO_DARK_TEST),
    'one black picture': count(ONE_BLACK_PICTURE),
    'one black picture, no dark test': count(ONE_BLACK_PICTURE, NO_DARK_TEST),
  };
}

/** (iv): two lamps 14 dots apart; half a box and the spot's radius are 18. Shares up to 0.5 do not make it an edge here. */
export function closeTargets(dots: number, path: TheoremPath = lcd(), nothingShare = 0.5, delays = TEN): ShotCount {
  const second = { x: 132 + dots, y: 120 };
  const more = { limits: { hitShare: 0.65, nothingShare } };
  const visits = atDelays(calibratedWith(lampsApart(dots)), delays, { path, more });
  return countShots(visits, () => [{ aim: second, laterMs: 5 }]);
}

/** Half of the spot must see the box. */
const HALF_OF_WHITE: TheoremPath = { ...lcd(), sensor: { thresholdCdM2: 175 } };

/** (v): moths of all three rows, boxes where the glass showed them, or where the program has them now. */
export function withoutRewind(delays = range(1.3, 195, 7.9)): Record<string, Record<string, ShotCount>> {
  const bins: readonly (readonly [string, number, number])[] = [
    ['0 to 25 ms', 0, 25],
    ['25 to 50 ms', 25, 50],
    ['50 to 100 ms', 50, 100],
    ['above 100 ms', 100, 300],
  ];
  const of = (files: typeof built, [, from, to]: (typeof bins)[number]): ShotCount =>
    countShots(
      atDelays(
        files,
        delays.filter((ms) => ms >= from && ms < to),
        { path: HALF_OF_WHITE },
      ),
      (visit, i) => {
        const laterMs = 150 * hashNoise(5, 1, i);
        return visit.mothsAt(laterMs).map((aim) => ({ aim, laterMs, moves: true }));
      },
    );
  const row = (files: typeof built) => Object.fromEntries(bins.map((bin) => [bin[0], of(files, bin)]));
  return { rewind: row(built), none: row(calibratedWith(NO_REWIND)) };
}

/** (vi): a hand that goes 20 dots from the trigger on, on a prompt and on a late screen. */
export function wanderingHand(shots = 12): Comparison {
  const hand = { kind: 'swaying-hand', driftDeg: 0, armDeg: 0, tremorDeg: 0, pullDeg: 1, pullMs: 150 };
  const plans = (more?: Readonly<Record<string, unknown>>) => (): StreetShot[] =>
    Array.from({ length: shots }, (_, i) => ({
      aim: LAMPS[i % 3]!,
      laterMs: frameMs('60hz') * hashNoise(7, 2, i),
      ...(more === undefined ? {} : { more: { ...more, seed: i + 1 } }),
    }));
  const late = atDelays(built, [183.7], { path: HALF_OF_WHITE });
  return {
    'still, late': countShots(late, plans()),
    'wandering, late': countShots(late, plans({ hand })),
    'wandering little, late': countShots(late, plans({ hand: { ...hand, pullDeg: 0.15 } })),
  };
}

/** An aim beside the middle lamp: its share of the lamp's box, and what the shots came to. */
export interface Sliver {
  readonly dots: number;
  readonly share: number;
  readonly by: Readonly<Record<string, number>>;
}

/** Aims at nothing by their share, 16 to 24 dots beside the middle lamp. */
export function slivers(path: TheoremPath, delays = range(2.2, 30, 9.1)): Sliver[] {
  const { x, y } = LAMPS[1]!;
  const box = { x: x - 12, y: y - 12, width: 24, height: 24 };
  return range(16, 24, 1).map((dots) => {
    const aim = { x: x + dots, y };
    const { by } = countShots(atDelays(built, delays, { path }), () => [{ aim, laterMs: 3 }]);
    return { dots, share: spotShare(aim, 6, box), by };
  });
}
