import './bench-picture.ts';
import './time-ruler.ts';
import { html, LitElement, nothing } from 'lit';
import type { DrawnPicture, LightChoice, PlayAim, PlayBox, PlayOutcome, Rendering } from '../workers/play.api.ts';
import type { Refusal } from '../workers/refusal.ts';
import type { AimEvent, BenchPicture } from './bench-picture.ts';
import { CAUTION, FULL_CAUTION } from './caution.ts';
import { isRefusal, LivePlayWorker } from './live-play.ts';
import { HeldButtons, padButton, wandStep } from './pad-keys.ts';
import { PLAY_STYLES } from './play-bench.styles.ts';
import { PlayClock } from './play-clock.ts';
import { fetchProgram, PROGRAMS } from './programs.ts';

/** How play stands: nothing runs before the caution is read, nor while it is paused. */
type Phase = 'caution' | 'loading' | 'running' | 'paused';

const PANELS = [
  ['beam-tube', 'tube'],
  ['lcd', 'LCD'],
] as const;
const SENSORS = [
  ['wide-band', 'wide band'],
  ['line-rate', 'line rate'],
] as const;
const RENDERINGS = [
  ['outline', 'left out, boxes as outlines'],
  ['full', 'shown in full, small'],
] as const;
const DELAY_MS = { least: 0, most: 500 } as const;
const LOGGED_SHOTS = 12;
const MIDDLE: PlayAim = { x: 128, y: 120 };

/** A shot as the page lists it. */
interface LoggedShot extends PlayOutcome {
  readonly number: number;
  /** Strategy and light path that it was shot with, in words. */
  readonly setUp: string;
}

