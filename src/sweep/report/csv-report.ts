import { AXES } from '../cells.ts';
import { OUTCOMES } from '../outcome.ts';
import { MEASURES } from '../plan-format.ts';
import type { SweepSummary } from '../summary.ts';

/** Letters that differ in their case only: columns of a table want names. */
const COLUMNS = {
  h: 'hits',
  m: 'misses',
  w: 'wrong targets',
  d: 'no decision at a target',
  j: 'jammed at a target',
  n: 'rightly none',
  f: 'false hits',
  D: 'no decision at nothing',
  J: 'jammed at nothing',
  e: 'edges',
  r: 'calibrations refused',
} as const;

/** One line a cell, comma separated as RFC 4180 says: place, counts, each rate with its interval. */
export function sweepCsv({ cells }: SweepSummary): string {
  const head = [
    'cell',
    ...AXES,
    'x',
    'y',
    'n',
    ...OUTCOMES.map((outcome) => COLUMNS[outcome]),
    'said twice',
    ...MEASURES.flatMap((measure) => [`${measure} rate`, `${measure} low`, `${measure} high`]),
    'decision mean ms',
    'light after look mean ms',
    'refused',
  ];
  const rows = cells.map(({ result, counts, rates }) => [
    result.cell,
    ...AXES.map((axis) => result[axis]),
    result.x,
    result.y,
    result.n,
    ...OUTCOMES.map((outcome) => counts[outcome]),
    result.saidTwice,
    ...MEASURES.flatMap((measure) => {
      const { rate, interval } = rates[measure];
      return rate === null ? [null, null, null] : [rate, interval.low, interval.high];
    }),
    result.decision?.meanMs ?? null,
    result.lightAfterLook?.meanMs ?? null,
    result.refused,
  ]);
  return [head, ...rows].map((row) => `${row.map(field).join(',')}\r\n`).join('');
}

function field(value: string | number | null): string {
  const text = value === null ? '' : String(value);
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}
