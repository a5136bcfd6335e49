import { html, LitElement, nothing } from 'lit';
import type { ProgramFault } from '../../shot/program-check.ts';
import { grouped } from '../../units/grouped.ts';
import { saveFile } from '../ruler/ruler-files.ts';
import { OwnDesk, type OwnParts } from './own-desk.ts';
import type { Taken } from './own-draft.ts';
import { BenchFileEvent, OwnPartsEvent, OwnProgramEvent } from './own-program-events.ts';
import { OWN_PROGRAM_STYLES } from './own-program-panel.styles.ts';

/**
 * Where somebody opens a cartridge image of their own, with its labels and a scenario; hidden until it is asked for.
 * Events: `own-program`, `own-parts`, `own-set-up`, `own-closed`, `bench-file`.
 */
export class OwnProgramPanel extends LitElement {
  static override properties = {
    isOpen: { state: true },
  };

  static override styles = OWN_PROGRAM_STYLES;

  declare private isOpen: boolean;
  readonly #desk: OwnDesk = new OwnDesk(this, () => this.dispatchEvent(new OwnPartsEvent(this.#desk.parts)));

  constructor() {
    super();
    this.isOpen = false;
  }

  override render() {
    if (!this.isOpen) return nothing;
    return html`
      <section aria-labelledby="title">
        <div class="head">
          <h2 id="title" tabindex="-1">An image of your own</h2>
          <button class="quiet" @click=${this.#close}>Close</button>
        </div>
        <p>It is played through the light of the bench, or through that of its scenario where that brings one. Choose its
          files together, or drop them anywhere on this page. They are read here: nothing leaves this machine.</p>
        ${this.#parts()}
        ${this.#desk.missing.length === 0 || this.#desk.isEmpty ? nothing : this.#desk.missing.map((text) => html`<p>${text}</p>`)}
        ${this.#desk.doubts.map((text) => html`<p class="secondary">${text}</p>`)}
        <div role="alert">${faultList('Not taken:', this.#desk.refused)}</div>
        ${this.#desk.isEmpty ? nothing : this.#scenario()}
        ${this.#actions()}
        <input type="file" multiple hidden aria-label="files of an own image" @change=${this.#chooseFiles} />
      </section>
    `;
  }

