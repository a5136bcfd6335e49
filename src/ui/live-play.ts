import { type Remote, wrap } from 'comlink';
import type { LightChoice, PlayFrame, PlayInput, PlayRequest, PlayService, PlayStart } from '../workers/play.api.ts';
import type { Refusal } from '../workers/refusal.ts';

/** The worker in which the console runs, and its answers. */
export class LivePlayWorker {
  readonly #worker: Worker;
  readonly #service: Remote<PlayService>;

  constructor() {
    this.#worker = new Worker(new URL('../workers/play.worker.ts', import.meta.url), { type: 'module' });
    this.#service = wrap<PlayService>(this.#worker);
  }

  start(request: PlayRequest): Promise<PlayStart | Refusal> {
    return this.#service.start(request);
  }

  changeLightPath(choice: LightChoice): Promise<PlayStart | Refusal> {
    return this.#service.changeLightPath(choice);
  }

  advance(input: PlayInput): Promise<PlayFrame | Refusal> {
    return this.#service.advance(input);
  }

  stop(): void {
    this.#worker.terminate();
  }
}

export const isRefusal = (answer: object): answer is Refusal => 'refused' in answer;
