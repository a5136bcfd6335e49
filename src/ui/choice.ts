import { html, nothing } from 'lit';
import { live } from 'lit/directives/live.js';

export interface Choice {
  readonly title: string;
  readonly name?: string;
  /** Id of what is chosen. */
  readonly chosen: string;
  readonly options: readonly (readonly [id: string, title: string])[];
  readonly choose: (id: string) => unknown;
}

/** One of several. What is chosen is told to the options, for a list whose options become others has no value of its own. */
export const choiceView = ({ title, name, chosen, options, choose }: Choice) => html`
  <label class="choice">${title}
    <select name=${name ?? nothing} @change=${(event: Event) => choose((event.target as HTMLSelectElement).value)}>
      ${options.map(([id, text]) => html`<option value=${id} .selected=${live(id === chosen)}>${text}</option>`)}
    </select>
  </label>
`;
