import type { CellResult } from './cell-run.ts';
import { cellOfStrategy } from './cells.ts';
import { isCounted, isEvent, unpackOutcomes } from './outcome.ts';
import type { Sweep } from './plan.ts';
import { holm } from './statistics/holm.ts';
import { comparePaired, type PairedComparison } from './statistics/paired.ts';

/** Two strategies at one place, shot by shot on the same draws: how often only one of them was right. */
export interface StrategyComparison extends PairedComparison {
  readonly first: string;
  readonly second: string;
  readonly cells: readonly [number, number];
  /** The difference is shown at 5 % over all comparisons of the sweep, by Holm's rule. */
  readonly isShown: boolean;
}

/** Every comparison of the plan: the pairs that it names, else each strategy with the first. Shots that are an edge or a refused calibration for one of both are left out. */
export function compareStrategies(sweep: Sweep, results: readonly CellResult[]): StrategyComparison[] {
  const { entries, document } = sweep;
  const [first, ...others] = entries.strategy;
  const pairs = document.compare ?? others.map((other): [string, string] => [first!, other]);
  const byCell = new Map(results.map((result) => [result.cell, result]));
  const found: Omit<StrategyComparison, 'isShown'>[] = [];
  for (const [one, other] of pairs) {
    for (let place = 0; place < sweep.cellCount / entries.strategy.length; place++) {
      const cells = [one, other].map((name) => cellOfStrategy(entries, place, entries.strategy.indexOf(name))) as [
        number,
        number,
      ];
      const [a, b] = cells.map((cell) => byCell.get(cell));
      if (a === undefined || b === undefined || a.refused !== null || b.refused !== null) continue;
      found.push({ first: one, second: other, cells, ...comparePaired(pairsOf(a, b)) });
    }
  }
  const isShown = holm(
    found.map(({ p }) => p),
    0.05,
  );
  return found.map((comparison, i) => ({ ...comparison, isShown: isShown[i]! }));
}

function pairsOf(a: CellResult, b: CellResult): { n: number; onlyFirst: number; onlySecond: number } {
  const [first, second] = [unpackOutcomes(a.outcomes), unpackOutcomes(b.outcomes)];
  let [n, onlyFirst, onlySecond] = [0, 0, 0];
  for (let i = 0; i < first.length; i++) {
    if (!isCounted(first[i]!, 'right') || !isCounted(second[i]!, 'right')) continue;
    n++;
    const [isFirst, isSecond] = [isEvent(first[i]!, 'right'), isEvent(second[i]!, 'right')];
    if (isFirst && !isSecond) onlyFirst++;
    if (isSecond && !isFirst) onlySecond++;
  }
  return { n, onlyFirst, onlySecond };
}
