import { html, nothing, type ReactiveControllerHost } from 'lit';
import { saveFile } from '../ruler/ruler-files.ts';

/** Something that was kept and that nobody can read. */
export interface Unread {
  /** "of the bench" */
  readonly what: string;
  readonly faults: readonly string[];
  /** What it is called in the browser's storage. */
  readonly name: string;
  /** Undefined: it is no text that could be saved as a file. */
  readonly text: string | undefined;
}

/** What has to be said of what the browser keeps. */
export class KeptNotes {
  readonly #host: ReactiveControllerHost;
  #cannotKeep = false;
  #unread: readonly Unread[] = [];
  #sentences: readonly string[] = [];

  constructor(host: ReactiveControllerHost) {
    this.#host = host;
  }

  /** Something could not be kept. */
  refuse = (): void => {
    if (this.#cannotKeep) return;
    this.#cannotKeep = true;
    this.#host.requestUpdate();
  };

  /** A sentence of its own. */
  say(sentence: string): void {
    this.#sentences = [...this.#sentences, sentence];
    this.#host.requestUpdate();
  }

  tell(unread: Unread): void {
    this.#unread = [...this.#unread, unread];
    this.#host.requestUpdate();
  }

  view() {
    return html`
      <div role="status">
        ${this.#unread.map(
          ({ what, faults, name, text }) => html`
            <p class="wrong">✕ What this browser had kept ${what} cannot be read: ${faults.join('; ')}. Nothing was thrown
              away: it lies in the storage of this browser as "${name}", and the page begins anew.</p>
            ${text === undefined ? nothing : html`<p><button @click=${() => saveFile(new Blob([text]), `${name}.txt`)}>Save what was kept</button></p>`}
          `,
        )}
        ${this.#sentences.map((sentence) => html`<p class="wrong">✕ ${sentence}</p>`)}
        ${
          this.#cannotKeep
            ? html`<p class="secondary">This browser keeps nothing more for this page (a private window, or its storage is full):
                what is chosen and typed here is gone when the page is closed. Saved files stay.</p>`
            : nothing
        }
      </div>
    `;
  }
}
