import { css } from 'lit';

/** Styles of the time ruler; colours are the page's, one job each. */
export const TIME_RULER_STYLES = css`
  :host { display: block; min-width: 0; }
  svg { display: block; touch-action: none; }
  svg:focus-visible, summary:focus-visible { outline: 2px solid var(--light); outline-offset: 3px; }
  text { fill: var(--secondary); font: 12px system-ui, sans-serif; font-variant-numeric: tabular-nums; }
  .picture { fill: none; stroke: var(--border); stroke-width: 1; }
  .flash { stroke: var(--light); stroke-width: 2; }
  .curve { fill: currentColor; stroke: currentColor; stroke-width: 1.25; stroke-linejoin: round; }
  .light { color: var(--light); }
  .sensor { color: var(--sensor); }
  .threshold { fill: none; stroke: var(--secondary); stroke-width: 1; stroke-dasharray: 4 3; }
  .lit { fill: var(--sensor); }
  .not-looking { fill: url(#hatch); stroke: var(--border); stroke-width: 1; }
  .hatch { stroke: var(--border); stroke-width: 3; }
  .looking { fill: var(--ink); }
  .tick { stroke: var(--secondary); }
  .mark { stroke: var(--secondary); stroke-width: 1; stroke-dasharray: 1 3; }
  .mark.decision { stroke: var(--ink); stroke-dasharray: none; }
  .cursor { stroke: var(--aim); stroke-width: 1.5; }
  .readout { color: var(--secondary); font-size: 13px; margin: 0.25rem 0; min-height: 1.5em; }
  details { font-size: 13px; }
  summary { cursor: pointer; color: var(--secondary); min-height: 24px; }
  th { text-align: left; font-weight: normal; color: var(--secondary); padding: 0.1rem 2rem 0.1rem 0; }
  td { text-align: right; white-space: nowrap; }
`;
