import { Worker } from 'node:worker_threads';
import { type CellRunner, RunnerLost } from '../sweep/cell-pool.ts';
import type { CellResult } from '../sweep/cell-run.ts';
import type { CollectedFiles } from '../sweep/plan-files.ts';

/** What a worker thread is started with. */
export interface WorkerData {
  readonly path: string;
  readonly files: CollectedFiles;
}

/** What it says: shots of its cell done so far, or the cell. */
export type WorkerAnswer = { readonly shots: number } | { readonly result: CellResult };

/** The built worker stands beside the built command. */
const WORKER = new URL('./sweep-worker.js', import.meta.url);

/** A worker thread that runs cells. */
export class ThreadRunner implements CellRunner {
  readonly worker: Worker;
  #onShots: (done: number) => void = () => {};
  #answer: ((result: CellResult) => void) | undefined;
  #fail: ((error: unknown) => void) | undefined;

  constructor(data: WorkerData, entry: URL = WORKER) {
    this.worker = new Worker(entry, { workerData: data });
    this.worker.on('message', (answer: WorkerAnswer) => {
      if ('shots' in answer) this.#onShots(answer.shots);
      else this.#answer?.(answer.result);
    });
    // An exception is a fault of ours and would come again; running out of memory or being ended from outside is a loss.
    this.worker.on('error', (error: NodeJS.ErrnoException) =>
      this.#fail?.(error.code === 'ERR_WORKER_OUT_OF_MEMORY' ? new RunnerLost(error.message) : error),
    );
    this.worker.on('exit', () => this.#fail?.(new RunnerLost('the worker has ended')));
  }

  run(cell: number, onShots: (done: number) => void): Promise<CellResult> {
    this.#onShots = onShots;
    return new Promise((resolve, reject) => {
      this.#answer = resolve;
      this.#fail = reject;
      this.worker.postMessage(cell);
    });
  }

  stop(): void {
    this.#fail = undefined;
    void this.worker.terminate();
  }
}
