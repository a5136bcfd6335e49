import { LatelightError } from '../errors/latelight-error.ts';
import type { CellResult } from './cell-run.ts';

/** A worker that runs one cell at a time. */
export interface CellRunner {
  /** `onShots`: how many shots of the cell are done. Rejects with `RunnerLost` when the worker has ended by itself. */
  run(cell: number, onShots: (done: number) => void): Promise<CellResult>;
  /** End at once, in mid-cell too; a run in progress may stay open for ever. */
  stop(): void;
}

/** The worker has ended without an answer: its cell has to be run again. */
export class RunnerLost extends Error {}

export interface CellPoolSetup {
  /** Cells still to be run; they are handed out in this order, the next one to the first worker that is free. */
  readonly cells: readonly number[];
  readonly jobs: number;
  readonly startRunner: () => CellRunner;
  readonly onResult: (result: CellResult) => void;
  readonly onShots?: (cell: number, done: number) => void;
}

/** A cell that has ended so many workers ends the sweep. Our choice. */
const MOST_LOSSES = 3;

/** Shares cells among workers. A cell whose worker is lost goes to another. Results come in the order in which cells finish. */
export class CellPool {
  readonly #setup: CellPoolSetup;
  readonly #waiting: number[];
  readonly #losses = new Map<number, number>();
  readonly #runners = new Set<CellRunner>();
  #isStopped = false;
  #endRun: (() => void) | undefined;

  constructor(setup: CellPoolSetup) {
    this.#setup = setup;
    this.#waiting = [...setup.cells];
  }

  /** Run until every cell is done or the pool is stopped. Errors: WORKER_LOST, and whatever a runner rejects with. */
  async run(): Promise<void> {
    const stopped = new Promise<void>((resolve) => {
      this.#endRun = resolve;
    });
    const jobs = Math.min(this.#setup.jobs, this.#waiting.length);
    try {
      await Promise.race([stopped, Promise.all(Array.from({ length: jobs }, () => this.#work()))]);
    } finally {
      this.#stopRunners();
    }
  }

  /** End at once: cells in progress are dropped, those that are done have been handed out. */
  stop(): void {
    this.#isStopped = true;
    this.#stopRunners();
    this.#endRun?.();
  }

  async #work(): Promise<void> {
    let runner = this.#start();
    for (let cell = this.#waiting.shift(); cell !== undefined && !this.#isStopped; cell = this.#waiting.shift()) {
      const result = await this.#runOn(runner, cell);
      if (this.#isStopped) return;
      if (result === undefined) runner = this.#start();
      else this.#setup.onResult(result);
    }
  }

  #start(): CellRunner {
    const runner = this.#setup.startRunner();
    this.#runners.add(runner);
    return runner;
  }

  /** Undefined if the worker was lost: the cell is the next to be run again. */
  async #runOn(runner: CellRunner, cell: number): Promise<CellResult | undefined> {
    try {
      return await runner.run(cell, (done) => this.#setup.onShots?.(cell, done));
    } catch (error) {
      if (!(error instanceof RunnerLost)) throw error;
      this.#runners.delete(runner);
      const losses = (this.#losses.get(cell) ?? 0) + 1;
      this.#losses.set(cell, losses);
      if (losses >= MOST_LOSSES)
        throw new LatelightError('WORKER_LOST', { cell, found: losses, allowed: MOST_LOSSES - 1 });
      this.#waiting.unshift(cell);
      this.#setup.onShots?.(cell, 0);
      return undefined;
    }
  }

  #stopRunners(): void {
    for (const runner of this.#runners) runner.stop();
    this.#runners.clear();
  }
}
