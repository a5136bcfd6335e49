import { type Remote, wrap } from 'comlink';
import { css, html, LitElement, nothing } from 'lit';
import imageUrl from '../../homebrew-demo/first-light/first-light.bin?url';
import labelsUrl from '../../homebrew-demo/first-light/first-light.lbl?url';
import scenarioUrl from '../../homebrew-demo/first-light/tube.json?url';
import type { Refusal, ShotAnswer, ShotService } from '../workers/shot.api.ts';

const INSTANTS: readonly (readonly [name: string, title: string])[] = [
  ['flashOnWire', 'flash leaves the console'],
  ['lightAtSpot', 'light at the spot'],
  ['crossing', 'threshold crossed'],
  ['firstLitRead', 'first read of light'],
  ['lastRead', 'last read before it decided'],
  ['decision', 'decision'],
];

/** Chooses panel and delay, runs one shot of First Light in a worker and shows judgement and instants as text. */
export class ShotForm extends LitElement {
  static override properties = {
    panel: { state: true },
    delay: { state: true },
    answer: { state: true },
    problem: { state: true },
    isBusy: { state: true },
  };

  static override styles = css`
    form { display: flex; flex-wrap: wrap; gap: 1rem; align-items: end; }
    label { display: grid; gap: 0.25rem; color: var(--secondary); font-size: 13px; }
    input, select, button {
      font: inherit; font-size: 15px; padding: 0.4rem 0.6rem; color: var(--ink); background: var(--sheet);
      border: 1px solid var(--border); border-radius: 4px; min-height: 2.5rem; box-sizing: border-box;
    }
    button { border-color: var(--light); color: var(--light); }
    :focus-visible { outline: 2px solid var(--light); outline-offset: 2px; }
    .verdict { font-size: 1.6rem; margin: 1.5rem 0 0.25rem; }
    .right { color: var(--right); }
    .wrong { color: var(--wrong); }
    table { border-collapse: collapse; margin-top: 1rem; }
    caption { text-align: left; color: var(--secondary); font-size: 13px; }
    th { text-align: left; font-weight: normal; color: var(--secondary); padding: 0.2rem 2rem 0.2rem 0; }
    td { text-align: right; white-space: nowrap; }
  `;

  declare private panel: 'beam-tube' | 'lcd';
  declare private delay: string;
  declare private answer: ShotAnswer | undefined;
  declare private problem: Refusal | undefined;
  declare private isBusy: boolean;
  #worker: Worker | undefined;
  #service: Remote<ShotService> | undefined;

  constructor() {
    super();
    this.panel = 'lcd';
    this.delay = '50';
    this.answer = undefined;
    this.problem = undefined;
    this.isBusy = false;
  }

  override connectedCallback(): void {
    super.connectedCallback();
    this.#worker = new Worker(new URL('../workers/shot.worker.ts', import.meta.url), { type: 'module' });
    this.#service = wrap<ShotService>(this.#worker);
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.#worker?.terminate();
  }

  override render() {
    return html`
      <p>First Light flashes a lamp and looks for its light in the same frame. Choose a screen and pull the trigger: no picture is shown here, only what happened.</p>
      <form @submit=${this.#shoot}>
        <label>panel
          <select name="panel" .value=${this.panel} @change=${this.#choosePanel}>
            <option value="lcd" ?selected=${this.panel === 'lcd'}>LCD</option>
            <option value="beam-tube" ?selected=${this.panel === 'beam-tube'}>tube</option>
          </select>
        </label>
        <label>delay in ms, 0 to 400
          <input name="delay" inputmode="decimal" .value=${this.delay} @input=${this.#typeDelay} />
        </label>
        <button aria-disabled=${this.isBusy}>Pull the trigger</button>
      </form>
      <div role="status" aria-live="polite">
        ${this.isBusy ? html`<p>The shot is running …</p>` : nothing}
        ${this.problem === undefined ? nothing : html`<p class="verdict wrong">✕ not run</p><p>${this.problem.refused}</p><p>${this.problem.hint}</p>`}
        ${this.answer === undefined ? nothing : this.#answerText(this.answer)}
      </div>
    `;
  }

  #answerText({ judgement, sentence, instants }: ShotAnswer) {
    const isRight = judgement === 'hit' || judgement === 'rightly none';
    return html`
      <p class="verdict ${isRight ? 'right' : 'wrong'}">${isRight ? '✓' : '✕'} ${judgement}</p>
      <p>${sentence}</p>
      <table>
        <caption>after the trigger, aim at the lamp's middle</caption>
        ${INSTANTS.map(([name, title]) => {
          const value = instants[name];
          return html`<tr><th scope="row">${title}</th><td>${value == null ? 'never' : `${value.toFixed(3)} ms`}</td></tr>`;
        })}
      </table>
    `;
  }

  #choosePanel = (event: Event): void => {
    this.panel = (event.target as HTMLSelectElement).value as 'beam-tube' | 'lcd';
    this.#forget();
  };

  #typeDelay = (event: Event): void => {
    this.delay = (event.target as HTMLInputElement).value;
    this.#forget();
  };

  /** What is shown belongs to the settings beside it. */
  #forget(): void {
    this.answer = undefined;
    this.problem = undefined;
  }

  #shoot = async (event: Event): Promise<void> => {
    event.preventDefault();
    if (this.isBusy) return;
    this.isBusy = true;
    try {
      const result = await this.#run();
      const isRefused = 'refused' in result;
      this.problem = isRefused ? result : undefined;
      this.answer = isRefused ? undefined : result;
    } finally {
      this.isBusy = false;
    }
  };

  async #run(): Promise<ShotAnswer | Refusal> {
    const delayMs = this.delay.trim() === '' ? Number.NaN : Number(this.delay);
    if (!(delayMs >= 0 && delayMs <= 400))
      return {
        refused: `The delay is "${this.delay}", expected a number from 0 to 400.`,
        hint: 'Type the delay in milliseconds.',
      };
    const [image, labels, scenario] = await Promise.all([
      fetch(imageUrl).then((answer) => answer.arrayBuffer()),
      fetch(labelsUrl).then((answer) => answer.text()),
      fetch(scenarioUrl).then((answer) => answer.text()),
    ]);
    return this.#service!.shoot({ panel: this.panel, delayMs, image: new Uint8Array(image), labels, scenario });
  }
}

customElements.define('latelight-shot', ShotForm);

declare global {
  interface HTMLElementTagNameMap {
    'latelight-shot': ShotForm;
  }
}
