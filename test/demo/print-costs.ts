import { STRATEGIES } from '../lamplighter.ts';
import { strategyCosts } from './strategy-costs.ts';

/** What each strategy costs on each timing, on an LCD that is 50 ms late, as JSON: one object a strategy and timing. */
const timings = ['60hz', '50hz', '50hz-clone'] as const;
console.log(
  JSON.stringify(
    STRATEGIES.flatMap((strategy) =>
      timings.map((timing) => ({ strategy, timing, ...strategyCosts(strategy, timing, 50) })),
    ),
    null,
    1,
  ),
);
