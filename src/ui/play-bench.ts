import './bench/bench-files.ts';
import './bench/flash-gate.ts';
import './bench/lights-way.ts';
import './bench-picture.ts';
import { html, LitElement, nothing } from 'lit';
import type { Change, PlayRequest, Rendering } from '../workers/play.api.ts';
import type { BenchOpenedEvent } from './bench/bench-files.ts';
import { type BenchState, FIRST_STATE } from './bench/bench-state.ts';
import { FirstMinuteDesk } from './bench/first-minute-desk.ts';
import { FIRST_MINUTE_STYLES, firstMinuteLink, firstMinuteView } from './bench/first-minute-view.ts';
import type { FlashGateEvent } from './bench/flash-gate.ts';
import { HeldInstant } from './bench/held-instant.ts';
import { type KeptBench, keptRendering } from './bench/kept-bench.ts';
import { LightDesk } from './bench/light-desk.ts';
import { changedPath } from './bench/light-edits.ts';
import { PicturePair } from './bench/picture-pair.ts';
import { PlayDesk } from './bench/play-desk.ts';
import { ownButton, type ProgramWords, programWords } from './bench/program-words.ts';
import { RenderingDesk } from './bench/rendering-desk.ts';
import { ShotDesk } from './bench/shot-desk.ts';
import { earlierShots, type LoggedShot, type SetUp, verdictView } from './bench/shot-log.ts';
import { cautionView, stageView } from './bench/stage-view.ts';
import { stationPlots } from './bench/station-plots.ts';
import { STRATEGY_TABLE_STYLES, strategyTable } from './bench/strategy-table.ts';
import { WandDesk } from './bench/wand-desk.ts';
import { whyText } from './bench/why-text.ts';
import { FULL_CAUTION } from './caution.ts';
import { choiceView } from './choice.ts';
import { KeptShot } from './compare/kept-shot.ts';
import { rulerSection } from './compare/ruler-section.ts';
import type { OpenedShot } from './lag-map/lag-map-events.ts';
import { isRefusal } from './live-play.ts';
import { nextTask } from './next-task.ts';
import { OPENING_STYLES } from './opening.styles.ts';
import { programChoices, programNamed, withShot } from './own-program/chosen-program.ts';
import { ownImageName } from './own-program/own-id.ts';
import { type ChosenProgram, KnownFiles, type OwnProgram, setUpOf } from './own-program/own-program.ts';
import { PLAY_STYLES } from './play-bench.styles.ts';

const RENDERINGS = [
  ['outline', 'left out, boxes as outlines'],
  ['reduced', 'dimmed greys that cannot flash'],
  ['full', 'shown in full, small'],
] as const;

/** So much of a verdict is in sight at least, CSS pixels. Our choice: its first two lines. */
const LEAST_SEEN_PX = 60;

/** Lamplighter or an own program through a light path: the picture as the glass shows it, the wand, and every pull's judgement as text. */
export class PlayBench extends LitElement {
  static override properties = {
    program: { state: true },
    own: { state: true },
    isShooting: { state: true },
  };

  static override styles = [OPENING_STYLES, PLAY_STYLES, FIRST_MINUTE_STYLES, STRATEGY_TABLE_STYLES];

