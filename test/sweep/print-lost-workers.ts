import { readFileSync } from 'node:fs';
import { pathToFileURL } from 'node:url';
import { ThreadRunner } from '../../src/cli/sweep-runner.ts';
import { CellPool, type CellRunner } from '../../src/sweep/cell-pool.ts';
import type { CellResult } from '../../src/sweep/cell-run.ts';
import { sortedJournal } from '../../src/sweep/journal.ts';
import { openPlan } from '../../src/sweep/plan.ts';
import { type CollectedFiles, collectingFiles } from '../../src/sweep/plan-files.ts';

/** Run a plan with worker threads that are ended in mid-cell, and once without; print how many were lost, and whether the bytes differ. */
const path = process.argv[2]!;
const files: CollectedFiles = {};
const disk = {
  text: (name: string) => readFileSync(name, 'utf8'),
  bytes: (name: string) => new Uint8Array(readFileSync(name)),
};
const sweep = openPlan(path, collectingFiles(disk, files));
const entry = pathToFileURL('dist/cli/sweep-worker.js');

/** A thread that is ended in the middle of some cells, the first time that it runs them. */
class MortalRunner implements CellRunner {
  readonly #thread = new ThreadRunner({ path, files }, entry);
  readonly #ends: (cell: number) => boolean;

  constructor(ends: (cell: number) => boolean) {
    this.#ends = ends;
  }

  run(cell: number, onShots: (done: number) => void): Promise<CellResult> {
    return this.#thread.run(cell, (done) => {
      if (this.#ends(cell)) void this.#thread.worker.terminate();
      else onShots(done);
    });
  }

  stop(): void {
    this.#thread.stop();
  }
}

async function run(jobs: number, kills: number): Promise<{ text: string; lost: number }> {
  const results: CellResult[] = [];
  const ended = new Set<number>();
  const ends = (cell: number): boolean => ended.size < kills && !ended.has(cell) && ended.add(cell) !== undefined;
  await new CellPool({
    cells: Array.from({ length: sweep.cellCount }, (_, cell) => cell),
    jobs,
    startRunner: () => new MortalRunner(ends),
    onResult: (result) => results.push(result),
  }).run();
  return { text: sortedJournal(sweep, results), lost: ended.size };
}

const calm = await run(1, 0);
const disturbed = await run(2, Number(process.argv[3]));
console.log(JSON.stringify({ cells: sweep.cellCount, lost: disturbed.lost, isEqual: calm.text === disturbed.text }));
process.exit(0);
