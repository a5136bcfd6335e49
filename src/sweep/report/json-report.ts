import { AXES } from '../cells.ts';
import { limitText } from '../pass-limit.ts';
import { MEASURES } from '../plan-format.ts';
import { clopperPearson } from '../statistics/clopper-pearson.ts';
import type { SweepSummary } from '../summary.ts';
import type { CellRates } from './rates.ts';

/** Everything that a report shows, as JSON for other programs; each rate with the exact interval as well. */
export function sweepJson(summary: SweepSummary): string {
  const { sweep, cells, shots, edges, refusedCalibrations, limits, comparisons, isPassed } = summary;
  const { title, n, seed, random } = sweep.document;
  return `${JSON.stringify(
    {
      latelight: 1,
      title,
      plan: sweep.fingerprint,
      n,
      seed,
      random: random ?? 'everything that runs free',
      axes: Object.fromEntries(AXES.map((axis) => [axis, sweep.entries[axis]])),
      shots,
      edges,
      refusedCalibrations,
      isPassed,
      limits: limits.map(({ limit, ...result }) => ({ text: limitText(limit), ...limit, ...result })),
      comparisons,
      cells: cells.map(({ result, counts, edgeShare, rates }) => ({
        ...result,
        counts,
        edgeShare,
        rates: withExactIntervals(rates),
      })),
    },
    null,
    2,
  )}\n`;
}

/** Wilson's intervals, which limits are judged by, and beside them those of Clopper and Pearson. */
const withExactIntervals = (rates: CellRates['rates']) =>
  Object.fromEntries(
    MEASURES.map((measure) => {
      const { events, n } = rates[measure];
      return [measure, { ...rates[measure], exactInterval: clopperPearson(events, n) }];
    }),
  );
