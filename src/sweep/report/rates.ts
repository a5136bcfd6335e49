import type { CellResult } from '../cell-run.ts';
import { countOutcomes, type OutcomeCounts, tallyOf, unpackOutcomes } from '../outcome.ts';
import { MEASURES, type Measure } from '../plan-format.ts';
import type { Interval } from '../statistics/interval.ts';
import { wilsonInterval } from '../statistics/wilson.ts';

/** How often something happened, of the shots that count for it, with Wilson's 95 % interval; rate 0 of 0 is null. */
export interface Rate {
  readonly events: number;
  readonly n: number;
  readonly rate: number | null;
  readonly interval: Interval;
}

export interface CellRates {
  readonly result: CellResult;
  readonly counts: OutcomeCounts;
  readonly edgeShare: number;
  readonly rates: Readonly<Record<Measure, Rate>>;
}

export function ratesOf(result: CellResult): CellRates {
  const counts = countOutcomes(unpackOutcomes(result.outcomes));
  const rate = (measure: Measure): Rate => {
    const { events, n } = tallyOf(counts, measure);
    return { events, n, rate: n === 0 ? null : events / n, interval: wilsonInterval(events, n) };
  };
  return {
    result,
    counts,
    edgeShare: result.refused === null ? counts.e / result.n : 0,
    rates: Object.fromEntries(MEASURES.map((measure) => [measure, rate(measure)])) as Record<Measure, Rate>,
  };
}
