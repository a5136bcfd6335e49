import { hashNoise } from '../../src/units/noise.ts';
import type { StreetShot, Visit } from './calibrated-visit.ts';
import { type TheoremPath, TUBE } from './light-paths.ts';
import { builtFiles, frameMs, LAMPS, NOWHERE } from './practice-street.ts';
import { calibratedWith, ONE_PICTURE_A_BOX, slowHandler } from './program-changes.ts';
import { countShots, type ShotCount } from './shot-count.ts';

const SEED = 99;
const WHITE_CDM2 = 350;
const FOUR = (_: unknown, i: number): StreetShot[] =>
  [...LAMPS, NOWHERE].map((aim, k) => ({ aim, laterMs: frameMs('60hz') * hashNoise(SEED, 50 + k, i) }));

/** A screen drawn as for the rule's own model: LCD, rise and fall 1 to 20 ms, scan up to 15.2 ms, threshold 0.15 to 0.5 of white. */
function drawnLcd(i: number): TheoremPath {
  const lot = (stream: number, from: number, to: number): number => from + (to - from) * hashNoise(SEED, stream, i);
  const panel = {
    kind: 'lcd',
    riseMs: lot(1, 1, 20),
    fallMs: lot(2, 1, 20),
    scanMs: lot(3, 1, 15.2),
    whiteCdM2: WHITE_CDM2,
  };
  return { name: 'LCD', panel, isBuffered: true, sensor: { thresholdCdM2: lot(4, 0.15, 0.5) * WHITE_CDM2 } };
}

const visitsOf = (files: Visit['files'], count: number, pathOf: (i: number) => TheoremPath): Visit[] =>
  Array.from({ length: count }, (_, i) => ({ files, path: pathOf(i), delayMs: 200 * hashNoise(SEED, 5, i) })).sort(
    (a, b) => a.delayMs - b.delayMs,
  );

/** A tube seen through one dot; the threshold sets how long it is lit a picture. */
const tube = (thresholdCdM2: number) => (): TheoremPath => ({
  ...TUBE,
  optics: { radiusDots: 1 },
  sensor: { thresholdCdM2 },
});

/** Cycles that the handler takes longer than its 764, and the longest gap that comes of it. */
const CASES: readonly (readonly [name: string, extraCycles: number, thresholdCdM2: number])[] = [
  ['tube, lit 1.29 ms, g 0.43 ms', 0, 200],
  ['tube, lit 0.41 ms, g 0.43 ms', 0, 1000],
  ['tube, lit 1.29 ms, g 1.33 ms', 1600, 200],
  ['tube, lit 0.67 ms, g 1.89 ms', 2600, 600],
  ['tube, lit 0.24 ms, g 1.89 ms', 2600, 2000],
];

/** The figures of the rule's own model, from the real engine and the real program. */
export function modelFigures(count: number): Record<string, ShotCount> {
  const built = builtFiles('calibrated');
  const lcds = (files: Visit['files']) => countShots(visitsOf(files, count, drawnLcd), FOUR);
  return {
    'LCD, H = 1': lcds(calibratedWith(ONE_PICTURE_A_BOX)),
    'LCD, H = 2': lcds(built),
    ...Object.fromEntries(
      CASES.map(([name, extra, threshold]) => [
        name,
        countShots(visitsOf(extra === 0 ? built : calibratedWith(slowHandler(extra)), count, tube(threshold)), FOUR),
      ]),
    ),
  };
}
