import { isRightJudgement } from '../../src/shot/judgement.ts';
import type { ScenarioFiles } from '../../src/shot/prepared-scenario.ts';
import { hashNoise } from '../../src/units/noise.ts';
import type { TimingId } from '../../src/units/timing.ts';
import { CalibratedVisit, sevenAims } from './calibrated-visit.ts';
import type { TheoremPath } from './light-paths.ts';
import { frameMs } from './practice-street.ts';

/** What came of many delays on one light path. */
export interface Tally {
  readonly path: string;
  delays: number;
  refused: number;
  right: number;
  wrong: number;
  /** Neither target nor nothing by the shares: counted apart. */
  edge: number;
  /** Largest share of any target in a shot at nothing. */
  largestNothingShare: number;
  readonly blackFrames: Record<string, number>;
  /** Every refusal and every shot that was not right, with what is needed to run it again. */
  readonly failures: string[];
}

export const newTally = (path: string): Tally => ({
  path,
  delays: 0,
  refused: 0,
  right: 0,
  wrong: 0,
  edge: 0,
  largestNothingShare: 0,
  blackFrames: {},
  failures: [],
});

const SEED = 4242;

/** Calibrate once, shoot seven times; add to the tally. */
export function tryDelay(
  files: ScenarioFiles,
  path: TheoremPath,
  delayMs: number,
  tally: Tally,
  timing: TimingId = '60hz',
): void {
  const lot = (stream: number): number => hashNoise(SEED, stream, Math.round(delayMs * 1000));
  const visit = new CalibratedVisit({ files, path, delayMs, timing, markPhaseMs: frameMs(timing) * lot(0) });
  tally.delays++;
  const { code, blackFrames, delayUnits } = visit.calibration;
  if (!visit.isGood) {
    tally.refused++;
    tally.failures.push(`${path.name}, ${delayMs} ms: calibration ${code}`);
    return;
  }
  tally.blackFrames[blackFrames] = (tally.blackFrames[blackFrames] ?? 0) + 1;
  for (const [i, plan] of sevenAims(visit, (n) => lot(n + 1)).entries()) {
    const { judgement, truth, ticks, flips } = visit.shoot(plan);
    if (truth.kind === 'nothing') tally.largestNothingShare = Math.max(tally.largestNothingShare, ...truth.shares);
    if (judgement === 'edge') tally.edge++;
    else if (isRightJudgement(judgement)) tally.right++;
    else {
      tally.wrong++;
      tally.failures.push(
        `${path.name}, ${delayMs} ms, aim ${i} (${plan.aim.x}, ${plan.aim.y}) + ${plan.laterMs.toFixed(3)} ms: ${judgement}; ` +
          `D ${delayUnits} units, B ${blackFrames}, crossing ${ticks.crossing}, decision ${ticks.decision}, ` +
          `trigger ${ticks.trigger}, flips ${flips.filter((tick) => tick > ticks.trigger - 1e6).join(' ')}`,
      );
    }
  }
}

/** The tallies as a table. */
export const tableOf = (tallies: readonly Tally[]): string =>
  [
    'light path                                    delays  refused    right  wrong  edge  black pictures',
    ...tallies.map(
      ({ path, delays, refused, right, wrong, edge, blackFrames }) =>
        `${path.padEnd(46)}${String(delays).padStart(6)}${String(refused).padStart(9)}${String(right).padStart(9)}` +
        `${String(wrong).padStart(7)}${String(edge).padStart(6)}  ${JSON.stringify(blackFrames)}`,
    ),
  ].join('\n');
