import { AXES } from '../cells.ts';
import { limitText } from '../pass-limit.ts';
import type { SweepSummary } from '../summary.ts';

/** Everything that a report shows, as JSON for other programs. */
export function sweepJson(summary: SweepSummary): string {
  const { sweep, cells, shots, edges, limits, comparisons, isPassed } = summary;
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
      isPassed,
      limits: limits.map(({ limit, ...result }) => ({ text: limitText(limit), ...limit, ...result })),
      comparisons,
      cells: cells.map(({ result, counts, edgeShare, rates }) => ({ ...result, counts, edgeShare, rates })),
    },
    null,
    2,
  )}\n`;
}
