import type { CellResult } from './cell-run.ts';
import { compareStrategies, type StrategyComparison } from './comparison.ts';
import { judgeLimit, type LimitResult } from './limit-verdicts.ts';
import type { Sweep } from './plan.ts';
import { type CellRates, ratesOf } from './report/rates.ts';

/** A finished sweep: everything that its reports show. */
export interface SweepSummary {
  readonly sweep: Sweep;
  /** By cell. */
  readonly cells: readonly CellRates[];
  readonly shots: number;
  readonly edges: number;
  /** Shots that were not taken because the program refused its calibration. */
  readonly refusedCalibrations: number;
  readonly refused: readonly CellResult[];
  readonly limits: readonly LimitResult[];
  readonly comparisons: readonly StrategyComparison[];
  /** Every limit is shown and no cell was refused. */
  readonly isPassed: boolean;
}

export function summarize(sweep: Sweep, results: readonly CellResult[]): SweepSummary {
  const sorted = [...results].sort((a, b) => a.cell - b.cell);
  const cells = sorted.map(ratesOf);
  const limits = sweep.document.passLimits.map((limit) => judgeLimit(limit, sorted));
  const refused = sorted.filter((result) => result.refused !== null);
  return {
    sweep,
    cells,
    shots: cells.reduce((sum, { result }) => sum + (result.refused === null ? result.n : 0), 0),
    edges: cells.reduce((sum, { counts }) => sum + counts.e, 0),
    refusedCalibrations: cells.reduce((sum, { counts }) => sum + counts.r, 0),
    refused,
    limits,
    comparisons: compareStrategies(sweep, sorted),
    isPassed: refused.length === 0 && limits.every(({ isPassed }) => isPassed),
  };
}
