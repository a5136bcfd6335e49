import { html } from 'lit';
import { placeAt, type ShotLanes, type ShotMark, type Stretch } from '../../workers/play.api.ts';
import type { RulerCommand } from './ruler-keys.ts';
import type { CursorPart } from './ruler-state.ts';
import { msText, numberText } from './ruler-view.ts';

export type SavedKind = 'SVG' | 'PNG' | 'CSV' | 'VCD';
const SAVED_KINDS: readonly SavedKind[] = ['SVG', 'PNG', 'CSV', 'VCD'];

type Act = (command: RulerCommand) => void;

const key = (name: string, command: RulerCommand, act: Act, words: string = command) => html`
  <button type="button" aria-keyshortcuts=${name} @click=${() => act(command)}><kbd aria-hidden="true">${name}</kbd>${words}</button>
`;

type Save = (kind: SavedKind) => void;

/** The files that a ruler can be saved as. */
export const saves = (save: Save) => html`
  <div class="row">
    <span class="spring"></span>
    ${saveButtons(save)}
  </div>
`;

const saveButtons = (save: Save) => html`
  <span class="saves">
    save as
    ${SAVED_KINDS.map(
      (kind) =>
        html`<button type="button" class="save" aria-label="save as ${kind}" @click=${() => save(kind)}>
          ${kind}
        </button>`,
    )}
  </span>
`;

/** The keys of the ruler as buttons, and the files that it can be saved as. */
export const controls = (isHeld: boolean, act: Act, save: Save) => html`
  <div class="row">
    <button type="button" aria-keyshortcuts="H" aria-pressed=${isHeld} @click=${() => act('hold')}>
      <kbd aria-hidden="true">H</kbd>hold
    </button>
    ${key('.', 'next scanline', act)} ${key('F', 'next frame', act)} ${key('B', 'back to the shot', act)}
    ${key('M', 'measure', act, 'measure from here')}
    <span class="spring"></span>
    <slot name="note"></slot>
  </div>
  <div class="row">
    <span id="hint">
      <span class="wheel">Wheel, two fingers, + and − zoom; dragging moves; 0 shows all; arrows move the cursor, with Shift to the next edge.</span>
      <span class="fingers">Two fingers zoom, one moves; touch an instant to read it.</span>
    </span>
    <span class="spring"></span>
    ${saveButtons(save)}
  </div>
`;

/** What is known of the cursor's time. */
export const readout = (parts: readonly CursorPart[]) =>
  parts.length === 0
    ? html`<p class="readout">Point at the ruler: it tells time, scanline, dot and the code that reads.</p>`
    : html`<dl class="readout">${parts.map(({ name, value }) => html`<div><dt>${name}</dt><dd>${value}</dd></div>`)}</dl>`;

function stretchText({ fromMs, toMs }: Stretch): string {
  const [from, to] = [numberText(fromMs, 2), msText(toMs, 2)];
  return to.startsWith(`${from}\u2009`) ? `at ${to}` : `from ${from} to ${to}`;
}

const stretchesText = (stretches: readonly Stretch[]): string =>
  stretches.length === 0 ? 'at no time' : stretches.map(stretchText).join(', ');

/** The instants for those who do not see the lanes; `name` is what the shot is called. */
export const instantsTable = (lanes: ShotLanes, marks: readonly ShotMark[], name: string) => html`
  <details>
    <summary>The instants as a table</summary>
    <div class="table" tabindex="0" role="region" aria-label="the instants of ${name}">
      <table>
        <thead>
          <tr><th scope="col">instant</th><th scope="col">ms</th><th scope="col">frame</th><th scope="col">scanline</th><th scope="col">dot</th></tr>
        </thead>
        <tbody>
          ${marks.map(({ title, ms }) => {
            const { frame, scanline, dot } = placeAt(lanes.clock, ms);
            return html`
              <tr>
                <th scope="row">${title}</th>
                <td>${numberText(ms, 3)}</td><td>${frame ?? '–'}</td><td>${scanline ?? '–'}</td><td>${dot ?? '–'}</td>
              </tr>
            `;
          })}
        </tbody>
      </table>
    </div>
    <p>Frames on the wire: ${lanes.pictures.map(({ name, frame }) => `${frame} ${name}`).join(', ')}.</p>
    <p>In the lane of the program a bar is a read, and many close together are a block. Reads that saw light end in a point; those behind the decision are lower.</p>
    <p>The program looked ${stretchesText(lanes.looking)}. The light bit was lit ${stretchesText(lanes.lit)}.</p>
  </details>
`;
