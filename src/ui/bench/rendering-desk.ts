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

/**
 * How flashes are drawn: what was chosen, and what is shown, which may follow a little later. Before the first full flashes
 * somebody is asked; until the answer the choice is what it was. Consent ends with the page.
 */
export class RenderingDesk {
  readonly #host: ReactiveControllerHost;
  readonly #clock: DeskClock;
  #chosen: Rendering = 'outline';
  #shown: Rendering = 'outline';
  #leftMs = Number.NEGATIVE_INFINITY;
  #callOff = (): void => {};
  #isAllowed = false;
  #isAsking = false;

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

  /** Full flashes were wanted, and nobody has said yet whether they may be shown. */
  get isAsking(): boolean {
    return this.#isAsking;
  }

  /** Full flashes are asked for first, unless they were allowed. */
  choose(rendering: Rendering): void {
    this.#isAsking = rendering === 'full' && !this.#isAllowed;
    if (!this.#isAsking) this.#take(rendering);
    this.#host.requestUpdate();
  }

  /** `isAllowed`: full flashes may be shown, now and until the page is closed. Else all stays as it was. */
  answer(isAllowed: boolean): void {
    if (!this.#isAsking) return;
    this.#isAsking = false;
    this.#isAllowed = isAllowed;
    if (isAllowed) this.#take('full');
    this.#host.requestUpdate();
  }

  #take(rendering: Rendering): void {
    this.#callOff();
    this.#chosen = rendering;
    const nowMs = this.#clock.nowMs();
    if (this.#shown === 'full' && rendering !== 'full') this.#leftMs = nowMs;
    const waitMs = rendering === 'full' ? this.#leftMs + AWAY_MS - nowMs : 0;
    if (waitMs > 0) this.#callOff = this.#clock.later(() => this.#show(rendering), waitMs);
    else this.#show(rendering);
  }

  #show(rendering: Rendering): void {
    this.#shown = rendering;
    this.#host.requestUpdate();
  }
}
