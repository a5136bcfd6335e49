import './flash-screen.ts';
import './lag-map/lag-map.ts';
import './play-bench.ts';
import { css, html, LitElement, nothing } from 'lit';
import { benchQuery, FIRST_STATE, readBenchQuery } from './bench/bench-state.ts';
import type { OpenShotEvent } from './lag-map/lag-map-events.ts';
import type { PlayBench } from './play-bench.ts';
import { PROGRAMS } from './programs.ts';

const SCREENS = [
  ['bench', 'Bench'],
  ['lag-map', 'Lag map'],
  ['flash-check', 'Flash check'],
] as const;
type Screen = (typeof SCREENS)[number][0];

const STRATEGIES = PROGRAMS.map(({ id }) => id);

/** The screens of the page, and the address that says what stands on the bench: `#/bench?v=1&strategy=...`. */
export class Shell extends LitElement {
  static override properties = {
    screen: { state: true },
    faults: { state: true },
  };

  static override styles = css`
    :host { display: block; }
    header { display: flex; flex-wrap: wrap; gap: 0.25rem 1.5rem; align-items: baseline; margin-bottom: 1rem; }
    h1 { font: 600 1.6rem / 1.2 Georgia, serif; margin: 0; }
    nav { display: flex; gap: 1rem; }
    a { color: var(--secondary); text-decoration: none; padding: 0.6rem 0.1rem; border-bottom: 2px solid transparent; }
    a[aria-current='page'] { color: var(--ink); font-weight: 600; border-color: var(--light); }
    :focus-visible { outline: 2px solid var(--light); outline-offset: 3px; }
    .wrong { color: var(--wrong); max-width: 46rem; }
    [hidden] { display: none; }
  `;

  declare private screen: Screen;
  /** What was wrong with the address. */
  declare private faults: readonly string[];

  constructor() {
    super();
    this.screen = 'bench';
    this.faults = [];
  }

  override connectedCallback(): void {
    super.connectedCallback();
    window.addEventListener('hashchange', this.#read);
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    window.removeEventListener('hashchange', this.#read);
  }

  override firstUpdated(): void {
    this.#read();
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
          : html`<p class="wrong" role="alert">✕ This link cannot be opened: ${this.faults.join('; ')}. The bench stands as it was; ask for a new link, or set it up here.</p>`
      }
      <latelight-play ?hidden=${this.screen !== 'bench'} @chosen=${this.#write}></latelight-play>
      ${
        this.screen === 'lag-map'
          ? html`<lag-map .lightPath=${this.#bench()?.chosen.lightPath ?? FIRST_STATE.lightPath} .aim=${this.#bench()?.chosen.aim ?? FIRST_STATE.aim} @open-shot=${this.#openShot}></lag-map>`
          : nothing
      }
      ${this.screen === 'flash-check' ? html`<flash-screen></flash-screen>` : nothing}
    `;
  }

  #bench(): PlayBench | null {
    return this.renderRoot?.querySelector('latelight-play') ?? null;
  }

  /** Take over what the address says; an address without a state changes nothing. */
  #read = (): void => {
    const [path = '', query = ''] = location.hash.replace(/^#\/?/, '').split(/\?(.*)/s);
    this.screen = SCREENS.find(([id]) => id === path)?.[0] ?? 'bench';
    const bench = this.#bench();
    if (bench === null || query === '') return;
    const { state, faults } = readBenchQuery(query, bench.chosen, STRATEGIES);
    this.faults = faults;
    if (faults.length === 0 && benchQuery(state) !== benchQuery(bench.chosen)) bench.open(state, false);
  };

  /** The address follows the bench once something on it is another than at first. */
  #write = (): void => {
    if (this.screen !== 'bench' || this.faults.length > 0) return;
    const query = benchQuery(this.#bench()!.chosen);
    const isFirst = query === benchQuery(FIRST_STATE) && !location.hash.includes('?');
    const address = `#/bench?${query}`;
    if (!isFirst && location.hash !== address) history.replaceState(null, '', address);
  };

  #openShot = ({ detail: { strategy, lightPath, aim } }: OpenShotEvent): void => {
    this.faults = [];
    this.screen = 'bench';
    this.#bench()?.open({ strategy, lightPath, aim }, true);
  };
}

customElements.define('latelight-page', Shell);

declare global {
  interface HTMLElementTagNameMap {
    'latelight-page': Shell;
  }
}
