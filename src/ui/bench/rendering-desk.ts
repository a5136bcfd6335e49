import type { ReactiveControllerHost } from 'lit';
import type { Rendering } from '../../workers/play.api.ts';

/**
 * Full flashes that were left come back no sooner, ms. The page changes greatly as they come and go, and a key that is held
 * down would make it flash. Our choice: a little more than the second in which changes are counted.
 */
const AWAY_MS = 1100;

/** What time it is, ms, and calling something later; answers how that is called off. */
export interface DeskClock {
  readonly nowMs: () => number;
  readonly later: (act: () => void, ms: number) => () => void;
}

const PAGE_CLOCK: DeskClock = {
  nowMs: () => performance.now(),
  later: (act, ms) => {
    const timer = setTimeout(act, ms);
    return () => clearTimeout(timer);
  },
};

/** How flashes are drawn: what was chosen, and what is shown, which may follow a little later. */
export class RenderingDesk {
  readonly #host: ReactiveControllerHost;
  readonly #clock: DeskClock;
  #chosen: Rendering = 'outline';
  #shown: Rendering = 'outline';
  #leftMs = Number.NEGATIVE_INFINITY;
  #callOff = (): void => {};

  constructor(host: ReactiveControllerHost, clock = PAGE_CLOCK) {
    this.#host = host;
    this.#clock = clock;
  }

  get chosen(): Rendering {
    return this.#chosen;
  }

  get shown(): Rendering {
    return this.#shown;
  }

  choose(rendering: Rendering): void {
    this.#callOff();
    this.#chosen = rendering;
    const nowMs = this.#clock.nowMs();
    if (this.#shown === 'full' && rendering !== 'full') this.#leftMs = nowMs;
    const waitMs = rendering === 'full' ? this.#leftMs + AWAY_MS - nowMs : 0;
    if (waitMs > 0) this.#callOff = this.#clock.later(() => this.#show(rendering), waitMs);
    else this.#show(rendering);
    this.#host.requestUpdate();
  }

  #show(rendering: Rendering): void {
    this.#shown = rendering;
    this.#host.requestUpdate();
  }
}
