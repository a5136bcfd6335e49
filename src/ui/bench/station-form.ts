import { html, LitElement, nothing } from 'lit';
import type { ModelSpec, ParameterSpec, Sourced } from '../../references/sourced.ts';
import { rangeText } from '../../shot/light-path-settings.ts';
import type { LightPathSettings } from '../../workers/play.api.ts';
import { choiceView } from '../choice.ts';
import { OPENING_STYLES } from '../opening.styles.ts';
import {
  amountText,
  type Place,
  presetOf,
  presetSetting,
  settingAt,
  specOf,
  specsFor,
  standardSetting,
  withoutStage,
  withSetting,
  withStage,
  withStageMoved,
  withValue,
} from './light-edits.ts';
import { STATION_FORM_STYLES } from './lights-way.styles.ts';

/**
 * The light path is to become this one. `field` names what was typed into, so that steps of one field can be one; it is empty
 * where nothing was typed.
 */
export class LightPathEvent extends Event {
  readonly lightPath: LightPathSettings;
  readonly field: string;
  /** The place that is looked at from now on. */
  readonly place: Place | undefined;

  constructor(lightPath: LightPathSettings, field: string, place: Place | undefined) {
    super('light-path', { bubbles: true, composed: true });
    this.lightPath = lightPath;
    this.field = field;
    this.place = place;
  }
}

/** Something was typed into a field that is no value yet; null = the field has a value again. */
export class DraftEvent extends Event {
  readonly field: string;
  readonly text: string | null;

  constructor(field: string, text: string | null) {
    super('draft', { bubbles: true, composed: true });
    this.field = field;
    this.text = text;
  }
}

/** What was typed into a field is done: what follows is a step of its own. */
class FieldDoneEvent extends Event {
  constructor() {
    super('field-done', { bubbles: true, composed: true });
  }
}

const OWN = 'own values';

/** The models and numbers of one station of the light's way. */
export class StationForm extends LitElement {
  static override properties = {
    lightPath: { attribute: false },
    place: { attribute: false },
    drafts: { attribute: false },
  };

  static override styles = [OPENING_STYLES, STATION_FORM_STYLES];

  declare lightPath: LightPathSettings;
  declare place: Place;
  /** What is typed where there is no value yet, by field. */
  declare drafts: Readonly<Record<string, string>>;

  override render() {
    const { part } = this.place;
    const setting = settingAt(this.lightPath, this.place);
    const spec = specOf(part, setting);
    const preset = presetOf(spec, setting);
    const specs = specsFor(part);
    return html`
      <p>${spec.what}</p>
      <div class="fields">
        ${
          specs.length < 2
            ? nothing
            : choiceView({
                title: 'model',
                chosen: spec.kind,
                options: specs.map(({ kind, title }) => [kind, title]),
                choose: this.#chooseModel,
              })
        }
        ${
          spec.presets.length === 0
            ? nothing
            : choiceView({
                title: 'values of',
                chosen: preset ?? OWN,
                options: [
                  ...(preset === undefined ? [[OWN, OWN] as const] : []),
                  ...spec.presets.map(({ id, title }) => [id, title] as const),
                ],
                choose: this.#choosePreset,
              })
        }
        ${spec.parameters.map((parameter) => this.#field(parameter, setting[parameter.name] as number))}
      </div>
      ${this.#problems(spec)}
      ${this.#sources(spec)}
      ${part === 'stages' ? this.#stageActions() : nothing}
    `;
  }

