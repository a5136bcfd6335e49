import { sharesStart } from '../../sweep/draws.ts';
import { prepareCell, type Sweep } from '../../sweep/plan.ts';

/**
 * Of one worker. Measured: the page in Chromium on two cores of a shared machine, Lamplighter, without the second or so in which
 * workers start; the mean of LCD and tube, which differ by half of it. test/page/lag-map.test.ts has the runs.
 */
const COST = { cellMs: 10, shotMs: 3.1, perSimulatedMs: 0.0068 } as const;

/** Time that some cells take one worker, at the speed of the machine where the costs were measured. */
export function costMs(sweep: Sweep, cells: readonly number[]): number {
  return cells.reduce((sum, cell) => sum + cellCostMs(sweep, cell), 0);
}

function cellCostMs(sweep: Sweep, cell: number): number {
  const { prepared, free, aim, n } = prepareCell(sweep, cell);
  const startMs = COST.perSimulatedMs * prepared.scenario.shots[0]!.atMs;
  const trials = 'target' in aim ? 1 : 0;
  const starts = sharesStart(free) ? 1 : n;
  return COST.cellMs + (trials + starts) * startMs + n * COST.shotMs;
}

/** A length of time as somebody would say it. */
export function durationText(ms: number): string {
  const seconds = Math.max(1, Math.round(ms / 1000));
  if (seconds < 90) return `${seconds} s`;
  const minutes = Math.round(seconds / 60);
  return minutes < 90 ? `${minutes} min` : `${Math.round(minutes / 60)} h`;
}
