import { html, LitElement, nothing } from 'lit';
import { FORM_STYLES } from './lag-map.styles.ts';
import { FormEvent } from './lag-map-events.ts';
import { aimChoices, type BenchSetUp, type LoadedProgram, panelChoices } from './plan-choices.ts';
import type { FormFault, FormField, FormValues } from './plan-form.ts';

type ListField = 'strategies' | 'panels' | 'aims';

/** What is to be swept, as fields; nothing typed is lost. Event: `form-values`. */
export class LagMapForm extends LitElement {
  static override properties = {
    values: { attribute: false },
    faults: { attribute: false },
    setUp: { attribute: false },
    programs: { attribute: false },
  };

  static override styles = FORM_STYLES;

  declare values: FormValues;
  declare faults: readonly FormFault[];
  declare setUp: BenchSetUp;
  declare programs: readonly LoadedProgram[];

  override render() {
    const { values, programs, setUp } = this;
    return html`
      <div class="fields">
        ${this.#field('fromMs', 'delay from, ms')}
        ${this.#field('toMs', 'delay to, ms')}
        ${this.#field('stepMs', 'step, ms')}
        ${this.#field('shots', 'shots at each aim', !values.isRandom)}
      </div>
      <div class="choices">
        ${this.#list(
          'strategies',
          'strategies',
          programs.map(({ id, title }) => [id, title] as const),
        )}
        ${this.#list(
          'panels',
          'panels',
          panelChoices(setUp).map(({ name }) => [name, name] as const),
        )}
        ${this.#list(
          'aims',
          'aims',
          aimChoices(setUp, programs).map(({ name }) => [name, name] as const),
        )}
        <fieldset>
          <legend>drawn by lot</legend>
          <label><input type="checkbox" name="isRandom" .checked=${values.isRandom} @change=${(event: Event) => this.#change({ isRandom: (event.target as HTMLInputElement).checked })} />
            random phases</label>
          <p class="secondary">${values.isRandom ? 'when the trigger is pulled, lamp, backlight' : 'every shot the same: one at each aim'}</p>
        </fieldset>
      </div>
      <div class="faults" id="faults" role="status">${this.faults.map(({ text }) => html`<p class="wrong">✕ ${text}</p>`)}</div>
    `;
  }

  #field(field: Exclude<FormField, ListField>, title: string, isDisabled = false) {
    const isWrong = this.faults.some((fault) => fault.field === field);
    return html`
      <label>${title}
        <input name=${field} inputmode="decimal" autocomplete="off" .value=${this.values[field]} ?disabled=${isDisabled}
          aria-invalid=${isWrong} aria-describedby=${isWrong ? 'faults' : nothing}
          @input=${(event: Event) => this.#change({ [field]: (event.target as HTMLInputElement).value })} />
      </label>
    `;
  }

  #list(field: ListField, title: string, options: readonly (readonly [id: string, title: string])[]) {
    return html`
      <fieldset>
        <legend>${title}</legend>
        ${options.map(
          ([id, text]) => html`
            <label><input type="checkbox" name=${field} value=${id} .checked=${this.values[field].includes(id)}
              @change=${(event: Event) => this.#check(field, id, (event.target as HTMLInputElement).checked)} /> ${text}</label>
          `,
        )}
      </fieldset>
    `;
  }

  #check(field: ListField, id: string, isChecked: boolean): void {
    const others = this.values[field].filter((one) => one !== id);
    this.#change({ [field]: isChecked ? [...others, id] : others });
  }

  #change(change: Partial<FormValues>): void {
    this.dispatchEvent(new FormEvent({ ...this.values, ...change }));
  }
}

customElements.define('lag-map-form', LagMapForm);

declare global {
  interface HTMLElementTagNameMap {
    'lag-map-form': LagMapForm;
  }
}
