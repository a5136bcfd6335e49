import { proxy, type Remote, releaseProxy, wrap } from 'comlink';
import { type CellRunner, RunnerLost } from '../sweep/cell-pool.ts';
import type { CellResult } from '../sweep/cell-run.ts';
import type { CollectedFiles } from '../sweep/plan-files.ts';
import type { SweepService } from './sweep.api.ts';
import { startWorker } from './worker-tasks.ts';

/** A web worker that runs cells: what a page hands to a `CellPool`. */
export class PageRunner implements CellRunner {
  readonly worker: Worker;
  readonly #service: Remote<SweepService>;
  readonly #opened: Promise<void>;
  #fail: ((error: unknown) => void) | undefined;

  constructor(path: string, files: CollectedFiles) {
    this.worker = startWorker('sweep');
    this.worker.addEventListener('error', ({ message }) => this.lose(message));
    this.#service = wrap<SweepService>(this.worker);
    this.#opened = this.#service.open(path, files);
    this.#opened.catch(() => {}); // told by the first run
  }

  run(cell: number, onShots: (done: number) => void): Promise<CellResult> {
    return new Promise((resolve, reject) => {
      this.#fail = reject;
      this.#opened.then(() => this.#service.run(cell, proxy(onShots))).then(resolve, reject);
    });
  }

  /** The worker is gone: a browser does not say when it ends one, the page may have to. */
  lose(why: string): void {
    this.worker.terminate();
    this.#fail?.(new RunnerLost(why));
  }

  stop(): void {
    this.#fail = undefined;
    this.#service[releaseProxy]();
    this.worker.terminate();
  }
}