/** Lamplighter through a light path: the picture as the glass shows it, the wand, and every pull's judgement as text. */
export class PlayBench extends LitElement {
  static override properties = {
    phase: { state: true },
    program: { state: true },
    panel: { state: true },
    sensor: { state: true },
    delay: { state: true },
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
  declare private panel: string;
  declare private sensor: string;
  /** As typed; it need not be a number. */
  declare private delay: string;
  declare private aim: PlayAim;
  declare private radiusDots: number;
  declare private shots: readonly LoggedShot[];
  declare private problem: Refusal | undefined;
  declare private rendering: Rendering;
  declare private sentOutlines: readonly PlayBox[];
  declare private shownOutlines: readonly PlayBox[];
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
    this.program = 'same-frame-tested';
    this.panel = 'beam-tube';
    this.sensor = 'wide-band';
    this.delay = '0';
    this.aim = MIDDLE;
    this.radiusDots = 6;
    this.shots = [];
    this.problem = undefined;
    this.rendering = 'outline';
    this.sentOutlines = [];
    this.shownOutlines = [];
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
        ${choice('panel', 'panel', this.panel, PANELS, this.#choosePanel)}
        <label>delay of the picture, ${DELAY_MS.least} to ${DELAY_MS.most} ms
          <input name="delay" inputmode="decimal" autocomplete="off" .value=${this.delay}
            aria-invalid=${this.#delayMs() === undefined} aria-describedby="delay-problem" @input=${this.#typeDelay} />
        </label>
        ${
          this.#delayMs() === undefined
            ? html`<p id="delay-problem" class="wrong">✕ The delay is "${this.delay}", expected a number from ${DELAY_MS.least} to ${DELAY_MS.most}. The screen stays ${this.#lastDelayMs} ms late.</p>`
            : html`<span id="delay-problem"></span>`
        }
        ${choice('sensor', 'sensor', this.sensor, SENSORS, this.#chooseSensor)}
        ${choice('rendering', 'flashes', this.rendering, RENDERINGS, this.#chooseRendering)}
        ${this.rendering === 'full' ? html`<p>${FULL_CAUTION}</p>` : nothing}
      </form>
    `;
  }

  #answer() {
    if (this.problem !== undefined) {
      return html`<p class="verdict wrong">✕ not possible</p><p>${this.problem.refused}. ${this.problem.hint}</p>`;
    }
    const latest = this.#latest();
    return latest === undefined ? nothing : verdictText(latest);
  }

  /** The latest shot, if it was shot with what is chosen now. */
  #latest(): LoggedShot | undefined {
    const [latest] = this.shots;
    return latest?.setUp === this.#setUp() ? latest : undefined;
  }

  #setUp(): string {
    const titleOf = (options: readonly (readonly [id: string, title: string])[], id: string): string =>
      options.find(([one]) => one === id)![1];
    const strategy = PROGRAMS.find(({ id }) => id === this.program)!.title;
    const light = [titleOf(PANELS, this.panel), `${this.#lastDelayMs} ms late`, titleOf(SENSORS, this.sensor)];
    return [strategy, ...light].join(', ');
  }

  #ruler() {
    const latest = this.#latest();
    if (latest === undefined || latest.lanes === null) return nothing;
    return html`<section class="ruler" aria-label="the light of this shot"><time-ruler .lanes=${latest.lanes} .marks=${latest.marks}></time-ruler></section>`;
  }

  #list() {
    const latest = this.#latest();
    const earlier = this.shots.filter((shot) => shot !== latest).slice(0, LOGGED_SHOTS);
    if (earlier.length === 0) return nothing;
    return html`
      <h2>Earlier shots</h2>
      <ol reversed class="shots">
        ${earlier.map((shot) => html`<li value=${shot.number}>${shotLine(shot)}</li>`)}
      </ol>
    `;
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
      const answer = await this.#worker.start({ ...files, lightPath: this.#light(), aim: this.aim });
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

  #light(): LightChoice {
    return { panel: this.panel, sensor: this.sensor, delayMs: this.#lastDelayMs };
  }

  #lastDelayMs = 0;

  /** What is typed as a number of milliseconds; undefined if it is none in range. */
  #delayMs(): number | undefined {
    const typed = this.delay.trim().replace(',', '.');
    const value = /^\d+(\.\d*)?$/.test(typed) ? Number(typed) : Number.NaN;
    return value >= DELAY_MS.least && value <= DELAY_MS.most ? value : undefined;
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
      const answer = await this.#worker!.advance(input);
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
    if (picture.dots !== null) place?.paint(picture.dots);
    return JSON.stringify(picture.outlines) === JSON.stringify(before) ? before : picture.outlines;
  }

  #log(outcome: PlayOutcome, setUp: string): void {
    this.problem = undefined;
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

  #choosePanel = (value: string): void => {
    this.panel = value;
    void this.#changeLight();
  };

  #chooseSensor = (value: string): void => {
    this.sensor = value;
    void this.#changeLight();
  };

  #chooseRendering = (value: string): void => {
    this.rendering = value as Rendering;
  };

  #typeDelay = (event: Event): void => {
    this.delay = (event.target as HTMLInputElement).value;
    const delayMs = this.#delayMs();
    if (delayMs === undefined || delayMs === this.#lastDelayMs) return;
    this.#lastDelayMs = delayMs;
    void this.#changeLight();
  };

  async #changeLight(): Promise<void> {
    if (this.#worker === undefined) return;
    const answer = await this.#worker.changeLightPath(this.#light());
    this.problem = isRefusal(answer) ? answer : undefined;
  }
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

const sign = ({ isRight }: PlayOutcome): string => (isRight ? '✓' : '✕');

const verdictText = (shot: LoggedShot) => html`
  <p class="verdict ${shot.isRight ? 'right' : 'wrong'}">${sign(shot)} ${shot.judgement}</p>
  <p class="secondary">${shot.setUp}</p>
  <p>${shot.text}</p>
`;

const shotLine = (shot: LoggedShot) => html`
  <span class=${shot.isRight ? 'right' : 'wrong'}>${sign(shot)} ${shot.judgement}</span>
  <span class="secondary">${shot.setUp}</span> ${shot.text}
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
