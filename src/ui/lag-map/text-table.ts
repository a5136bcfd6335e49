import { html, nothing } from 'lit';
import { delayText, type KnownRates, type MapTable, mapCell, outcomeWords, percent } from './map-table.ts';

/** The map as a table of texts. */
export function textTable({ rows, delays }: MapTable, rates: KnownRates) {
  return html`<div class="table" tabindex="0" role="region" aria-label="the map as a table"><table>
    <thead><tr><th scope="col">row</th>${delays.map((delay) => html`<th scope="col">${delayText(delay)}</th>`)}</tr></thead>
    <tbody>${rows.map(
      ({ title, subtitle, cells }) =>
        html`<tr><th scope="row">${title}${subtitle === '' ? '' : `, ${subtitle}`}</th>${cells.map((plan) => cellEntry(plan, rates))}</tr>`,
    )}</tbody>
  </table></div>`;
}

function cellEntry(plan: readonly number[], rates: KnownRates) {
  const cell = mapCell(plan, rates);
  const { right, refused } = cell;
  if (refused !== undefined) return html`<td>refused</td>`;
  if (right?.rate == null) return html`<td>${right === undefined ? 'not known' : 'no shot counts'}</td>`;
  const { events, n, rate, interval } = right;
  const outcomes = outcomeWords(cell);
  return html`<td>${events} of ${n} right<br />
    <span>${percent(rate, 0)}, ${percent(interval.low, 0)} to ${percent(interval.high, 0)}${outcomes === '' ? nothing : html`<br />${outcomes}`}</span></td>`;
}
