import { runCellTelling } from '../sweep/cell-run.ts';
import { openPlan, type Sweep } from '../sweep/plan.ts';
import { collectedFiles } from '../sweep/plan-files.ts';
import type { SweepService } from './sweep.api.ts';

/** Runs cells of one plan in the thread that it is made in. */
export function createSweepService(): SweepService {
  let sweep: Sweep | undefined;
  return {
    open: (path, files) => {
      sweep = openPlan(path, collectedFiles(files));
    },
    run: (cell, onShots) => runCellTelling(sweep!, cell, () => performance.now(), onShots),
  };
}
