import type { Remote } from 'comlink';
import type { ReactiveControllerHost } from 'lit';
import type { LanesDetail, PlayService } from '../../workers/play.api.ts';
import type { LoggedShot } from '../bench/shot-log.ts';
import { isRefusal } from '../live-play.ts';
import type { DetailWantedEvent } from '../ruler/ruler-events.ts';

/** The shot that is kept to be compared with others. */
export class KeptShot {
  readonly #host: ReactiveControllerHost;
  readonly #service: () => Remote<PlayService>;
  #shot: LoggedShot | undefined;
  #detail: LanesDetail | undefined;
  #isCloser = true;

  constructor(host: ReactiveControllerHost, service: () => Remote<PlayService>) {
    this.#host = host;
    this.#service = service;
  }

  get shot(): LoggedShot | undefined {
    return this.#shot;
  }

  /** A part of its light, finer. */
  get detail(): LanesDetail | undefined {
    return this.#detail;
  }

  /** Whether the worker can still look closer at it; a shot that was kept late is drawn as it was logged. */
  get isCloser(): boolean {
    return this.#isCloser;
  }

  /** undefined: none is kept any more. */
  keep(shot: LoggedShot | undefined): void {
    this.#shot = shot;
    this.#detail = undefined;
    this.#isCloser = true;
    void this.#service().keep(shot?.replay ?? null);
    this.#host.requestUpdate();
  }

  fetchDetail = async ({ fromMs, toMs, columns }: DetailWantedEvent): Promise<void> => {
    const shot = this.#shot;
    if (shot === undefined || shot.replay === null || !this.#isCloser) return;
    const answer = await this.#service().detail(fromMs, toMs, columns, shot.replay);
    if (shot !== this.#shot) return;
    if (isRefusal(answer)) this.#isCloser = false;
    else this.#detail = answer;
    this.#host.requestUpdate();
  };
}
