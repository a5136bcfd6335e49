import type { ReactiveControllerHost } from 'lit';
import type { LanesDetail, PlayOutcome, WhyWrong } from '../../workers/play.api.ts';
import { isRefusal } from '../live-play.ts';
import type { DetailWantedEvent } from '../ruler/ruler-events.ts';
import type { PlayDesk } from './play-desk.ts';
import { isSameSetUp, type LoggedShot, type SetUp } from './shot-log.ts';

/** The shots that were made, the latest first; what is asked of the latest goes to the worker that played it. */
export class ShotDesk {
  readonly #host: ReactiveControllerHost;
  readonly #play: PlayDesk;
  readonly #setUp: () => SetUp;
  #shots: readonly LoggedShot[] = [];
  #detail: LanesDetail | undefined;
  #why: WhyWrong | undefined;
  #isCured = false;
  #isAsking = false;

  /** `setUp` says what is chosen now. */
  constructor(host: ReactiveControllerHost, play: PlayDesk, setUp: () => SetUp) {
    this.#host = host;
    this.#play = play;
    this.#setUp = setUp;
  }

  get shots(): readonly LoggedShot[] {
    return this.#shots;
  }

  /** A part of the latest shot's light, finer. */
  get detail(): LanesDetail | undefined {
    return this.#detail;
  }

  /** Why the latest shot was wrong. */
  get why(): WhyWrong | undefined {
    return this.#why;
  }

  /** Why it was wrong is being looked for. */
  get isAsking(): boolean {
    return this.#isAsking;
  }

  /** A cure has been taken and nothing was shot since. */
  get isCured(): boolean {
    return this.#isCured;
  }

  cured(): void {
    this.#isCured = true;
    this.#host.requestUpdate();
  }

  /** The latest shot, if it was shot with what is chosen now. */
  get latest(): LoggedShot | undefined {
    const [latest] = this.#shots;
    return latest !== undefined && isSameSetUp(latest.setUp, this.#setUp()) ? latest : undefined;
  }

  /** Write a shot down, and ask why it went wrong. */
  async log(outcome: PlayOutcome, setUp: SetUp, isLive: boolean): Promise<void> {
    const shot = { ...outcome, setUp, isLive, number: (this.#shots[0]?.number ?? 0) + 1 };
    this.#shots = [shot, ...this.#shots];
    this.#detail = undefined;
    this.#why = undefined;
    this.#isCured = false;
    this.#play.setProblem(undefined);
    this.#isAsking = !shot.isRight;
    if (shot.isRight) return;
    const why = await this.#play.service.explain();
    if (this.#shots[0] === shot) {
      this.#isAsking = false;
      this.#host.requestUpdate();
    }
    if (why === null || isRefusal(why) || this.#shots[0] !== shot) return;
    this.#why = why;
    this.#host.requestUpdate();
  }

  fetchDetail = async ({ fromMs, toMs, columns }: DetailWantedEvent): Promise<void> => {
    const answer = await this.#play.service.detail(fromMs, toMs, columns);
    if (isRefusal(answer)) return;
    this.#detail = answer;
    this.#host.requestUpdate();
  };
}
