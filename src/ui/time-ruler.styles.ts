import { css } from 'lit';

/** Styles of the time ruler; colours are the page's, one job each. */
export const TIME_RULER_STYLES = css`
  :host { display: block; min-width: 0; color: var(--ink); }
  .plot { position: relative; touch-action: pan-y; cursor: crosshair; border-radius: 2px; }
  .plot:focus-visible { outline: 2px solid var(--light); outline-offset: 4px; }
  canvas { display: block; width: 100%; }
  .readout {
    display: flex; flex-wrap: wrap; gap: 0 1rem; margin: 0.25rem 0 0.5rem; min-height: 1.5rem;
    font-size: 13px; line-height: 1.5rem; color: var(--secondary); font-variant-numeric: tabular-nums;
    align-content: flex-start;
  }
  @media (max-width: 30rem) { .readout { min-height: 4.5rem; } }
  @media (max-width: 22rem) { .readout { min-height: 6rem; } }
  .readout div { display: flex; gap: 0.3rem; }
  .readout dt, .readout dd { margin: 0; }
  .readout dd { color: var(--ink); }
  .row { display: flex; flex-wrap: wrap; gap: 0.375rem 0.75rem; align-items: center; font-size: 13px; color: var(--secondary); }
  .row + .row, details { margin-top: 0.5rem; }
  .spring { flex: 1; }
  .saves { display: flex; flex-wrap: wrap; gap: 0.375rem; align-items: center; }
  button {
    display: inline-flex; align-items: center; gap: 0.375rem; min-height: 28px; padding: 0;
    font: inherit; color: var(--secondary); background: none; border: 0; border-radius: 4px; cursor: pointer;
  }
  @media (pointer: coarse) { button { min-height: 44px; } }
  .fingers { display: none; }
  @media (hover: none) { .fingers { display: inline; } .wheel, kbd { display: none; } }
  button:hover { color: var(--ink); }
  button:focus-visible, summary:focus-visible { outline: 2px solid var(--light); outline-offset: 2px; }
  button[aria-pressed='true'] { color: var(--aim); font-weight: 600; }
  button.save { border: 1px solid var(--border); padding: 0 0.5rem; }
  kbd {
    font: inherit; font-weight: 400; color: var(--ink); border: 1px solid var(--border); border-radius: 4px;
    padding: 0 0.375rem; line-height: 1.25rem;
  }
  details { font-size: 13px; }
  summary { color: var(--secondary); }
  table { border-collapse: collapse; margin-top: 0.25rem; }
  th { text-align: left; font-weight: normal; color: var(--secondary); padding: 0.1rem 1.5rem 0.1rem 0; }
  thead th { border-bottom: 1px solid var(--border); }
  td { text-align: right; white-space: nowrap; padding: 0.1rem 0 0.1rem 0.75rem; font-variant-numeric: tabular-nums; }
  p { margin: 0.5rem 0 0; color: var(--secondary); }
`;
