import type { CellResult } from './cell-run.ts';
import { countOutcomes, tallyOf, unpackOutcomes } from './outcome.ts';
import { failureLimit, isWhere, LEVEL, leastN } from './pass-limit.ts';
import type { PassLimit } from './plan-format.ts';
import { holm } from './statistics/holm.ts';
import { normalTail } from './statistics/normal.ts';
import { scoreBelow, wilsonInterval } from './statistics/wilson.ts';

/**
 * `shown`: the cell's interval lies within the limit, after correction for the number of cells. `broken`: it lies beyond it.
 * `open`: neither. Only what is shown passes.
 */
export type LimitVerdict = 'shown' | 'open' | 'broken';

/** Why a cell that is not shown fails the limit. */
export function failureText(verdict: LimitVerdict, n: number): string {
  if (n === 0) return 'every calibration was refused';
  return verdict === 'broken' ? 'beyond the limit' : 'too close to the limit to tell';
}

export interface LimitedCell {
  readonly cell: number;
  readonly events: number;
  readonly n: number;
  readonly verdict: LimitVerdict;
}

export interface LimitResult {
  readonly limit: PassLimit;
  /** Cells that count shots for the measure, and those that would if the calibration had not been refused; the others are in `empty`. */
  readonly cells: readonly LimitedCell[];
  readonly empty: readonly number[];
  /** Least number of shots with which a cell without any failure shows the limit. */
  readonly leastN: number;
  readonly isPassed: boolean;
}

/** Judge one limit over the cells that it is for. */
export function judgeLimit(limit: PassLimit, results: readonly CellResult[]): LimitResult {
  const chosen = results.filter((result) => isWhere(limit, result));
  const tallies = chosen.map(({ cell, outcomes }) => {
    const counts = countOutcomes(unpackOutcomes(outcomes));
    return { cell, ...tallyOf(counts, limit.measure), isRefused: counts.r > 0 };
  });
  // Of a cell without a shot because each calibration was refused nothing is shown.
  const isCounted = ({ n, isRefused }: (typeof tallies)[number]): boolean => n > 0 || isRefused;
  const counted = tallies.filter(isCounted);
  const bound = failureLimit(limit);
  const failures = counted.map(({ events, n }) => (limit.atMost === undefined ? n - events : events));
  const p = counted.map(({ n }, i) => normalTail(scoreBelow(failures[i]!, n, bound)));
  const isShown = limit.overCells === 'each' ? p.map((value) => value <= LEVEL) : holm(p, LEVEL);
  const cells = counted.map(({ cell, events, n }, i): LimitedCell => {
    const isBroken = wilsonInterval(failures[i]!, n).low > bound;
    return { cell, events, n, verdict: isShown[i] ? 'shown' : isBroken ? 'broken' : 'open' };
  });
  const isAnyRefused = chosen.some(({ refused }) => refused !== null);
  return {
    limit,
    cells,
    empty: tallies.filter((tally) => !isCounted(tally)).map(({ cell }) => cell),
    leastN: leastN(limit, chosen.length),
    isPassed: cells.length > 0 && !isAnyRefused && cells.every(({ verdict }) => verdict === 'shown'),
  };
}