  #parts() {
    const { image, labels, scenario, scenarioName } = this.#desk.draft;
    const named = ({ name, content }: Taken<{ readonly length: number }>): string =>
      `${name}, ${grouped(content.length)} bytes`;
    return html`
      <dl>
        <dt>image</dt>
        <dd>${image === undefined ? 'none yet: NES 2.0 or a clean older header, circuit 0, 8 MiB at most' : named(image)}</dd>
        <dt>labels</dt>
        <dd>${labels === undefined ? 'none yet: the file that ld65 writes with -Ln or --dbgfile' : named(labels)}</dd>
        <dt>scenario</dt>
        <dd>${scenario === '' ? 'none yet: JSON that says where the targets are and what the program decided' : scenarioName === '' ? 'the one below' : `${scenarioName}, as it stands below`}</dd>
      </dl>
    `;
  }

  #scenario() {
    const { faults, draft, isOnBench, program } = this.#desk;
    return html`
      <label>scenario, JSON
        <textarea name="scenario" spellcheck="false" autocapitalize="off" autocomplete="off" .value=${draft.scenario}
          aria-invalid=${faults.length > 0} aria-describedby="state"
          @input=${(event: Event) => this.#desk.type((event.target as HTMLTextAreaElement).value)}></textarea>
      </label>
      <p class="secondary">targets and said are expressions over labels: byte(address), word(address), + - * / and the like; i
        is the number of the target, value what was written. Without "shots" the page shoots at the first target that is live
        within a minute after power-on; "pads" press buttons on the way there:
        <code>{ "port": 1, "button": "Start", "fromMs": 500, "toMs": 700 }</code>. The command line wants "shots".</p>
      <div id="state" role="status">
        ${faultList(`To be put right (${faults.length}):`, faults)}
        ${
          isOnBench
            ? html`<p class="right">✓ ${program!.title} stands on the bench.</p>`
            : program === undefined
              ? nothing
              : html`<p class="secondary">${program.title} stands on the bench as it was until this takes its place.</p>`
        }
      </div>
    `;
  }

  #actions() {
    const { isEmpty, isOnBench, draft, program, canPutBack } = this.#desk;
    const canBePut = draft.image !== undefined && !isOnBench;
    return html`
      <div class="row">
        ${canBePut ? html`<button class="primary" @click=${this.#putOnBench}>Put it on the bench</button>` : nothing}
        <button class=${isEmpty ? 'primary' : ''} @click=${this.#ask}>Choose files</button>
        ${draft.scenario === '' ? nothing : html`<button @click=${this.#save}>Save the scenario</button>`}
        ${
          program === undefined
            ? nothing
            : html`<button @click=${this.#wantSetUp}>Take the scenario's light path and aim again</button>`
        }
        ${canPutBack ? html`<button @click=${this.#putBack}>Put back what stood before</button>` : nothing}
        ${isEmpty ? nothing : html`<button @click=${this.#takeOff}>Take it off the page</button>`}
      </div>
    `;
  }

  /** Show it, with the keyboard on it. */
  async open(): Promise<void> {
    this.isOpen = true;
    await this.updateComplete;
    this.renderRoot.querySelector<HTMLElement>('#title')!.focus();
  }

  /** Take what was kept. It shows itself where something is still to be done. */
  restore(parts: OwnParts): void {
    this.#desk.restore(parts);
    this.isOpen = !this.#desk.isEmpty && !this.#desk.isOnBench;
    this.#tell(false);
  }

  /** Take files from wherever they come; it shows itself where something is still to be done. */
  async take(files: readonly File[]): Promise<void> {
    const { isOnBench, isSetUpGiven, bench } = await this.#desk.take(files);
    if (bench !== undefined) this.dispatchEvent(new BenchFileEvent(bench));
    if (isOnBench) this.#tell(true, isSetUpGiven && bench === undefined);
    const isOnlyBench = bench !== undefined && files.length === 1;
    if (!isOnBench && !isOnlyBench) await this.open();
  }

  #tell(isChosen: boolean, isSetUpGiven = false): void {
    this.dispatchEvent(new OwnProgramEvent(this.#desk.program, isChosen, isSetUpGiven));
  }

  #wantSetUp = (): void => {
    this.dispatchEvent(new Event('own-set-up', { bubbles: true, composed: true }));
  };

  #ask = (): void => {
    this.renderRoot.querySelector<HTMLInputElement>('input[type="file"]')!.click();
  };

  #chooseFiles = async (event: Event): Promise<void> => {
    const input = event.target as HTMLInputElement;
    const files = [...(input.files ?? [])];
    if (files.length > 0) await this.take(files);
    // The same files can be chosen again, built anew.
    input.value = '';
  };

  #putOnBench = (): void => {
    if (!this.#desk.putOnBench()) return;
    this.#tell(true);
    void this.open(); // the button is gone
  };

  #save = (): void => {
    const { scenario, scenarioName, image } = this.#desk.draft;
    const name = scenarioName || `${image?.name.replace(/\.\w+$/, '') ?? 'scenario'}.json`;
    saveFile(new Blob([scenario], { type: 'application/json' }), name);
  };

  #putBack = (): void => {
    this.#desk.putBack();
    this.#tell(false);
  };

  #takeOff = (): void => {
    this.#desk.takeOff();
    this.#tell(false);
    void this.open();
  };

  #close = (): void => {
    this.isOpen = false;
    this.dispatchEvent(new Event('own-closed', { bubbles: true, composed: true }));
  };
}

/** Each with its cure, those with the same cure together. */
const faultList = (title: string, faults: readonly ProgramFault[]) =>
  faults.length === 0
    ? nothing
    : html`
        <p class="wrong">✕ ${title}</p>
        <ul>
          ${faults.map(({ found, cure }, i) => html`<li>${found}.${cure === faults[i + 1]?.cure ? nothing : html` <span class="secondary">${cure}</span>`}</li>`)}
        </ul>
      `;

customElements.define('own-program', OwnProgramPanel);

declare global {
  interface HTMLElementTagNameMap {
    'own-program': OwnProgramPanel;
  }
}
