import type { Remote } from 'comlink';
import type { ReactiveControllerHost } from 'lit';
import type { PlayFrame, PlayInput, PlayRequest, PlayService, PlayStart } from '../../workers/play.api.ts';
import type { Refusal } from '../../workers/refusal.ts';
import { isRefusal, LivePlayWorker } from '../live-play.ts';
import { PlayClock } from '../play-clock.ts';

/** How play stands: nothing runs before the caution is read, nor while it is paused. */
export type Phase = 'caution' | 'loading' | 'running' | 'paused';

/** What play asks of whoever shows it. */
export interface PlayCallbacks {
  /** Before frames are run: what is done, and how the pictures are drawn. */
  readonly input: (frames: number) => Omit<PlayInput, 'frames' | 'timeMs'>;
  /** Called before frames are run; what it answers is called with what came of them. */
  readonly frame: () => (answer: PlayFrame, frames: number) => void;
  readonly paused: () => void;
}

/** The console in its worker, run in step with the page's frames. */
export class PlayDesk {
  readonly #host: ReactiveControllerHost;
  readonly #callbacks: PlayCallbacks;
  #phase: Phase = 'caution';
  #problem: Refusal | undefined;
  #framesPerSecond = 0;
  #radiusDots = 6;
  #worker: LivePlayWorker | undefined;
  /** What play may begin with. */
  #prepared: Prepared | undefined;
  /** Of the latest start: one that was asked for before it, and comes later, is no longer wanted. */
  #starts = 0;
  #clock: PlayClock | undefined;
  #isWaiting = false;
  #request = 0;
  #isHeld = false;
  #isStale = false;

  constructor(host: ReactiveControllerHost, callbacks: PlayCallbacks) {
    this.#host = host;
    this.#callbacks = callbacks;
  }

  get phase(): Phase {
    return this.#phase;
  }

  /** The pictures are still those of a program that was played before. */
  get isStale(): boolean {
    return this.#isStale;
  }

  /** What was refused last. */
  get problem(): Refusal | undefined {
    return this.#problem;
  }

  /** Of the program that was started last; 0 before the first. */
  get framesPerSecond(): number {
    return this.#framesPerSecond;
  }

  /** Where the spot's weight is half, dots. */
  get radiusDots(): number {
    return this.#radiusDots;
  }

  /** The worker's answers. Whoever asks for anything may change what was prepared: it is prepared no longer. */
  get service(): Remote<PlayService> {
    this.#prepared = undefined;
    return this.#running.service;
  }

  /** The worker is started when it is first asked for. */
  get #running(): LivePlayWorker {
    this.#worker ??= new LivePlayWorker();
    return this.#worker;
  }

  /** Have the worker's program fetched, while the page is being drawn. */
  wake(): void {
    void this.#running;
  }

  /**
   * Have the program loaded while the caution is read; it stands at its power-on. What is refused, or not fetched, is told when
   * play begins.
   */
  async prepare(request: () => Promise<PlayRequest>): Promise<void> {
    const prepared: Prepared = {};
    this.#prepared = prepared;
    try {
      const asked = await request();
      // Meanwhile something else may have been asked for.
      if (this.#prepared !== prepared) return;
      prepared.start = { request: asked, answer: this.#running.service.start(asked) };
      await prepared.start.answer;
    } catch {
      // Said by `start`, which asks for the same again.
    }
  }

  /** What was prepared, if it is what is asked for, else a start of its own. */
  #startOf(request: PlayRequest): Promise<PlayStart | Refusal> {
    const start = this.#prepared?.start;
    return start !== undefined && areSameRequests(start.request, request) ? start.answer : this.service.start(request);
  }

  /** undefined: nothing is refused any more. */
  setProblem(problem: Refusal | undefined): void {
    this.#problem = problem;
    this.#host.requestUpdate();
  }

  setRadius(dots: number): void {
    this.#radiusDots = dots;
    this.#host.requestUpdate();
  }

  /** The caution has been read: the first program is being fetched. */
  begin(): void {
    this.#become('loading');
  }

  /** Start a program anew and run it, unless play is paused. */
  async start(request: () => Promise<PlayRequest>): Promise<void> {
    const count = ++this.#starts;
    this.#isWaiting = true;
    try {
      const asked = await request();
      if (count !== this.#starts) return;
      const answer = await this.#startOf(asked);
      this.#prepared = undefined;
      if (count !== this.#starts) return;
      this.setProblem(isRefusal(answer) ? answer : undefined);
      if (isRefusal(answer)) {
        this.#become('paused');
        return;
      }
      this.#framesPerSecond = answer.framesPerSecond;
      this.setRadius(answer.spotRadiusDots);
      if (this.#phase !== 'paused') this.run();
      else this.#isStale = this.#clock !== undefined;
    } catch (error) {
      if (count !== this.#starts) return;
      this.setProblem({
        refused: `The game could not be loaded: ${(error as Error).message}`,
        hint: 'Load the page again',
      });
      this.#become('paused');
    } finally {
      if (count === this.#starts) this.#isWaiting = false;
    }
  }

  run(): void {
    this.#isHeld = false;
    this.#isStale = false;
    this.#become('running');
    this.#clock = new PlayClock(this.#framesPerSecond);
    cancelAnimationFrame(this.#request);
    this.#request = requestAnimationFrame(this.#tick);
  }

  /** Stand still until `letGo`; if somebody pauses meanwhile, it stays paused. */
  hold(): void {
    const moved = this.#phase === 'running' || this.#phase === 'loading';
    this.pause();
    this.#isHeld = moved;
  }

  letGo(): void {
    if (this.#isHeld) this.run();
  }

  pause = (): void => {
    this.#isHeld = false;
    if (this.#phase === 'caution') return;
    this.#become('paused');
    this.#callbacks.paused();
  };

  /** End everything; nothing can be asked after that. */
  stop(): void {
    cancelAnimationFrame(this.#request);
    this.#worker?.stop();
  }

  #become(phase: Phase): void {
    this.#phase = phase;
    this.#host.requestUpdate();
  }

  #tick = (nowMs: number): void => {
    if (this.#phase !== 'running') return;
    this.#request = requestAnimationFrame(this.#tick);
    if (this.#isWaiting) return;
    const frames = this.#clock!.framesDue(nowMs);
    if (frames > 0) void this.#advance(frames, nowMs);
  };

  async #advance(frames: number, timeMs: number): Promise<void> {
    this.#isWaiting = true;
    const done = this.#callbacks.frame();
    try {
      const answer = await this.service.advance({ ...this.#callbacks.input(frames), frames, timeMs });
      if (isRefusal(answer)) {
        this.setProblem(answer);
        this.pause();
      } else done(answer, frames);
    } finally {
      this.#isWaiting = false;
    }
  }
}

/** A program that is being fetched and loaded; `start` once it is fetched. */
interface Prepared {
  start?: { readonly request: PlayRequest; readonly answer: Promise<PlayStart | Refusal> };
}

/** Files of a program are fetched once: the same image is the same bytes. */
const areSameRequests = ({ image, labels, scenario, lightPath, aim }: PlayRequest, other: PlayRequest): boolean =>
  image === other.image &&
  labels === other.labels &&
  scenario === other.scenario &&
  JSON.stringify([lightPath, aim]) === JSON.stringify([other.lightPath, other.aim]);
