import { STRATEGIES } from '../lamplighter.ts';
import { costsOverDelays } from './strategy-costs.ts';

/** What each strategy costs on each timing, on LCDs of several delays, as JSON: one object a strategy and timing. */
const timings = ['60hz', '50hz', '50hz-clone'] as const;
console.log(
  JSON.stringify(
    STRATEGIES.flatMap((strategy) =>
      timings.map((timing) => ({ strategy, timing, ...costsOverDelays(strategy, timing) })),
    ),
    null,
    1,
  ),
);
