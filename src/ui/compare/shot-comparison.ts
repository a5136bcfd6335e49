import '../time-ruler.ts';
import { html, LitElement, nothing, type PropertyValues } from 'lit';
import type { LanesDetail } from '../../workers/play.api.ts';
import { type LoggedShot, setUpText, signOf, toneOf } from '../bench/shot-log.ts';
import { DetailWantedEvent, type RulerLookEvent } from '../ruler/ruler-events.ts';
import type { RulerLook } from '../ruler/ruler-model.ts';
import { joinedTimes, type RulerTimes, rulerTimes } from '../ruler/ruler-times.ts';
import { numberText } from '../ruler/ruler-view.ts';
import { SIDEWAYS_STYLES } from '../sideways.styles.ts';
import { type ComparedInstant, comparedInstants, differenceText } from './compared-instants.ts';
import { type ComparedSetUp, type SetUpDifference, setUpDifferences } from './set-up-differences.ts';
import { SHOT_COMPARISON_STYLES } from './shot-comparison.styles.ts';

/**
 * Two shots one above the other on one time, the trigger of each at 0: zoom, view and cursors go together.
 * Events: those of the ruler of the shot of now; `kept-detail-wanted`; `let-go` and `keep-now`, what somebody chose.
 */
export class ShotComparison extends LitElement {
  static override properties = {
    kept: { attribute: false },
    now: { attribute: false },
    keptDetail: { attribute: false },
    nowDetail: { attribute: false },
    isKeptCloser: { attribute: false },
    look: { state: true },
  };

  static override styles = [SIDEWAYS_STYLES, SHOT_COMPARISON_STYLES];

  declare kept: LoggedShot;
  /** Undefined: none was shot since. */
  declare now: LoggedShot | undefined;
  declare keptDetail: LanesDetail | undefined;
  declare nowDetail: LanesDetail | undefined;
  /** Whether the kept shot can be looked at closer. */
  declare isKeptCloser: boolean;
  declare private look: RulerLook | undefined;
  #times: RulerTimes | undefined;

  constructor() {
    super();
    this.now = undefined;
    this.keptDetail = undefined;
    this.nowDetail = undefined;
    this.isKeptCloser = true;
    this.look = undefined;
  }

  override willUpdate(changed: PropertyValues<this>): void {
    if (!changed.has('kept') && !changed.has('now')) return;
    const kept = rulerTimes(this.kept.lanes!, this.kept.marks);
    this.#times = this.now === undefined ? kept : joinedTimes(kept, rulerTimes(this.now.lanes!, this.now.marks));
    this.look = { span: this.#times.shot, cursorMs: undefined, secondMs: undefined, isHeld: false };
  }

  override render() {
    const { kept, now } = this;
    return html`
      <h2 tabindex="-1">${now === undefined ? 'Kept for comparison' : 'Two shots on one time'}</h2>
      ${now === undefined ? WAITING : differences(setUpDifferences(setUpOf(kept), setUpOf(now)))}
      ${this.#caption(kept, 'kept', 'Let it go', 'let-go')}
      <time-ruler .number=${kept.number} .lanes=${kept.lanes} .marks=${kept.marks} .detail=${this.keptDetail}
        .times=${this.#times} .look=${this.look} .isBrief=${now !== undefined}
        @ruler-look=${this.#follow} @detail-wanted=${this.#askForKept} @cursor-time=${this.#hideIfOther}></time-ruler>
      ${this.isKeptCloser ? nothing : coarseNote(kept)}
      ${now === undefined ? nothing : this.#below(now)}
    `;
  }

  #below(now: LoggedShot) {
    const { kept } = this;
    return html`
      ${this.#caption(now, 'now', 'Keep this one instead', 'keep-now')}
      <time-ruler .number=${now.number} .lanes=${now.lanes} .marks=${now.marks} .detail=${this.nowDetail}
        .times=${this.#times} .look=${this.look} @ruler-look=${this.#follow}></time-ruler>
      ${instants(kept, now, comparedInstants(kept.marks, now.marks))}
    `;
  }

  #caption(shot: LoggedShot, which: string, action: string, event: 'let-go' | 'keep-now') {
    const verdict = html`<span class=${toneOf(shot)}>${signOf(shot)} ${shot.judgement}</span>`;
    return html`
      <div class="caption">
        <p>
          <strong>Shot ${shot.number}, ${which}: ${verdict}</strong>
          <span class="secondary">${setUpText(shot.setUp)}</span>
        </p>
        <button type="button" @click=${() => this.dispatchEvent(new Event(event))}>${action}</button>
      </div>
    `;
  }

  /** The heading, so that whoever has just kept a shot goes on from here. */
  override focus(): void {
    this.renderRoot.querySelector('h2')?.focus();
  }

  #follow = ({ look }: RulerLookEvent): void => {
    this.look = look;
  };

  #askForKept = (event: DetailWantedEvent): void => {
    event.stopPropagation();
    this.dispatchEvent(new DetailWantedEvent(event, 'kept-detail-wanted'));
  };

  /** The pictures of the page are those of the shot of now. */
  #hideIfOther = (event: Event): void => {
    if (this.now !== undefined) event.stopPropagation();
  };
}

const WAITING = html`
  <p>
    Now choose another strategy or another station of the light’s way, and shoot: the new shot is drawn below this one, on
    the same time.
  </p>
`;

const coarseNote = ({ number }: LoggedShot) => html`
  <p>
    Shot ${number} was made too long ago to be looked at closer: its curves stay as coarse as they were drawn.
  </p>
`;

const setUpOf = ({ setUp, aim }: LoggedShot): ComparedSetUp => ({ ...setUp, aim });

function differences(list: readonly SetUpDifference[]) {
  if (list.length === 0) return html`<p>Both were shot with the same set-up, at the same aim.</p>`;
  return html`
    <dl class="differences" aria-label="What differs">
      ${list.map(
        ({ what, kept, now }) => html`
          <div>
            <dt>${what}</dt>
            <dd>${kept} <span aria-hidden="true">→</span><span class="unseen"> then </span> ${now}</dd>
          </div>
        `,
      )}
    </dl>
  `;
}

const msText = (ms: number | null): string => (ms === null ? '–' : numberText(ms, 3));

/** The roles are said once more: a narrow page lays rows out in its own way, by which browsers may forget them. */
const instants = (kept: LoggedShot, now: LoggedShot, rows: readonly ComparedInstant[]) => html`
  <div class="table" tabindex="0" role="region" aria-label="the instants of both shots">
    <table role="table">
      <thead role="rowgroup">
        <tr role="row">
          <th role="columnheader" scope="col">ms from trigger</th>
          <th role="columnheader" scope="col">shot ${kept.number}, kept</th>
          <th role="columnheader" scope="col">shot ${now.number}, now</th>
          <th role="columnheader" scope="col">difference</th>
        </tr>
      </thead>
      <tbody role="rowgroup">
        ${rows.map(
          (row) => html`
            <tr role="row">
              <th role="rowheader" scope="row">${row.title}</th>
              ${[msText(row.keptMs), msText(row.nowMs), differenceText(row)].map((text) => html`<td role="cell">${text}</td>`)}
            </tr>
          `,
        )}
      </tbody>
    </table>
  </div>
`;

customElements.define('shot-comparison', ShotComparison);

declare global {
  interface HTMLElementTagNameMap {
    'shot-comparison': ShotComparison;
  }
}
