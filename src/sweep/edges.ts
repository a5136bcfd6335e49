import { LatelightError } from '../errors/latelight-error.ts';
import type { CellResult } from './cell-run.ts';
import { countOutcomes, unpackOutcomes } from './outcome.ts';
import type { Sweep } from './plan.ts';

/** Largest share of edges in all planned shots. Our choice, as written in the plan's help. */
export const MOST_EDGES_SHARE = 0.2;

/** Counts shots on a border; stops a plan with too many of them as soon as no later cell can change that. */
export class EdgeWatch {
  readonly #sweep: Sweep;
  #edges = 0;

  constructor(sweep: Sweep) {
    this.#sweep = sweep;
  }

  /** Error: PLAN_EDGES. */
  add({ outcomes }: CellResult): void {
    this.#edges += countOutcomes(unpackOutcomes(outcomes)).e;
    const { document, cellCount } = this.#sweep;
    const planned = cellCount * document.n;
    if (document.allowManyEdges || this.#edges <= MOST_EDGES_SHARE * planned) return;
    throw new LatelightError('PLAN_EDGES', { found: this.#edges, planned, allowed: `${MOST_EDGES_SHARE * 100} %` });
  }
}
