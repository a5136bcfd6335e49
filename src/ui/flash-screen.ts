import './flash-report.ts';
import { type Remote, wrap } from 'comlink';
import { css, html, LitElement, nothing, type PropertyValues } from 'lit';
import { FLASH_PROFILES } from '../safety/flash-profile.ts';
import type { FlashCheckService, FlashStream } from '../workers/flash-check.api.ts';
import type { Refusal } from '../workers/refusal.ts';
import { startWorker } from '../workers/worker-tasks.ts';
import { isRefusal } from './live-play.ts';
import { programChoices, programNamed } from './own-program/chosen-program.ts';
import { filesOf, type OwnProgram } from './own-program/own-program.ts';
import { PAGE_RECORD } from './page-record.ts';

const SCALE = { least: 0.5, most: 20 } as const;

/** What the game shows and what this page has shown, against the published limits. */
export class FlashScreen extends LitElement {
  static override properties = {
    own: { attribute: false },
    chosen: { attribute: false },
    program: { state: true },
    scale: { state: true },
    game: { state: true },
    thisPage: { state: true },
    busy: { state: true },
    problem: { state: true },
  };

  static override styles = css`
    :host { display: block; }
    .lead { max-width: 46rem; }
    form { display: flex; flex-wrap: wrap; gap: 0.8rem 1.25rem; align-items: end; margin: 0 0 1.25rem; }
    label { display: grid; gap: 0.25rem; color: var(--secondary); font-size: 13px; }
    input, select, button {
      font: inherit; font-size: 15px; padding: 0.35rem 0.6rem; min-height: 44px; box-sizing: border-box; max-width: 100%;
      color: var(--ink); background: var(--ground); border: 1px solid var(--border); border-radius: 4px;
    }
    button { cursor: pointer; border-color: var(--light); color: var(--light); }
    input { width: 8rem; }
    input[aria-invalid='true'] { border-color: var(--wrong); }
    :focus-visible { outline: 2px solid var(--light); outline-offset: 2px; }
    .wrong { color: var(--wrong); }
  `;

  /** The own program of the page. */
  declare own: OwnProgram | undefined;
  /** Id of the program on the bench: the one to be judged, until another is chosen here. */
  declare chosen: string | undefined;
  declare private program: string;
  /** As typed. */
  declare private scale: string;
  declare private game: FlashStream | undefined;
  /** Undefined until it has been counted. */
  declare private thisPage: FlashStream | undefined;
  declare private busy: string;
  declare private problem: Refusal | undefined;
  #worker: Worker | undefined;
  #service: Remote<FlashCheckService> | undefined;

  constructor() {
    super();
    this.own = undefined;
    this.chosen = undefined;
    this.program = 'same-frame-tested';
    this.scale = '3';
    this.game = undefined;
    this.thisPage = undefined;
    this.busy = '';
    this.problem = undefined;
  }

  override willUpdate(changed: PropertyValues): void {
    if (!changed.has('chosen') && !changed.has('own')) return;
    const { chosen } = this;
    if (this.game === undefined && chosen !== undefined && this.#titleOf(chosen) !== undefined) this.program = chosen;
  }

  #titleOf(program: string): string | undefined {
    return programChoices(this.own).find(({ id }) => id === program)?.title;
  }

  override firstUpdated(): void {
    void this.#report();
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.#worker?.terminate();
    this.#worker = undefined;
  }

  override render() {
    const isWrong = this.#size() === undefined;
    return html`
      <p class="lead">Two streams of pictures are held against the published limits: what the game shows on its own raster,
        played by its scenario, and what this page has shown since it was opened, at the size and speed at which you saw it.</p>
      <form @submit=${this.#check}>
        <label>strategy of the game
          <select @change=${(event: Event) => {
            this.program = (event.target as HTMLSelectElement).value;
          }}>
            ${programChoices(this.own).map(({ id, title }) => html`<option value=${id} ?selected=${id === this.program}>${title}</option>`)}
          </select>
        </label>
        <label>size it is seen at, CSS pixels from line to line
          <input inputmode="decimal" autocomplete="off" .value=${this.scale} aria-invalid=${isWrong} aria-describedby="size-problem"
            @input=${(event: Event) => {
              this.scale = (event.target as HTMLInputElement).value;
            }} />
        </label>
        <button ?disabled=${this.busy !== ''}>Check both</button>
      </form>
      <div id="size-problem">${isWrong ? html`<p class="wrong">✕ The size is "${this.scale}", expected a number from ${SCALE.least} to ${SCALE.most}.</p>` : nothing}</div>
      ${this.problem === undefined ? nothing : html`<p class="wrong" role="alert">✕ ${this.problem.refused}. ${this.problem.hint}</p>`}
      <flash-report .streams=${[this.game, this.thisPage].filter((stream) => stream !== undefined)} .busy=${this.busy}></flash-report>
    `;
  }

  #size(): number | undefined {
    const typed = this.scale.trim().replace(',', '.');
    const value = /^\d+(\.\d*)?$/.test(typed) ? Number(typed) : Number.NaN;
    return value >= SCALE.least && value <= SCALE.most ? value : undefined;
  }

  #check = async (event: Event): Promise<void> => {
    event.preventDefault();
    const scale = this.#size();
    if (scale === undefined || this.busy !== '') return;
    this.busy = 'The game is played and watched.';
    try {
      await this.#report();
      const title = this.#titleOf(this.program);
      const files = await filesOf(programNamed(this.program, this.own));
      const profiles = FLASH_PROFILES.filter(({ id }) => id === 'wcag-a' || id === 'tv-1702').map(({ id }) => id);
      const answer = await this.#running().check({ ...files, scale, profiles });
      this.problem = isRefusal(answer) ? answer : undefined;
      if (!isRefusal(answer)) this.game = { ...answer, watched: `${title}: ${answer.watched}` };
    } catch (error) {
      this.problem = {
        refused: `The game could not be checked: ${(error as Error).message}`,
        hint: 'Load the page again',
      };
    } finally {
      this.busy = '';
    }
  };

  /** What the page has shown until now. */
  async #report(): Promise<void> {
    try {
      this.thisPage = await PAGE_RECORD.report();
    } catch (error) {
      this.problem = {
        refused: `What this page has shown could not be counted: ${(error as Error).message}`,
        hint: 'Load the page again',
      };
    }
  }

  #running(): Remote<FlashCheckService> {
    if (this.#worker === undefined) {
      this.#worker = startWorker('flash check');
      this.#service = wrap<FlashCheckService>(this.#worker);
    }
    return this.#service!;
  }
}

customElements.define('flash-screen', FlashScreen);

declare global {
  interface HTMLElementTagNameMap {
    'flash-screen': FlashScreen;
  }
}