  #fieldName({ name }: ParameterSpec): string {
    return `${this.place.part}.${this.place.index}.${name}`;
  }

  #field(parameter: ParameterSpec, value: number) {
    const field = this.#fieldName(parameter);
    const draft = this.drafts[field];
    return html`
      <label>${parameter.title}, ${rangeText(parameter)}
        <input inputmode="decimal" autocomplete="off" name=${field} .value=${draft ?? String(value)}
          aria-invalid=${draft !== undefined} aria-describedby="problems"
          @input=${(event: Event) => this.#type(parameter, (event.target as HTMLInputElement).value)}
          @blur=${this.#done} @keydown=${({ key }: KeyboardEvent) => key === 'Enter' && this.#done()} />
      </label>
    `;
  }

  #problems(spec: ModelSpec) {
    const wrong = spec.parameters.filter((parameter) => this.drafts[this.#fieldName(parameter)] !== undefined);
    return html`<div id="problems">
      ${wrong.map((parameter) => {
        const value = settingAt(this.lightPath, this.place)[parameter.name];
        return html`<p class="wrong">✕ ${parameter.title}: found "${this.drafts[this.#fieldName(parameter)]}", expected ${rangeText(parameter)}. It stays ${value}${parameter.unit === '' ? '' : ` ${parameter.unit}`} until then.</p>`;
      })}
    </div>`;
  }

  #sources(spec: ModelSpec) {
    const preset = spec.presets.find(({ id }) => id === presetOf(spec, settingAt(this.lightPath, this.place)));
    const sourceOf = ({ name, standard }: ParameterSpec): Sourced => preset?.values[name] ?? standard;
    return html`
      <details>
        <summary>Where these numbers come from</summary>
        <dl>
          ${spec.parameters.map((parameter) => {
            const { value, unit, source, kind } = sourceOf(parameter);
            return html`<dt>${parameter.title}</dt><dd>${amountText(value, unit)}: ${source.startsWith(kind) ? source : `${kind}; ${source}`}</dd>`;
          })}
        </dl>
      </details>
    `;
  }

  #stageActions() {
    const { index } = this.place;
    const last = this.lightPath.stages.length - 1;
    return html`
      <div class="actions">
        <button ?disabled=${index === 0} @click=${() => this.#move(index - 1)}>One place earlier</button>
        <button ?disabled=${index === last} @click=${() => this.#move(index + 1)}>One place later</button>
        <button @click=${this.#remove}>Take this stage out</button>
        ${addButtons((spec) => this.#add(index + 1, spec))}
      </div>
    `;
  }

  #tell(lightPath: LightPathSettings, field: string, place: Place | undefined): void {
    this.dispatchEvent(new LightPathEvent(lightPath, field, place));
  }

  #done = (): void => {
    this.dispatchEvent(new FieldDoneEvent());
  };

  #type(parameter: ParameterSpec, text: string): void {
    const field = this.#fieldName(parameter);
    const value = typedValue(text, parameter);
    this.dispatchEvent(new DraftEvent(field, value === undefined ? text : null));
    if (value !== undefined)
      this.#tell(withValue(this.lightPath, this.place, parameter.name, value), field, this.place);
  }

  #chooseModel = (kind: string): void => {
    const spec = specsFor(this.place.part).find((one) => one.kind === kind)!;
    this.#tell(withSetting(this.lightPath, this.place, standardSetting(spec)), '', this.place);
  };

  #choosePreset = (id: string): void => {
    if (id === OWN) return;
    const spec = specOf(this.place.part, settingAt(this.lightPath, this.place));
    this.#tell(withSetting(this.lightPath, this.place, presetSetting(spec, id)), '', this.place);
  };

  #move(to: number): void {
    this.#tell(withStageMoved(this.lightPath, this.place.index, to), '', { part: 'stages', index: to });
  }

  #remove = (): void => {
    this.#tell(withoutStage(this.lightPath, this.place.index), '', undefined);
  };

  #add(index: number, spec: ModelSpec): void {
    this.#tell(withStage(this.lightPath, index, standardSetting(spec)), '', { part: 'stages', index });
  }
}

/** A button for every kind of stage that can be added. */
export const addButtons = (add: (spec: ModelSpec) => void) =>
  specsFor('stages').map((spec) => html`<button @click=${() => add(spec)}>Add a ${spec.title} behind it</button>`);

/** What is typed as a value of the parameter; undefined if it is none. */
function typedValue(text: string, { min, max, isInteger }: ParameterSpec): number | undefined {
  const typed = text.trim().replace(',', '.');
  if (!/^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i.test(typed)) return undefined;
  const value = Number(typed);
  return value >= min && value <= max && (isInteger !== true || Number.isInteger(value)) ? value : undefined;
}

customElements.define('station-form', StationForm);

declare global {
  interface HTMLElementTagNameMap {
    'station-form': StationForm;
  }
}
