import './bench/lights-way.ts';
import './bench-picture.ts';
import './time-ruler.ts';
import { html, LitElement, nothing } from 'lit';
import type {
  Change,
  DrawnPicture,
  LanesDetail,
  PlayAim,
  PlayBox,
  PlayOutcome,
  PlayRequest,
  Rendering,
  WhyWrong,
} from '../workers/play.api.ts';
import type { Refusal } from '../workers/refusal.ts';
import { type BenchState, FIRST_STATE } from './bench/bench-state.ts';
import { LightDesk } from './bench/light-desk.ts';
import { changedPath } from './bench/light-edits.ts';
import { earlierShots, isSameSetUp, type LoggedShot, type SetUp, verdictView } from './bench/shot-log.ts';
import { stationPlots } from './bench/station-plots.ts';
import { whyText } from './bench/why-text.ts';
import type { AimEvent, BenchPicture } from './bench-picture.ts';
import { CAUTION, FULL_CAUTION } from './caution.ts';
import { isRefusal, LivePlayWorker } from './live-play.ts';
import { HeldButtons, padButton, wandStep } from './pad-keys.ts';
import { recordPicture } from './page-recorder.ts';
import { PLAY_STYLES } from './play-bench.styles.ts';
import { PlayClock } from './play-clock.ts';
import { fetchProgram, PROGRAMS } from './programs.ts';
import type { CursorTimeEvent, DetailWantedEvent } from './ruler/ruler-events.ts';

/** How play stands: nothing runs before the caution is read, nor while it is paused. */
type Phase = 'caution' | 'loading' | 'running' | 'paused';

const RENDERINGS = [
  ['outline', 'left out, boxes as outlines'],
  ['reduced', 'dimmed greys that cannot flash'],
  ['full', 'shown in full, small'],
] as const;
/** A picture that was held back is asked for again. */
const AGAIN_MS = 120;

/** Lamplighter through a light path: the picture as the glass shows it, the wand, and every pull's judgement as text. */
export class PlayBench extends LitElement {
  static override properties = {
    phase: { state: true },
    program: { state: true },
    detail: { state: true },
    why: { state: true },
    aim: { state: true },
    radiusDots: { state: true },
    shots: { state: true },
    problem: { state: true },
    rendering: { state: true },
    sentOutlines: { state: true },
    shownOutlines: { state: true },
  };

  static override styles = PLAY_STYLES;