  declare private program: string;
  declare private own: OwnProgram | undefined;
  /** A shot without play is under way. */
  declare private isShooting: boolean;
  /** The cell that the latest shot without play was of. */
  #opened: OpenedShot | undefined;
  readonly #files = new KnownFiles();
  readonly #light = new LightDesk(this, FIRST_STATE.lightPath, () => void this.#changeLight());
  readonly #pictures = new PicturePair(
    (name) => this.renderRoot.querySelector(`#${name}`),
    () => this.requestUpdate(),
    () => this.#rendering.shown === 'full',
  );
  readonly #rendering = new RenderingDesk(this);
  readonly #play: PlayDesk = new PlayDesk(this, {
    input: (frames) => ({
      ...this.#wand.take(frames),
      rendering: this.#rendering.shown,
      onScreen: this.#pictures.onScreen,
    }),
    frame: () => {
      const setUp = this.#setUp();
      const isFull = this.#rendering.shown === 'full';
      return ({ shown, sent, outcomes }, frames) => {
        this.#pictures.paint('shown', shown, isFull);
        this.#pictures.paint('sent', sent, isFull);
        for (const outcome of outcomes) void this.#shots.log(outcome, setUp, true);
        // Console frames run so far, for whoever drives the page by program: a slow machine plays slower.
        this.dataset['frames'] = String(Number(this.dataset['frames'] ?? 0) + frames);
      };
    },
    paused: () => this.#wand.release(),
  });
  readonly #wand = new WandDesk(this, FIRST_STATE.aim, () => this.#play.phase === 'running');
  readonly #shots = new ShotDesk(this, this.#play, () => this.#setUp());
  readonly #keptShot = new KeptShot(this, () => this.#play.service);
  readonly #held = new HeldInstant(this.#play, this.#pictures);
  readonly #minute = new FirstMinuteDesk(this, {
    shoot: async (state) => {
      const [before] = this.#shots.shots;
      await this.open(state, true);
      const [latest] = this.#shots.shots;
      return latest === before ? undefined : latest;
    },
    focus: (selector) => void this.#focus(selector),
    memory: () => localStorage,
  });

  constructor() {
    super();
    this.program = FIRST_STATE.strategy;
    this.own = undefined;
    this.isShooting = false;
  }

  /** What is chosen: strategy, way of the light and aim. */
  get chosen(): BenchState {
    return { strategy: this.program, lightPath: this.#light.path, aim: this.#wand.aim };
  }

  /** What is kept when the page is closed. */
  get kept(): KeptBench {
    const { past, future } = this.#light.edits;
    return {
      state: this.chosen,
      past,
      future,
      drafts: this.#light.drafts,
      rendering: keptRendering(this.#rendering.chosen),
    };
  }

  /** Take what was kept. */
  restore({ state: { strategy, lightPath, aim }, past, future, drafts, rendering }: KeptBench): void {
    this.program = strategy;
    this.#wand.point(aim);
    this.#rendering.choose(rendering);
    this.#light.restore({ past, present: lightPath, future }, drafts);
  }

  /** Ids of what can be chosen. */
  get strategies(): readonly string[] {
    return programChoices(this.own).map(({ id }) => id);
  }

  /** Another own program is on the page, or none. It is played if it `isChosen` or an own one was played. */
  takeOwn(own: OwnProgram | undefined, isChosen: boolean): void {
    this.own = own;
    if (isChosen && own !== undefined) this.#wand.point(setUpOf(own, this.chosen).aim);
    if (isChosen || ownImageName(this.program) !== undefined) void this.#chooseProgram(own?.id ?? FIRST_STATE.strategy);
  }

  /** Open a saved bench. */
  openFile(name: string, text: string): void {
    this.renderRoot.querySelector('bench-files')!.openText(name, text);
  }

  /** Light path and first aim of the own program's scenario. */
  openOwnSetUp(): void {
    if (this.own !== undefined) void this.open({ ...setUpOf(this.own, this.chosen), strategy: this.own.id }, false);
  }

  /** A cell of a map: choose all of it, and play its very shot. */
  async openShot(opened: OpenedShot): Promise<void> {
    this.#play.pause();
    await this.open(opened, false);
    await this.#shootOnce(opened);
  }

  /** Choose all of it, as a link does, and play one shot if wanted. */
  async open({ strategy, lightPath, aim }: BenchState, isShot: boolean): Promise<void> {
    const isOther = strategy !== this.program;
    this.program = strategy;
    this.#wand.point(aim);
    this.#light.open(lightPath);
    if (isShot) this.#play.pause();
    if (isOther && this.#play.phase !== 'caution') await this.#load();
    if (isShot) await this.#shootOnce();
  }

  /** First drawn in a task of its own, not in the one that makes the page. */
  protected override async scheduleUpdate(): Promise<void> {
    if (!this.hasUpdated) await nextTask();
    super.scheduleUpdate();
  }

  protected override firstUpdated(): void {
    if (!this.hidden) void this.#play.prepare(() => this.#request());
  }

  override updated(): void {
    this.#pictures.settle();
    this.dispatchEvent(new Event('chosen', { bubbles: true, composed: true }));
  }

  override connectedCallback(): void {
    super.connectedCallback();
    if (!this.hidden) this.#play.wake();
    window.addEventListener('blur', this.#play.pause);
    window.addEventListener('keydown', this.#pauseOnEscape);
    window.addEventListener('keydown', this.#stepOnKeys);
    document.addEventListener('visibilitychange', this.#pauseIfHidden);
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    window.removeEventListener('blur', this.#play.pause);
    window.removeEventListener('keydown', this.#pauseOnEscape);
    window.removeEventListener('keydown', this.#stepOnKeys);
    document.removeEventListener('visibilitychange', this.#pauseIfHidden);
    this.#play.stop();
  }

  override render() {
    const isFirst = this.#minute.isOpen;
    return html`
      ${isFirst ? html`${firstMinuteView(this.#minute)}${this.#result()}` : this.#lead()}
      ${this.#way()}
      <div class="bench">
        <div class="stage">
          ${this.#play.phase === 'caution' ? cautionView(this.#begin) : this.#stage()}
        </div>
        <div class="side">
          ${isFirst ? nothing : this.#verdict()}
          ${this.#settings()}
        </div>
      </div>
      ${strategyTable({ chosen: this.program, choose: (id) => void this.#chooseProgram(id) })}
      ${isFirst ? nothing : this.#ruler()}
      <slot name="own"></slot>
      ${this.#list()}
      ${this.#rendering.isAsking ? html`<flash-gate @flash-gate=${this.#answerGate}></flash-gate>` : nothing}
    `;
  }

  #lead() {
    return html`
      <p class="lead">
        ${this.#words().lead} ${firstMinuteLink(this.#minute)}
      </p>
    `;
  }

  /** While the first minute plays its shots it says itself what came of them. */
  #result() {
    return html`${this.#verdict()}${this.#ruler()}`;
  }

  #verdict() {
    return html`<div role="status" aria-live=${this.#minute.isShooting ? 'off' : 'polite'} class="answer">${this.#answer()}</div>`;
  }

  #way() {
    return html`
      <section class="way" aria-label="The way of the light">
        <lights-way .lightPath=${this.#light.path} .console=${this.#consoleText()} .reader=${this.#words().reader}
          .plots=${this.#plots()} .drafts=${this.#light.drafts} @light-path=${this.#light.follow} @draft=${this.#light.keepDraft} @field-done=${this.#light.endStep}></lights-way>
        <p class="steps">
          <button aria-disabled=${!this.#light.canUndo} aria-keyshortcuts="Control+Z" title="Control Z" @click=${this.#light.undo}>Undo</button>
          <button aria-disabled=${!this.#light.canRedo} aria-keyshortcuts="Control+Y" title="Control Y" @click=${this.#light.redo}>Redo</button>
          <span class="secondary">choose a station to change it</span>
          <bench-files .bench=${this.chosen} .strategies=${this.strategies} @bench-opened=${this.#openBench}></bench-files>
        </p>
      </section>
    `;
  }

  #stage() {
    return stageView({
      play: this.#play,
      wand: this.#wand,
      pictures: this.#pictures,
      rendering: this.#rendering.shown,
      name: this.#words().name,
      goOn: this.#goOn,
      latest: this.#shots.latest,
      tell: this.#tell,
    });
  }

  #settings() {
    return html`
      <form class="settings" @submit=${(event: Event) => event.preventDefault()}>
        ${choiceView({
          title: 'strategy of the game',
          name: 'strategy',
          chosen: this.program,
          options: programChoices(this.own).map(({ id, title }) => [id, title] as const),
          choose: this.#chooseProgram,
        })}
        ${ownButton(this.#program(), this.#wantOwn)}
        ${choiceView({ title: 'flashes', name: 'rendering', chosen: this.#rendering.chosen, options: RENDERINGS, choose: this.#chooseRendering })}
        ${this.#rendering.shown === 'full' ? html`<p>${FULL_CAUTION}</p>` : nothing}
        <button type="button" class="primary" @click=${this.#shootAndTell}>${this.#words().shoot}</button>
        <p>${this.#words().shootNote}</p>
      </form>
    `;
  }

  #tell = (): void => {
    this.renderRoot.querySelector('.answer')?.scrollIntoView({ block: 'start' });
  };

  /** What came of a shot is brought into sight where somebody has shot from far below it. */
  #shootAndTell = async (): Promise<void> => {
    await this.#shootOnce();
    await this.updateComplete;
    const { top = 0 } = this.renderRoot.querySelector('.answer')?.getBoundingClientRect() ?? {};
    if (top < 0 || top > innerHeight - LEAST_SEEN_PX) this.#tell();
  };

  #answer() {
    const { problem } = this.#play;
    if (problem !== undefined)
      return html`<p class="verdict wrong">✕ not possible</p><p>${problem.refused}. ${problem.hint}</p>`;
    const { latest, why } = this.#shots;
    if (this.isShooting) return html`<p class="secondary">The shot is being played …</p>`;
    if (latest === undefined) return this.#shots.isCured ? html`<p>Changed. Pull again.</p>` : nothing;
    const asking = this.#shots.isAsking ? html`<p class="secondary">Why is being looked for …</p>` : nothing;
    return html`${verdictView(latest, why)}${asking}${whyText(why, latest, this.#applyCure)}`;
  }

  #openBench = ({ state }: BenchOpenedEvent): void => void this.open(state, false);

  #setUp(): SetUp {
    return { strategy: this.#words().reader, lightPath: this.#light.path };
  }

  #program(): ChosenProgram {
    return programNamed(this.program, this.own);
  }

  #words(): ProgramWords {
    return programWords(this.#program());
  }

  #wantOwn = (): void => {
    this.dispatchEvent(new Event('own-wanted', { bubbles: true, composed: true }));
  };

  #consoleText(): string {
    const { framesPerSecond } = this.#play;
    return framesPerSecond === 0 ? 'the picture leaves its plug' : `${framesPerSecond.toFixed(1)} pictures a second`;
  }

  #plots(): readonly string[] | undefined {
    const { latest } = this.#shots;
    return latest && stationPlots(latest, this.#light.path);
  }

  #ruler() {
    return rulerSection({ shots: this.#shots, kept: this.#keptShot, held: this.#held, keep: this.#keep });
  }

  #list() {
    const { latest, shots } = this.#shots;
    return earlierShots({
      shots: shots.filter((shot) => shot !== latest),
      kept: this.#keptShot.shot,
      keep: this.#keep,
    });
  }

  #keep = (shot: LoggedShot | undefined): void => {
    this.#keptShot.keep(shot);
    void this.#focus(shot === undefined ? '#keep-shot' : 'shot-comparison');
  };

  #begin = async (): Promise<void> => {
    this.#minute.putAway();
    this.#play.begin();
    // What is pressed while the game is being loaded is not lost to the page behind the caution.
    await this.#focus('.play');
    await this.#load();
    await this.#focus('.play');
  };

  async #focus(selector: string): Promise<void> {
    await this.updateComplete;
    this.renderRoot.querySelector<HTMLElement>(selector)?.focus();
  }

  /** What is chosen, with the files of its program. */
  async #request(): Promise<PlayRequest> {
    const files = await this.#files.of(this.#program());
    return { ...files, lightPath: this.#light.path, aim: this.#wand.aim };
  }

  /** Start the chosen program anew. */
  #load = (): Promise<void> => this.#play.start(() => this.#request());

  #pauseOnEscape = (event: KeyboardEvent): void => {
    if (event.key === 'Escape') this.#play.pause();
  };

  /** Control or Command with Z takes a change back, with Y or Shift Z makes it again; texts have steps of their own. */
  #stepOnKeys = (event: KeyboardEvent): void => {
    const key = event.key.toLowerCase();
    if (!(event.ctrlKey || event.metaKey) || event.altKey || !['z', 'y'].includes(key)) return;
    const [target] = event.composedPath();
    if (this.hidden || target instanceof HTMLInputElement || target instanceof HTMLTextAreaElement) return;
    event.preventDefault();
    if (key === 'y' || event.shiftKey) this.#light.redo();
    else this.#light.undo();
  };

  #pauseIfHidden = (): void => {
    if (document.hidden) this.#play.pause();
  };

  #goOn = (): void => {
    this.#minute.putAway();
    this.#play.run();
    void this.#focus('.play');
  };

  #chooseProgram = async (value: string): Promise<void> => {
    this.program = value;
    if (this.#play.phase !== 'caution') await this.#load();
  };

  #chooseRendering = (value: string): void => {
    this.#rendering.choose(value as Rendering);
    if (this.#rendering.isAsking) this.#play.hold();
  };

  #answerGate = ({ isAllowed }: FlashGateEvent): void => {
    this.#rendering.answer(isAllowed);
    this.#play.letGo();
  };

  async #changeLight(): Promise<void> {
    if (this.#play.phase === 'caution') return;
    const answer = await this.#play.service.changeLightPath(this.#light.path);
    this.#play.setProblem(isRefusal(answer) ? answer : undefined);
  }

  /** A shot without play: that of the program's scenario, or of a cell. */
  async #shootOnce(opened?: OpenedShot): Promise<void> {
    if (this.isShooting) return;
    this.isShooting = true;
    this.#play.pause();
    this.#opened = opened;
    const setUp = this.#setUp();
    try {
      const { service } = this.#play;
      const own = await this.#request();
      const request =
        opened === undefined ? await withShot(own, this.#program(), service) : { ...own, scenario: opened.scenario };
      const answer = isRefusal(request) ? request : await service.rehearse(request);
      if (isRefusal(answer)) {
        this.#play.setProblem(answer);
        return;
      }
      this.#play.setRadius(answer.spotRadiusDots);
      const { outcome } = answer;
      const shown = opened === undefined ? outcome : { ...outcome, text: `${outcome.text} ${cellText(opened)}` };
      await this.#shots.log(shown, setUp, false);
    } catch (error) {
      this.#play.setProblem({
        refused: `The shot could not be played: ${(error as Error).message}`,
        hint: 'Load the page again',
      });
    } finally {
      this.isShooting = false;
    }
  }

  /** Make the changes of a cure on the bench; a shot without play is made again at once. */
  #applyCure = (changes: readonly Change[]): void => {
    const { lightPath, aim } = changedPath({ lightPath: this.#light.path, aim: this.#wand.aim }, changes);
    this.#wand.point(aim);
    const isLive = this.#shots.latest?.isLive === true;
    this.#light.edit(lightPath, 'cure');
    if (!isLive) return void this.#shootOnce(this.#opened);
    this.#shots.cured();
    void this.#focus('.play');
  };
}

const cellText = ({ shot, atMs }: OpenedShot): string =>
  `Pulled ${atMs.toFixed(3)} ms after power-on, as shot ${shot} of its cell on the lag map; "Shoot once" pulls when the scenario of the program says.`;

customElements.define('latelight-play', PlayBench);

declare global {
  interface HTMLElementTagNameMap {
    'latelight-play': PlayBench;
  }
}
