import { css, html, LitElement, nothing } from 'lit';
import { LatelightError } from '../../errors/latelight-error.ts';
import { textOf } from '../opened-file.ts';
import { ownImageName } from '../own-program/own-id.ts';
import { saveFile } from '../ruler/ruler-files.ts';
import { type BenchState, benchFileText, FIRST_STATE, readBenchFile } from './bench-state.ts';

const FILE_NAME = 'latelight-bench.json';

/** A file of the bench has been read: this is to stand on the bench. */
export class BenchOpenedEvent extends Event {
  readonly state: BenchState;

  constructor(state: BenchState) {
    super('bench-opened', { bubbles: true, composed: true });
    this.state = state;
  }
}

/** Saves the bench as a file and opens such files; one that is wrong is explained, and the bench stands. */
export class BenchFiles extends LitElement {
  static override properties = {
    bench: { attribute: false },
    strategies: { attribute: false },
    refused: { state: true },
    note: { state: true },
  };

  static override styles = css`
    :host { display: contents; }
    button {
      font: inherit; padding: 0.4rem 0.7rem; min-height: 44px; box-sizing: border-box; cursor: pointer;
      color: var(--ink); background: none; border: 1px solid var(--border); border-radius: 4px;
    }
    :focus-visible { outline: 2px solid var(--light); outline-offset: 3px; }
    [hidden] { display: none; }
    .wrong, .secondary { flex: 1 0 100%; max-width: 46rem; margin: 0; overflow-wrap: anywhere; }
    .wrong { color: var(--wrong); }
    .secondary { color: var(--secondary); font-size: 13px; }
  `;

  declare bench: BenchState;
  /** Ids of the programs that a bench can name. */
  declare strategies: readonly string[];
  /** Why the latest file was not opened. */
  declare private refused: string;
  /** What a saved file does not hold. */
  declare private note: string;

  constructor() {
    super();
    this.bench = FIRST_STATE;
    this.strategies = [];
    this.refused = '';
    this.note = '';
  }

  override render() {
    return html`
      <button @click=${this.#save}>Save the bench</button>
      <button @click=${this.#ask}>Open a bench</button>
      <input type="file" hidden accept=".json,application/json" aria-label="file of the bench" @change=${this.#choose} />
      ${this.refused === '' ? nothing : html`<p class="wrong" role="alert">✕ ${this.refused} The bench stands as it was.</p>`}
      ${this.note === '' ? nothing : html`<p class="secondary" role="status">${this.note}</p>`}
    `;
  }

  /** Read a saved bench and tell whoever keeps the bench. */
  openText(name: string, text: string): void {
    const { state, faults } = readBenchFile(text, this.bench, this.strategies);
    this.refused = faults.length === 0 ? '' : `"${name}" was not opened: ${faults.join('; ')}.`;
    if (faults.length === 0) this.dispatchEvent(new BenchOpenedEvent(state));
  }

  async #open(file: File): Promise<void> {
    try {
      this.openText(file.name, await textOf(file));
    } catch (error) {
      if (!(error instanceof LatelightError)) throw error;
      this.refused = `${error.message}. ${error.hint}`;
    }
  }

  #save = (): void => {
    saveFile(new Blob([benchFileText(this.bench)], { type: 'application/json' }), FILE_NAME);
    const image = ownImageName(this.bench.strategy);
    this.note =
      image === undefined
        ? ''
        : `The saved bench names the own image "${image}" and does not hold it: keep its files too, and choose them on the page before the bench is opened.`;
  };

  #ask = (): void => {
    this.renderRoot.querySelector<HTMLInputElement>('input')!.click();
  };

  #choose = async (event: Event): Promise<void> => {
    const input = event.target as HTMLInputElement;
    const [file] = input.files ?? [];
    if (file !== undefined) await this.#open(file);
    // The same file can be chosen again, changed.
    input.value = '';
  };
}

customElements.define('bench-files', BenchFiles);

declare global {
  interface HTMLElementTagNameMap {
    'bench-files': BenchFiles;
  }
}
