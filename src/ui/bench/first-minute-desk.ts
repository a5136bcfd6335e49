import type { ReactiveControllerHost } from 'lit';
import type { BenchState } from './bench-state.ts';
import { type FirstMinuteProgress, type Memory, NOT_BEGUN, recalled, remember } from './first-minute-memory.ts';
import { FIRST_MINUTE, type FirstMinuteStep } from './first-minute-steps.ts';
import type { LoggedShot } from './shot-log.ts';

/** What the first minute asks of the bench. */
export interface FirstMinuteCallbacks {
  /** Open a state and shoot once; undefined: no shot came of it. */
  readonly shoot: (state: BenchState) => Promise<LoggedShot | undefined>;
  /** Put the keyboard on an element of the bench, once it is drawn. */
  readonly focus: (selector: string) => void;
  /** Where it is remembered; asked each time, for a browser may refuse it. */
  readonly memory: () => Memory;
}

/** The first minute as somebody takes it: three real shots, which can be left at any time and taken up again. */
export class FirstMinuteDesk {
  readonly #host: ReactiveControllerHost;
  readonly #callbacks: FirstMinuteCallbacks;
  #progress: FirstMinuteProgress;
  #latest: LoggedShot | undefined;
  #isShooting = false;
  #hasFailed = false;

  constructor(host: ReactiveControllerHost, callbacks: FirstMinuteCallbacks) {
    this.#host = host;
    this.#callbacks = callbacks;
    this.#progress = recalled(callbacks.memory, FIRST_MINUTE.length);
  }

  get isOpen(): boolean {
    return this.#progress.isOpen;
  }

  /** Verdicts of the steps that were taken. */
  get seen(): readonly string[] {
    return this.#progress.seen;
  }

  /** The step to take now; undefined behind the last. */
  get step(): FirstMinuteStep | undefined {
    return FIRST_MINUTE[this.seen.length];
  }

  /** The shot of the latest step; undefined if it was made before this visit. */
  get latest(): LoggedShot | undefined {
    return this.#latest;
  }

  get isShooting(): boolean {
    return this.#isShooting;
  }

  /** The step's shot could not be played. */
  get hasFailed(): boolean {
    return this.#hasFailed;
  }

  /** Take the step; behind the last one it is over. */
  goOn = async (): Promise<void> => {
    const { step } = this;
    if (step === undefined) {
      this.leave();
      return;
    }
    if (this.#isShooting) return;
    this.#isShooting = true;
    this.#host.requestUpdate();
    try {
      const shot = await this.#callbacks.shoot(step.state);
      this.#hasFailed = shot === undefined;
      if (shot === undefined) return;
      this.#latest = shot;
      this.#become({ ...this.#progress, seen: [...this.seen, shot.judgement] });
    } finally {
      this.#isShooting = false;
      this.#host.requestUpdate();
    }
  };

  /** Out of the way; it is taken up where it was left. */
  leave = (): void => {
    this.putAway();
    this.#callbacks.focus('#first-minute-again');
  };

  /** The same because somebody goes on elsewhere: the keyboard stays where it is. */
  putAway(): void {
    if (this.isOpen) this.#become({ ...this.#progress, isOpen: false });
  }

  /** Taken up where it was left; behind the last step, from the beginning. */
  takeUp = (): void => {
    if (this.step === undefined) this.beginAgain();
    else this.#become({ ...this.#progress, isOpen: true });
    this.#callbacks.focus('#first-minute-step');
  };

  beginAgain = (): void => {
    if (this.#isShooting) return;
    this.#latest = undefined;
    this.#hasFailed = false;
    this.#become(NOT_BEGUN);
    this.#callbacks.focus('#first-minute-step');
  };

  #become(progress: FirstMinuteProgress): void {
    this.#progress = progress;
    remember(this.#callbacks.memory, progress);
    this.#host.requestUpdate();
  }
}
