import './own-program/own-program-panel.ts';
import './play-bench.ts';
import { css, html, LitElement, nothing, type PropertyValues } from 'lit';
import { benchQuery, FIRST_STATE, readBenchQuery } from './bench/bench-state.ts';
import { REAL_SCREEN_CAUTION } from './caution.ts';
import { KeptPage } from './kept/kept-page.ts';
import type { OpenShotEvent } from './lag-map/lag-map-events.ts';
import { nextTask } from './next-task.ts';
import { FileDrop } from './own-program/file-drop.ts';
import { ownImageName } from './own-program/own-id.ts';
import type { OwnProgram } from './own-program/own-program.ts';
import type { BenchFileEvent, OwnPartsEvent, OwnProgramEvent } from './own-program/own-program-events.ts';
import type { OwnProgramPanel } from './own-program/own-program-panel.ts';
import type { PlayBench } from './play-bench.ts';

const SCREENS = [
  ['bench', 'Bench'],
  ['lag-map', 'Lag map'],
  ['flash-check', 'Flash check'],
] as const;
type Screen = (typeof SCREENS)[number][0];

const screenOf = (path: string): Screen | undefined => SCREENS.find(([id]) => id === path)?.[0];

/** What the address says behind its `#`. */
function addressed(): { readonly path: string; readonly query: string } {
  const [path = '', query = ''] = location.hash.replace(/^#\/?/, '').split(/\?(.*)/s);
  return { path, query };
}

/** Elements of screens that are fetched when they are first looked at, so that the bench is there sooner. */
const FETCHED: Partial<Record<Screen, () => Promise<unknown>>> = {
  'lag-map': () => import('./lag-map/lag-map.ts'),
  'flash-check': () => import('./flash-screen.ts'),
};

const lostImage = (name: string): string =>
  `The image "${name}" stood on the bench, but this browser has not kept it: choose its files again.`;

/** The screens of the page, and the address that says what stands on the bench: `#/bench?v=1&strategy=...`. */
export class Shell extends LitElement {
  static override properties = {
    screen: { state: true },
    faults: { state: true },
    own: { state: true },
    unfetched: { state: true },
  };

  static override styles = css`
    :host { display: block; }
    header { display: flex; flex-wrap: wrap; gap: 0.25rem 1.5rem; align-items: baseline; margin-bottom: 1rem; }
    h1 { font: 600 1.6rem / 1.2 Georgia, serif; margin: 0; }
    nav { display: flex; gap: 1rem; }
    a { color: var(--secondary); text-decoration: none; padding: 0.6rem 0.1rem; border-bottom: 2px solid transparent; }
    a[aria-current='page'] { color: var(--ink); font-weight: 600; border-color: var(--light); }
    :focus-visible { outline: 2px solid var(--light); outline-offset: 3px; }
    .wrong { color: var(--wrong); }
    .secondary { color: var(--secondary); font-size: 13px; }
    .wrong, .secondary { max-width: 46rem; overflow-wrap: anywhere; }
    button {
      font: inherit; padding: 0.4rem 0.7rem; min-height: 44px; box-sizing: border-box; cursor: pointer;
      color: var(--ink); background: var(--ground); border: 1px solid var(--border); border-radius: 4px;
    }
    footer { color: var(--secondary); font-size: 0.85rem; max-width: 46rem; margin-top: 3rem; border-top: 1px solid var(--border); padding-top: 0.75rem; }
    [hidden] { display: none; }
    .drop {
      position: fixed; inset: auto 0.75rem 0.75rem; margin: 0; padding: 1.25rem; text-align: center; z-index: 1;
      background: var(--sheet); border: 2px dashed var(--light); border-radius: 6px; pointer-events: none;
    }
  `;

  declare private screen: Screen;
  /** What was wrong with the address. */
  declare private faults: readonly string[];
  /** The own program of the page. */
  declare private own: OwnProgram | undefined;
  /** Why the screen that is looked at could not be fetched. */
  declare private unfetched: string | undefined;
  readonly #kept = new KeptPage(this, () => localStorage);
  /** The lag map was looked at: from then on it stays, with its form and its shots. */
  #isMapMade = false;
  /** Nothing is kept before that which was kept has been read. */
  #isRestored = false;
  readonly #drop = new FileDrop(this, (files) => void this.#take(files));

  constructor() {
    super();
    this.screen = screenOf(addressed().path) ?? 'bench';
    this.faults = [];
    this.own = undefined;
    this.unfetched = undefined;
  }

  override connectedCallback(): void {
    super.connectedCallback();
    window.addEventListener('hashchange', this.#read);
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    window.removeEventListener('hashchange', this.#read);
  }

  /** First drawn in a task of its own, not in the one that reads the program. */
  protected override async scheduleUpdate(): Promise<void> {
    if (!this.hasUpdated) await nextTask();
    super.scheduleUpdate();
  }

  override firstUpdated(): void {
    void this.#restore();
  }

  override willUpdate(changed: PropertyValues): void {
    this.#isMapMade ||= this.screen === 'lag-map';
    if (changed.has('screen')) void this.#fetch(this.screen);
  }

  /** The browser fetches a file only once, and tries again only where it had failed. */
  async #fetch(screen: Screen): Promise<void> {
    this.unfetched = undefined;
    try {
      await FETCHED[screen]?.();
    } catch (error) {
      this.unfetched = (error as Error).message;
    }
  }

  override render() {
    return html`
      <header>
        <h1>Latelight</h1>
        <nav aria-label="Screens">
          ${SCREENS.map(
            ([id, title]) =>
              html`<a href=${`#/${id}`} aria-current=${this.screen === id ? 'page' : nothing}>${title}</a>`,
          )}
        </nav>
      </header>
      ${
        this.faults.length === 0
          ? nothing
          : html`<p class="wrong" role="alert">✕ This link cannot be opened: ${this.faults.join('; ')}. The bench stands as it was; set it up here, or ask for a new link.</p>`
      }
      ${
        this.unfetched === undefined
          ? nothing
          : html`<p class="wrong" role="alert">✕ This screen could not be fetched: ${this.unfetched}. See to the connection and load the page again; what stands on the bench is kept.</p>`
      }
      ${this.#kept.notes.view()}
      <latelight-play ?hidden=${this.screen !== 'bench'} @chosen=${this.#write} @own-wanted=${this.#openPanel}>
        <own-program slot="own" @own-program=${this.#takeOwn} @own-parts=${this.#keepOwn} @own-set-up=${this.#takeOwnSetUp} @bench-file=${this.#openBenchFile} @own-closed=${this.#panelClosed}></own-program>
      </latelight-play>
      ${
        this.#isMapMade
          ? html`<lag-map ?hidden=${this.screen !== 'lag-map'} .store=${this.#kept.map} .lightPath=${this.#bench()?.chosen.lightPath ?? FIRST_STATE.lightPath} .aim=${this.#bench()?.chosen.aim ?? FIRST_STATE.aim} @open-shot=${this.#openShot}></lag-map>`
          : nothing
      }
      ${this.screen === 'flash-check' ? html`<flash-screen .own=${this.own} .chosen=${this.#bench()?.chosen.strategy}></flash-screen>` : nothing}
      <footer>${REAL_SCREEN_CAUTION}</footer>
      ${this.#drop.isOver ? html`<p class="drop">Let go to open a cartridge image with its labels and its scenario, or a saved bench.</p>` : nothing}
    `;
  }

  #bench(): PlayBench | null {
    return this.renderRoot?.querySelector('latelight-play') ?? null;
  }

  /** What was kept is on the page again, and then what the address says. */
  async #restore(): Promise<void> {
    const bench = this.#bench()!;
    this.#readScreen();
    const kept = this.#kept.bench.read(bench.chosen, bench.strategies);
    const image = kept && ownImageName(kept.state.strategy);
    if (kept !== undefined)
      bench.restore(image === undefined ? kept : { ...kept, state: { ...kept.state, strategy: FIRST_STATE.strategy } });
    const parts = await this.#kept.own.read();
    if (parts !== undefined) this.#panel().restore(parts);
    if (image !== undefined && this.own?.id === kept?.state.strategy) bench.takeOwn(this.own, true);
    else if (image !== undefined) this.#kept.notes.say(lostImage(image));
    this.#isRestored = true;
    this.#read();
    this.#write();
  }

  /** Take over what the address says; an address without a state changes nothing. */
  #read = (): void => {
    const query = this.#readScreen();
    const bench = this.#bench();
    if (bench === null || query === '') return;
    const { state, faults } = readBenchQuery(query, bench.chosen, bench.strategies);
    this.faults = [...this.faults, ...faults];
    if (faults.length === 0 && benchQuery(state) !== benchQuery(bench.chosen)) bench.open(state, false);
  };

  /** Answers what the address says of the bench. */
  #readScreen(): string {
    const { path, query } = addressed();
    const known = screenOf(path);
    const isNamed = known !== undefined || path === '';
    this.screen = known ?? 'bench';
    this.faults = isNamed ? [] : [`screen: found "${path}", expected ${SCREENS.map(([id]) => id).join(', ')}`];
    return query;
  }

  /** The bench is kept, and the address follows it once something on it is another than at first. */
  #write = (): void => {
    if (!this.#isRestored) return;
    this.#kept.bench.keepSoon(() => this.#bench()!.kept);
    if (this.screen !== 'bench' || this.faults.length > 0) return;
    const query = benchQuery(this.#bench()!.chosen);
    const isFirst = query === benchQuery(FIRST_STATE) && !location.hash.includes('?');
    const address = `#/bench?${query}`;
    if (!isFirst && location.hash !== address) history.replaceState(null, '', address);
  };

  #panel(): OwnProgramPanel {
    return this.renderRoot.querySelector('own-program')!;
  }

  #openPanel = (): void => void this.#panel().open();

  /** The keyboard is back where the panel was opened. */
  #panelClosed = (): void => this.#bench()?.renderRoot.querySelector<HTMLElement>('#own-image')?.focus();

  /** Files that were dropped, on whichever screen. */
  async #take(files: readonly File[]): Promise<void> {
    this.screen = 'bench';
    await this.updateComplete;
    await this.#panel().take(files);
  }

  #takeOwn = ({ program, isChosen, isSetUpGiven }: OwnProgramEvent): void => {
    this.own = program;
    this.#bench()?.takeOwn(program, isChosen);
    // A link may have waited for this image.
    if (this.faults.length > 0) this.#read();
    // Whoever brings a scenario means its light: one step that can be taken back.
    else if (isSetUpGiven) this.#takeOwnSetUp();
  };

  #keepOwn = ({ parts }: OwnPartsEvent): void => {
    if (this.#isRestored) void this.#kept.own.keep(parts);
  };

  #takeOwnSetUp = (): void => this.#bench()?.openOwnSetUp();

  #openBenchFile = ({ file }: BenchFileEvent): void => {
    this.#bench()?.openFile(file.name, new TextDecoder().decode(file.bytes));
  };

  #openShot = ({ detail }: OpenShotEvent): void => {
    this.faults = [];
    this.screen = 'bench';
    // The way back leads to the map.
    history.pushState(null, '', '#/bench');
    void this.#bench()?.openShot(detail);
  };
}

customElements.define('latelight-page', Shell);

declare global {
  interface HTMLElementTagNameMap {
    'latelight-page': Shell;
  }
}
