import { hashNoise } from '../../src/units/noise.ts';
import { CalibratedVisit } from './calibrated-visit.ts';
import { builtFiles, frameMs, LAMPS, TARGET_ENTRIES } from './practice-street.ts';
import { calibratedWith, MARGIN_0, MARGIN_8 } from './program-changes.ts';

const SEED = 99;
const WHITE_CDM2 = 350;
/** A shot at 200 ms is decided within 24 frames; the hand is followed no farther than its deadline. */
const SHOT_FRAMES = 27;
/** From the middle of the lamp to the right; its border is 8 dots away. */
export const DOTS_BESIDE = [0, 4, 8, 12, 16, 20] as const;

export const HANDS = {
  still: undefined,
  braced: { kind: 'swaying-hand', preset: 'braced' },
  'one-handed': { kind: 'swaying-hand', preset: 'one-handed' },
  'one-handed-pull': { kind: 'swaying-hand', preset: 'one-handed-pull' },
} as const;
export type HandName = keyof typeof HANDS;

const FILES = {
  0: () => calibratedWith(MARGIN_0),
  4: () => builtFiles('calibrated'),
  8: () => calibratedWith(MARGIN_8),
} as const;
export type Margin = keyof typeof FILES;
export const MARGINS: readonly Margin[] = [0, 4, 8];

/** How often the program said "target", of how many shots, for each place beside the middle. */
export interface HandRow {
  readonly margin: Margin;
  readonly hand: HandName;
  readonly said: readonly number[];
  readonly n: number;
}

/**
 * One row of the table: LCD 200 ms late, threshold 0.3 of white, spot radius 6 dots, box = 16 dots + margin on every side,
 * aims beside the middle of the middle lamp. A hand that keeps still needs one shot.
 */
export function handRow(margin: Margin, hand: HandName, count: number): HandRow {
  const path = { name: 'LCD', panel: { kind: 'lcd' }, isBuffered: false, sensor: { thresholdCdM2: 0.3 * WHITE_CDM2 } };
  const targets = { ...TARGET_ENTRIES, marginDots: margin };
  const visit = new CalibratedVisit({
    files: FILES[margin](),
    path,
    delayMs: 200,
    more: { targets, deadlineFrames: SHOT_FRAMES },
  });
  if (!visit.isGood) throw new Error(`calibration ${visit.calibration.code}`);
  const { x, y } = LAMPS[1]!;
  const setting = HANDS[hand];
  const n = setting === undefined ? 1 : count;
  const said = DOTS_BESIDE.map((dots) => {
    let targetsSaid = 0;
    for (let i = 0; i < n; i++) {
      const laterMs = frameMs('60hz') * hashNoise(SEED, 60, i);
      const more = setting === undefined ? {} : { more: { hand: setting, seed: i + 1 } };
      if (visit.shoot({ aim: { x: x + dots, y }, laterMs, ...more }).said.kind === 'target') targetsSaid++;
    }
    return targetsSaid;
  });
  return { margin, hand, said, n };
}
