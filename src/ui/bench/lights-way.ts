import './station-form.ts';
import { html, LitElement, nothing, type PropertyValues, svg } from 'lit';
import type { ModelSetting } from '../../light/parameters.ts';
import type { ModelSpec } from '../../references/sourced.ts';
import type { LightPathSettings } from '../../workers/play.api.ts';
import { nextTask } from '../next-task.ts';
import {
  amountText,
  hasOtherOrder,
  isSamePlace,
  type Place,
  placesOf,
  settingAt,
  specOf,
  standardSetting,
  withStage,
} from './light-edits.ts';
import { LIGHTS_WAY_STYLES } from './lights-way.styles.ts';
import { addButtons, LightPathEvent } from './station-form.ts';
import { PLOT } from './station-plots.ts';

/** A station as the line draws it. */
interface Station {
  readonly title: string;
  readonly facts: string;
  /** What the line is made of from here on. */
  readonly line: 'wire' | 'lit' | 'read';
  /** Undefined: the console's plug and the bit, which are no models. */
  readonly place: Place | undefined;
}

/** Parameters that say most about a model; the first two of any other. */
const TELLING: Readonly<Record<string, readonly string[]>> = {
  lcd: ['riseMs', 'fallMs'],
  'constant-light': ['illuminanceLux'],
  'flickering-light': ['illuminanceLux', 'flickerPercent'],
  'wide-band': ['thresholdCdM2', 'cornerHz'],
  'beam-tube': ['whiteCdM2'],
};

const LINE_BEHIND = { stages: 'wire', panel: 'lit', room: 'lit', optics: 'lit', sensor: 'read' } as const;

/** The way of the light from the console's plug to the bit that the program reads; its stations are the settings. */
export class LightsWay extends LitElement {
  static override properties = {
    lightPath: { attribute: false },
    console: { attribute: false },
    reader: { attribute: false },
    plots: { attribute: false },
    drafts: { attribute: false },
    chosen: { state: true },
  };

  static override styles = LIGHTS_WAY_STYLES;

  declare lightPath: LightPathSettings;
  /** What is said of the console and of the program that reads the bit. */
  declare console: string;
  declare reader: string;
  /** SVG paths by station, of the latest shot. */
  declare plots: readonly string[] | undefined;
  declare drafts: Readonly<Record<string, string>>;
  /** Index of the station whose form is open. */
  declare private chosen: number | undefined;
  /** Index of the station that is to have the keyboard once stations have changed places. */
  #keyboardAt: number | undefined;

  constructor() {
    super();
    this.console = '';
    this.reader = '';
    this.plots = undefined;
    this.drafts = {};
    this.chosen = undefined;
  }

  /** First drawn in a task of its own, not in the one that makes the bench. */
  protected override async scheduleUpdate(): Promise<void> {
    if (!this.hasUpdated) await nextTask();
    super.scheduleUpdate();
  }

  override render() {
    const stations = this.#stations();
    const chosen = this.chosen === undefined ? undefined : stations[this.chosen];
    return html`
      <ol aria-label="The way of the light, from the console to the light bit">
        ${stations.map((station, i) => this.#station(station, i, stations.length))}
      </ol>
      <p class="note">${
        this.plots === undefined
          ? 'No shot through this light stands here. Once there is one, every station shows what it did to the flash.'
          : 'Every station shows what it did to the flash of the latest shot.'
      }</p>
      ${chosen === undefined ? nothing : html`<div class="form" id="form">${this.#form(chosen)}</div>`}
    `;
  }

  #stations(): Station[] {
    return [
      { title: 'console', facts: this.console, line: 'wire', place: undefined },
      ...placesOf(this.lightPath).map((place): Station => {
        const setting = settingAt(this.lightPath, place);
        const spec = specOf(place.part, setting);
        return { title: spec.title, facts: factsOf(spec, setting), line: LINE_BEHIND[place.part], place };
      }),
      { title: 'light bit', facts: `read by ${this.reader}`, line: 'read', place: undefined },
    ];
  }

  #station({ title, facts, line }: Station, i: number, count: number) {
    const isOpen = this.chosen === i;
    const isFixed = i === count - 1;
    const inside = html`
      <span class="head">
        <span class="dot"></span>
        ${svg`<svg class=${this.plots === undefined ? 'empty' : 'drawn'} viewBox="0 -1 ${PLOT.width} ${PLOT.height + 2}" aria-hidden="true"><path d=${this.plots?.[i] ?? `M0 ${PLOT.height}H${PLOT.width}`}></path></svg>`}
      </span>
      <span class="title">${title}</span>
      <span class="facts">${facts}</span>
    `;
    return html`
      <li class=${line}>
        ${
          isFixed
            ? html`<span class="station end">${inside}</span>`
            : html`<button class="station" aria-expanded=${isOpen} aria-controls="form" @click=${() => this.#choose(i)}>${inside}</button>`
        }
      </li>
    `;
  }

  #form({ place }: Station) {
    if (place !== undefined)
      return html`<station-form .lightPath=${this.lightPath} .place=${place} .drafts=${this.drafts} @light-path=${this.#goAlong}></station-form>`;
    return html`<div class="plug"><p>The picture leaves the plug here, a scanline after the other. Stages between the plug and the panel make it late.</p>
      ${addButtons((spec) => this.#addFirst(spec))}</div>`;
  }

  #choose(i: number): void {
    this.chosen = this.chosen === i ? undefined : i;
  }

  /** A form that was left behind took the keyboard with it: it goes on from the station that is looked at. */
  override updated(changed: PropertyValues): void {
    const at = this.#keyboardAt;
    if (at === undefined || !changed.has('lightPath')) return;
    this.#keyboardAt = undefined;
    this.renderRoot.querySelectorAll<HTMLElement>('button.station')[at]?.focus();
  }

  #addFirst(spec: ModelSpec): void {
    this.chosen = 1;
    this.#keyboardAt = 1;
    this.dispatchEvent(
      new LightPathEvent(withStage(this.lightPath, 0, standardSetting(spec)), '', { part: 'stages', index: 0 }),
    );
  }

  /** The form stays with its station when stations change places. */
  #goAlong = ({ lightPath, place }: LightPathEvent): void => {
    const at = placesOf(lightPath).findIndex((one) => isSamePlace(one, place));
    if (hasOtherOrder(lightPath, this.lightPath)) this.#keyboardAt = at < 0 ? (this.chosen ?? 1) - 1 : at + 1;
    this.chosen = at < 0 ? undefined : at + 1;
  };
}

function factsOf(spec: ModelSpec, setting: ModelSetting): string {
  const names = TELLING[spec.kind] ?? spec.parameters.slice(0, 2).map(({ name }) => name);
  const facts = names.flatMap((name) => {
    const parameter = spec.parameters.find((one) => one.name === name);
    if (parameter === undefined) return [];
    const title = parameter.title.split(',')[0]!;
    return [`${names.length > 1 ? `${title} ` : ''}${amountText(Number(setting[name]), parameter.unit)}`];
  });
  return facts.join(' · ');
}

customElements.define('lights-way', LightsWay);

declare global {
  interface HTMLElementTagNameMap {
    'lights-way': LightsWay;
  }
}
