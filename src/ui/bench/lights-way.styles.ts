import { css } from 'lit';

/** One line from plug to bit; upright in narrow windows. Colours are the page's (page.css). */
export const LIGHTS_WAY_STYLES = css`
  :host { display: block; }
  ol { list-style: none; margin: 0; padding: 0; display: flex; }
  li { flex: 1 1 0; min-width: 0; position: relative; }
  li::before {
    content: ''; position: absolute; top: 21px; left: 0; right: 0; border-top: 1.5px solid var(--secondary);
  }
  li.lit::before { border-color: var(--light); }
  li.read::before { border-color: var(--sensor); }
  li:last-child::before { right: auto; width: 92px; }
  button.station {
    all: unset; box-sizing: border-box; width: 100%; cursor: pointer; display: grid; justify-items: start; gap: 0.1rem;
    padding: 0 0.5rem 0.4rem 0; position: relative; min-height: 44px;
  }
  button.station:focus-visible, :focus-visible { outline: 2px solid var(--light); outline-offset: 3px; border-radius: 3px; }
  .end { display: grid; justify-items: start; gap: 0.1rem; position: relative; }
  .head { display: flex; align-items: center; height: 42px; }
  .dot {
    width: 11px; height: 11px; border: 2px solid var(--secondary); border-radius: 50%; background: var(--ground);
    box-sizing: border-box; flex: none;
  }
  [aria-expanded='true'] .dot { background: var(--light); border-color: var(--light); }
  [aria-expanded='true'] .title { color: var(--light); }
  svg { width: 76px; height: 36px; margin-left: 5px; background: var(--ground); padding: 0 3px; overflow: visible; }
  svg.empty { outline: 1px dashed var(--border); outline-offset: -2px; }
  svg.empty path { display: none; }
  svg path { fill: none; stroke: var(--secondary); stroke-width: 1.5px; }
  li.lit svg path { stroke: var(--light); }
  li.read svg path { stroke: var(--sensor); }
  .title { font-weight: 600; }
  .note { color: var(--secondary); font-size: 13px; margin: 0 0 0.4rem; }
  .facts { color: var(--secondary); font-size: 13px; overflow-wrap: anywhere; }
  .plug { display: flex; flex-wrap: wrap; gap: 0.6rem; }
  .plug p { margin: 0; flex-basis: 100%; max-width: 46rem; }
  .plug button {
    font: inherit; font-size: 15px; padding: 0.35rem 0.6rem; min-height: 44px; cursor: pointer; color: var(--ink);
    background: var(--ground); border: 1px solid var(--border); border-radius: 4px;
  }
  .form { border-left: 3px solid var(--light); padding: 0.25rem 0 0.25rem 1rem; margin: 0.75rem 0 0.25rem; }
  @media (max-width: 760px) {
    ol { flex-direction: column; }
    li::before { top: 0; bottom: 0; left: 5px; right: auto; border-top: none; border-left: 1.5px solid var(--secondary); }
    li:last-child::before { bottom: auto; height: 21px; width: auto; }
    .end, button.station { display: grid; grid-template-columns: max-content 1fr; column-gap: 0.6rem; padding: 0 0 0.3rem; }
    .head { grid-row: span 2; }
    svg { margin-left: 12px; }
  }
`;

export const STATION_FORM_STYLES = css`
  :host { display: block; }
  p { margin: 0 0 0.6rem; max-width: 46rem; }
  .fields { display: flex; flex-wrap: wrap; gap: 0.7rem 1.25rem; align-items: end; }
  label { display: grid; grid-template-columns: minmax(0, 1fr); gap: 0.2rem; color: var(--secondary); font-size: 13px; max-width: 15rem; }
  label.choice { max-width: 24rem; }
  input, select, button {
    font: inherit; font-size: 15px; padding: 0.35rem 0.6rem; min-height: 44px; box-sizing: border-box; max-width: 100%;
    color: var(--ink); background: var(--ground); border: 1px solid var(--border); border-radius: 4px;
  }
  input { width: 9rem; }
  select { text-overflow: ellipsis; }
  button { cursor: pointer; }
  button:disabled { color: var(--secondary); cursor: default; }
  input[aria-invalid='true'] { border-color: var(--wrong); }
  :focus-visible { outline: 2px solid var(--light); outline-offset: 2px; }
  .wrong { color: var(--wrong); font-size: 13px; margin: 0.35rem 0 0; }
  .actions { display: flex; flex-wrap: wrap; gap: 0.6rem; margin-top: 0.8rem; }
  details { margin-top: 0.7rem; font-size: 13px; color: var(--secondary); }
  dl { display: grid; grid-template-columns: max-content 1fr; gap: 0.15rem 1rem; margin: 0.4rem 0 0; }
  dt { color: var(--ink); }
  dd { margin: 0; }
  @media (max-width: 500px) { dl { grid-template-columns: 1fr; } dd { margin-bottom: 0.4rem; } }
`;
