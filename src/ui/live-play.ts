import { type Remote, wrap } from 'comlink';
import type { PlayService } from '../workers/play.api.ts';
import type { Refusal } from '../workers/refusal.ts';
import { startWorker } from '../workers/worker-tasks.ts';

/** The worker in which the console runs, and its answers. */
export class LivePlayWorker {
  readonly service: Remote<PlayService>;
  readonly #worker: Worker;

  constructor() {
    this.#worker = startWorker('play');
    this.service = wrap<PlayService>(this.#worker);
  }

  stop(): void {
    this.#worker.terminate();
  }
}

export const isRefusal = (answer: object): answer is Refusal => 'refused' in answer;