  declare private phase: Phase;
  declare private program: string;
  /** A part of the latest shot's light, finer. */
  declare private detail: LanesDetail | undefined;
  /** Why the latest shot was wrong. */
  declare private why: WhyWrong | undefined;
  declare private aim: PlayAim;
  declare private radiusDots: number;
  declare private shots: readonly LoggedShot[];
  declare private problem: Refusal | undefined;
  declare private rendering: Rendering;
  declare private sentOutlines: readonly PlayBox[];
  declare private shownOutlines: readonly PlayBox[];
  readonly #light = new LightDesk(this, FIRST_STATE.lightPath, () => {
    this.why = undefined;
    void this.#changeLight();
  });
  #worker: LivePlayWorker | undefined;
  #clock: PlayClock | undefined;
  #framesPerSecond = 0;
  readonly #buttons = new HeldButtons();
  #pulls = false;
  #isWaiting = false;
  #request = 0;

  constructor() {
    super();
    this.phase = 'caution';
    this.program = FIRST_STATE.strategy;
    this.detail = undefined;
    this.why = undefined;
    this.aim = FIRST_STATE.aim;
    this.radiusDots = 6;
    this.shots = [];
    this.problem = undefined;
    this.rendering = 'outline';
    this.sentOutlines = [];
    this.shownOutlines = [];
  }

  /** What is chosen: strategy, way of the light and aim. */
  get chosen(): BenchState {
    return { strategy: this.program, lightPath: this.#light.path, aim: this.aim };
  }

  /** Choose all of it, as a link or a cell of a map does, and play one shot if wanted. */
  open({ strategy, lightPath, aim }: BenchState, isShot: boolean): void {
    const isOther = strategy !== this.program;
    this.program = strategy;
    this.aim = aim;
    this.#light.edit(lightPath, 'opened');
    if (isShot) void this.#shootOnce();
    else if (isOther && this.phase !== 'caution') void this.#load();
  }

  override updated(): void {
    this.dispatchEvent(new Event('chosen', { bubbles: true, composed: true }));
  }

  override connectedCallback(): void {
    super.connectedCallback();
    window.addEventListener('blur', this.#pause);
    window.addEventListener('keydown', this.#pauseOnEscape);
    document.addEventListener('visibilitychange', this.#pauseIfHidden);
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    window.removeEventListener('blur', this.#pause);
    window.removeEventListener('keydown', this.#pauseOnEscape);
    document.removeEventListener('visibilitychange', this.#pauseIfHidden);
    cancelAnimationFrame(this.#request);
    this.#worker?.stop();
  }

  override render() {
    return html`
      <p class="lead">
        <em>Lamplighter</em> flashes its lamps and looks for their light. Play it through a screen that is late, and read
        after each pull what the light did.
      </p>
      <section class="way" aria-label="The way of the light">
        <lights-way .lightPath=${this.#light.path} .console=${this.#consoleText()} .reader=${this.#strategyTitle()}
          .plots=${this.#plots()} .drafts=${this.#light.drafts} @light-path=${this.#light.follow} @draft=${this.#light.keepDraft}></lights-way>
        <p class="steps">
          <button ?disabled=${!this.#light.canUndo} @click=${this.#light.undo}>Undo</button>
          <button ?disabled=${!this.#light.canRedo} @click=${this.#light.redo}>Redo</button>
          <span class="secondary">choose a station to change it</span>
        </p>
      </section>
      <div class="bench">
        <div class="stage">
          ${this.phase === 'caution' ? this.#cautionText() : this.#stage()}
        </div>
        ${this.#settings()}
      </div>
      <div role="status" aria-live="polite" class="answer">${this.#answer()}</div>
      ${this.#ruler()}
      ${this.#list()}
    `;
  }

  #cautionText() {
    return html`
      <section class="caution" aria-labelledby="caution-title">
        <h2 id="caution-title">Before anything moves</h2>
        ${CAUTION.map((paragraph) => html`<p>${paragraph}</p>`)}
        <button class="primary" @click=${this.#begin}>I have read this: start</button>
      </section>
    `;
  }

  #stage() {
    const isFull = this.rendering === 'full';
    return html`
      <div
        class="play"
        role="application"
        tabindex="0"
        aria-label="Lamplighter. Arrow keys move the wand, space pulls the trigger, Enter is start, Escape pauses."
        @keydown=${this.#keyDown}
        @keyup=${this.#keyUp}
        @aim=${this.#follow}
      >
        ${
          isFull
            ? nothing
            : html`<figure>
                <bench-picture id="sent" .aim=${this.aim} .radiusDots=${this.radiusDots} .hasWand=${false} .outlines=${this.sentOutlines}></bench-picture>
                <figcaption>what the console sends</figcaption>
              </figure>`
        }
        <figure>
          <bench-picture id="shown" .aim=${this.aim} .radiusDots=${this.radiusDots} .isSmall=${isFull} .outlines=${this.shownOutlines} @pointerdown=${this.#pointerDown}></bench-picture>
          <figcaption>what the glass shows</figcaption>
        </figure>
      </div>
      ${
        this.phase === 'paused'
          ? html`<p><button class="primary" @click=${this.#goOn}>Go on</button> <span class="secondary">paused</span></p>`
          : html`<p><button @click=${this.#pause}>Pause</button> <span class="secondary">Escape does the same</span></p>`
      }
      <dl class="keys">
        <dt>pointer, arrow keys</dt><dd>aim (Shift: 8 dots, Control: 32)</dd>
        <dt>click, space</dt><dd>pull the trigger</dd>
        <dt>Enter, Q</dt><dd>Start, Select</dd>
        <dt>W A S D, J, K</dt><dd>pad, B, A</dd>
      </dl>
    `;
  }

  #settings() {
    return html`
      <form class="settings" @submit=${(event: Event) => event.preventDefault()}>
        ${choice(
          'strategy',
          'strategy of the game',
          this.program,
          PROGRAMS.map(({ id, title }) => [id, title] as const),
          this.#chooseProgram,
        )}
        ${choice('rendering', 'flashes', this.rendering, RENDERINGS, this.#chooseRendering)}
        ${this.rendering === 'full' ? html`<p>${FULL_CAUTION}</p>` : nothing}
        <button type="button" class="primary" @click=${this.#shootOnce}>Shoot once at the practice street</button>
        <p>One shot at the aim, played from power-on with no moving picture; a wrong one is run again until its cause is proved.</p>
      </form>
    `;
  }

  #answer() {
    if (this.problem !== undefined) {
      return html`<p class="verdict wrong">✕ not possible</p><p>${this.problem.refused}. ${this.problem.hint}</p>`;
    }
    const latest = this.#latest();
    return latest === undefined ? nothing : html`${verdictView(latest)}${whyText(this.why, this.#applyCure)}`;
  }

  /** The latest shot, if it was shot with what is chosen now. */
  #latest(): LoggedShot | undefined {
    const [latest] = this.shots;
    return latest !== undefined && isSameSetUp(latest.setUp, this.#setUp()) ? latest : undefined;
  }

  #setUp(): SetUp {
    return { strategy: this.#strategyTitle(), lightPath: this.#light.path };
  }

  #strategyTitle(): string {
    return PROGRAMS.find(({ id }) => id === this.program)!.title;
  }

  #consoleText(): string {
    return this.#framesPerSecond === 0
      ? 'the picture leaves its plug'
      : `${this.#framesPerSecond.toFixed(1)} pictures a second`;
  }

  #plots(): readonly string[] | undefined {
    const latest = this.#latest();
    return latest && stationPlots(latest, this.#light.path);
  }

  #ruler() {
    const latest = this.#latest();
    if (latest === undefined || latest.lanes === null) return nothing;
    return html`<section class="ruler" aria-label="the light of this shot"><time-ruler .lanes=${latest.lanes} .marks=${latest.marks} .detail=${this.detail}
      @detail-wanted=${this.#fetchDetail} @cursor-time=${this.#hold}></time-ruler></section>`;
  }

  #list() {
    const latest = this.#latest();
    return earlierShots(this.shots.filter((shot) => shot !== latest));
  }

  #begin = async (): Promise<void> => {
    this.phase = 'loading';
    await this.#load();
    await this.updateComplete;
    this.#focusPicture();
  };

  #focusPicture(): void {
    this.renderRoot.querySelector<HTMLElement>('.play')?.focus();
  }

  /** Start the chosen program anew. */
  async #load(): Promise<void> {
    this.#worker ??= new LivePlayWorker();
    const program = PROGRAMS.find(({ id }) => id === this.program)!;
    this.#isWaiting = true;
    try {
      const files = await fetchProgram(program);
      const answer = await this.#worker.service.start({ ...files, lightPath: this.#light.path, aim: this.aim });
      this.problem = isRefusal(answer) ? answer : undefined;
      if (isRefusal(answer)) {
        this.phase = 'paused';
        return;
      }
      this.#framesPerSecond = answer.framesPerSecond;
      this.radiusDots = answer.spotRadiusDots;
      if (this.phase !== 'paused') this.#run();
    } catch (error) {
      this.problem = {
        refused: `The game could not be loaded: ${(error as Error).message}`,
        hint: 'Load the page again',
      };
      this.phase = 'paused';
    } finally {
      this.#isWaiting = false;
    }
  }

  #run(): void {
    this.phase = 'running';
    this.#clock = new PlayClock(this.#framesPerSecond);
    cancelAnimationFrame(this.#request);
    this.#request = requestAnimationFrame(this.#tick);
  }

  #tick = (nowMs: number): void => {
    if (this.phase !== 'running') return;
    this.#request = requestAnimationFrame(this.#tick);
    if (this.#isWaiting) return;
    const frames = this.#clock!.framesDue(nowMs);
    if (frames > 0) void this.#advance(frames, nowMs);
  };

  async #advance(frames: number, timeMs: number): Promise<void> {
    this.#isWaiting = true;
    const input = {
      aim: this.aim,
      pulls: this.#pulls,
      buttons: this.#buttons.held,
      frames,
      rendering: this.rendering,
      timeMs,
    };
    const setUp = this.#setUp();
    this.#pulls = false;
    this.#buttons.ran(frames);
    try {
      const answer = await this.#worker!.service.advance(input);
      if (isRefusal(answer)) {
        this.problem = answer;
        this.#pause();
        return;
      }
      this.shownOutlines = this.#paint('shown', answer.shown, this.shownOutlines);
      this.sentOutlines = this.#paint('sent', answer.sent, this.sentOutlines);
      for (const outcome of answer.outcomes) this.#log(outcome, setUp);
      // Console frames run so far, for whoever drives the page by program: a slow machine plays slower.
      this.dataset['frames'] = String(Number(this.dataset['frames'] ?? 0) + frames);
    } finally {
      this.#isWaiting = false;
    }
  }

  /** Draw a picture; answers its outlines, the very same list if they have not changed. */
  #paint(id: string, picture: DrawnPicture | null, before: readonly PlayBox[]): readonly PlayBox[] {
    if (picture === null) return before;
    const place = this.renderRoot.querySelector<BenchPicture>(`#${id}`);
    if (picture.dots !== null && place != null) {
      place.paint(picture.dots);
      recordPicture(place, picture.dots);
    }
    return JSON.stringify(picture.outlines) === JSON.stringify(before) ? before : picture.outlines;
  }

  #log(outcome: PlayOutcome, setUp: SetUp): void {
    this.problem = undefined;
    this.detail = undefined;
    this.why = undefined;
    this.shots = [{ ...outcome, setUp, number: (this.shots[0]?.number ?? 0) + 1 }, ...this.shots];
  }

  #pause = (): void => {
    if (this.phase === 'caution') return;
    this.phase = 'paused';
    this.#buttons.releaseAll();
    this.#pulls = false;
  };

  #pauseOnEscape = (event: KeyboardEvent): void => {
    if (event.key === 'Escape') this.#pause();
  };

  #pauseIfHidden = (): void => {
    if (document.hidden) this.#pause();
  };

  #goOn = (): void => {
    this.#run();
    this.#focusPicture();
  };

  #follow = ({ aim }: AimEvent): void => {
    this.aim = within(aim);
  };

  #pointerDown = (event: PointerEvent): void => {
    if (event.button === 0) this.#pull();
  };

  #pull(): void {
    if (this.phase === 'running') this.#pulls = true;
  }

  #keyDown = (event: KeyboardEvent): void => {
    const step = wandStep(event);
    const button = padButton(event);
    if (step !== undefined) this.aim = within({ x: this.aim.x + step[0], y: this.aim.y + step[1] });
    else if (event.code === 'Space' && !event.repeat) this.#pull();
    else if (button !== 0) this.#buttons.press(button);
    else if (event.code !== 'Space') return;
    event.preventDefault();
  };

  #keyUp = (event: KeyboardEvent): void => {
    this.#buttons.release(padButton(event));
  };

  #chooseProgram = async (value: string): Promise<void> => {
    this.program = value;
    if (this.phase === 'caution') return;
    await this.#load();
  };

  #chooseRendering = (value: string): void => {
    this.rendering = value as Rendering;
  };

  async #changeLight(): Promise<void> {
    if (this.#worker === undefined || this.phase === 'caution') return;
    const answer = await this.#worker.service.changeLightPath(this.#light.path);
    this.problem = isRefusal(answer) ? answer : undefined;
  }

  /** A shot without play. */
  #shootOnce = async (): Promise<void> => {
    this.#pause();
    this.#worker ??= new LivePlayWorker();
    const setUp = this.#setUp();
    const program = PROGRAMS.find(({ id }) => id === this.program)!;
    try {
      const files = await fetchProgram(program);
      const request: PlayRequest = { ...files, lightPath: this.#light.path, aim: this.aim };
      const answer = await this.#worker.service.rehearse(request);
      if (isRefusal(answer)) {
        this.problem = answer;
        return;
      }
      this.radiusDots = answer.spotRadiusDots;
      this.#log(answer.outcome, setUp);
      const why = await this.#worker.service.explain();
      if (why !== null && !isRefusal(why) && isSameSetUp(this.#setUp(), setUp)) this.why = why;
    } catch (error) {
      this.problem = {
        refused: `The shot could not be played: ${(error as Error).message}`,
        hint: 'Load the page again',
      };
    }
  };

  /** Make the changes of a cure on the bench and shoot again. */
  #applyCure = (changes: readonly Change[]): void => {
    const { lightPath, aim } = changedPath({ lightPath: this.#light.path, aim: this.aim }, changes);
    this.aim = aim;
    this.#light.edit(lightPath, 'cure');
    void this.#shootOnce();
  };

  #fetchDetail = async ({ fromMs, toMs, columns }: DetailWantedEvent): Promise<void> => {
    const answer = await this.#worker?.service.detail(fromMs, toMs, columns);
    if (answer !== undefined && !isRefusal(answer)) this.detail = answer;
  };

  #holdCount = 0;

  /** Both pictures as they stood at the cursor; the game pauses. */
  #hold = async ({ ms }: CursorTimeEvent): Promise<void> => {
    const count = ++this.#holdCount;
    if (ms === null || this.phase === 'caution') return;
    this.#pause();
    const answer = await this.#worker?.service.still(ms, performance.now());
    if (answer === undefined || isRefusal(answer) || count !== this.#holdCount) return;
    this.shownOutlines = this.#paint('shown', answer.shown, this.shownOutlines);
    this.sentOutlines = this.#paint('sent', answer.sent, this.sentOutlines);
    if (answer.isHeldBack)
      setTimeout(() => count === this.#holdCount && void this.#hold({ ms } as CursorTimeEvent), AGAIN_MS);
  };
}

const choice = (
  name: string,
  title: string,
  value: string,
  options: readonly (readonly [id: string, title: string])[],
  choose: (value: string) => unknown,
) => html`
  <label>${title}
    <select name=${name} .value=${value} @change=${(event: Event) => choose((event.target as HTMLSelectElement).value)}>
      ${options.map(([id, text]) => html`<option value=${id} ?selected=${id === value}>${text}</option>`)}
    </select>
  </label>
`;

/** The wand stays near the picture. */
const within = ({ x, y }: PlayAim): PlayAim => ({
  x: Math.max(-16, Math.min(272, x)),
  y: Math.max(-16, Math.min(256, y)),
});

customElements.define('latelight-play', PlayBench);

declare global {
  interface HTMLElementTagNameMap {
    'latelight-play': PlayBench;
  }
}
