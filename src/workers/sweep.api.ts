import type { CellResult } from '../sweep/cell-run.ts';
import type { CollectedFiles } from '../sweep/plan-files.ts';

/** A worker of the page that runs cells of a sweep. */
export interface SweepService {
  /** Read the plan; all files that it names are in `files`. Called once, before the first cell. */
  open(path: string, files: CollectedFiles): void;
  /** Run a cell; `onShots` hears now and then how many of its shots are done. */
  run(cell: number, onShots: (done: number) => void): CellResult;
}
