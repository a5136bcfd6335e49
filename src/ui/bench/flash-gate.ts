import { css, html, LitElement } from 'lit';
import { FULL_GATE } from '../caution.ts';

/** The answer of the gate: whether full flashes may be shown. */
export class FlashGateEvent extends Event {
  readonly isAllowed: boolean;

  constructor(isAllowed: boolean) {
    super('flash-gate');
    this.isAllowed = isAllowed;
  }
}

/** Asks before the first full flashes. Nothing else can be reached until it is answered; Escape is no. */
export class FlashGate extends LitElement {
  static override styles = css`
    dialog {
      box-sizing: border-box; max-width: min(38rem, calc(100vw - 2rem)); max-height: calc(100vh - 2rem); overflow: auto;
      padding: 1.25rem; color: var(--ink); background: var(--sheet); border: 1px solid var(--light); border-radius: 6px;
    }
    dialog::backdrop { background: var(--ground); opacity: 0.85; }
    h2 { font-size: 1rem; margin: 0 0 0.5rem; }
    p { margin: 0.5rem 0; }
    .buttons { display: flex; flex-wrap: wrap; gap: 0.6rem; margin-top: 1rem; }
    button {
      font: inherit; padding: 0.4rem 0.7rem; min-height: 44px; box-sizing: border-box; cursor: pointer;
      color: var(--ink); background: var(--ground); border: 1px solid var(--border); border-radius: 4px;
    }
    .primary { border-color: var(--light); color: var(--light); }
    :focus-visible { outline: 2px solid var(--light); outline-offset: 3px; }
  `;

  #isAllowed = false;

  override firstUpdated(): void {
    this.#dialog().showModal();
  }

  override render() {
    return html`
      <dialog role="alertdialog" aria-labelledby="title" aria-describedby="text" @close=${this.#closed}>
        <h2 id="title">Before flashes are shown in full</h2>
        <div id="text">${FULL_GATE.map((paragraph) => html`<p>${paragraph}</p>`)}</div>
        <p class="buttons">
          <button type="button" class="primary" autofocus @click=${() => this.#answer(false)}>Leave the flashes out</button>
          <button type="button" @click=${() => this.#answer(true)}>Show them, small</button>
        </p>
      </dialog>
    `;
  }

  #dialog(): HTMLDialogElement {
    return this.renderRoot.querySelector('dialog')!;
  }

  #answer(isAllowed: boolean): void {
    this.#isAllowed = isAllowed;
    this.#dialog().close();
  }

  /** By a button, or by Escape; the browser gives the keyboard back to where it was. */
  #closed = (): void => {
    this.dispatchEvent(new FlashGateEvent(this.#isAllowed));
  };
}

customElements.define('flash-gate', FlashGate);

declare global {
  interface HTMLElementTagNameMap {
    'flash-gate': FlashGate;
  }
}
