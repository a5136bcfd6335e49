import { css } from 'lit';

/** Styles of two shots on one time; the colours are the page's (page.css). */
export const SHOT_COMPARISON_STYLES = css`
  :host { display: block; min-width: 0; color: var(--ink); }
  h2 { font-size: 1rem; margin: 0 0 0.5rem; }
  p { margin: 0.35rem 0; max-width: 46rem; }
  .right { color: var(--right); }
  .wrong { color: var(--wrong); }
  .edge { color: var(--secondary); }
  .secondary { color: var(--secondary); font-size: 13px; }
  .differences { margin: 0 0 0.5rem; display: grid; gap: 0.15rem; }
  .differences div { display: flex; flex-wrap: wrap; gap: 0 0.75rem; }
  dt { color: var(--secondary); }
  dd { margin: 0; overflow-wrap: anywhere; }
  .caption {
    display: flex; flex-wrap: wrap; gap: 0.25rem 1rem; align-items: center; justify-content: space-between;
    border-top: 1px solid var(--border); margin-top: 1rem; padding: 0.6rem 0;
  }
  .caption p { margin: 0; }
  .caption .secondary { margin-left: 0.5rem; }
  button {
    font: inherit; font-size: 13px; min-height: 32px; padding: 0 0.7rem; cursor: pointer;
    color: var(--ink); background: var(--ground); border: 1px solid var(--border); border-radius: 4px;
  }
  :focus-visible { outline: 2px solid var(--light); outline-offset: 3px; }
  .table { border-top: 1px solid var(--border); margin-top: 1rem; padding-top: 0.6rem; }
  table { border-collapse: collapse; font-size: 13px; font-variant-numeric: tabular-nums; }
  th { text-align: left; font-weight: normal; color: var(--secondary); padding: 0.15rem 1.5rem 0.15rem 0; }
  thead th { border-bottom: 1px solid var(--border); }
  thead th + th { text-align: right; padding: 0.15rem 0 0.15rem 1.25rem; }
  td { text-align: right; white-space: nowrap; padding: 0.15rem 0 0.15rem 1.25rem; }
  @media (max-width: 30rem) {
    table, thead, tbody { display: block; }
    tr {
      display: grid; grid-template-columns: 1fr 1fr 1.4fr; border-bottom: 1px solid var(--border); padding: 0.2rem 0;
    }
    tr th:first-child { grid-column: 1 / -1; padding: 0; }
    thead th { border: 0; }
    td, thead th + th { padding: 0; }
  }
  .unseen { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); }
`;
