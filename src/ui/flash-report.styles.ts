import { css } from 'lit';

/** Styles of the flash report; the colours are the page's (page.css). */
export const FLASH_REPORT_STYLES = css`
  :host { display: block; min-width: 0; color: var(--ink); font-variant-numeric: tabular-nums; }
  section { background: var(--sheet); border: 1px solid var(--border); border-radius: 6px; padding: 1.25rem; box-sizing: border-box; }
  section + section, .foot { margin-top: 1rem; }
  h3 { font-size: 1rem; margin: 0; }
  h4 { font-size: 15px; font-weight: 600; margin: 0; overflow-wrap: anywhere; }
  p { margin: 0.25rem 0; max-width: 44rem; }
  .secondary, .foot, figcaption, summary, th { color: var(--secondary); font-size: 13px; }
  .verdict { font-size: 1.25rem; margin: 0.5rem 0; }
  .right { color: var(--right); }
  .wrong { color: var(--wrong); }
  .finding { border-top: 1px solid var(--border); margin-top: 1rem; padding-top: 1rem; }
  .table { margin-top: 0.5rem; }
  .table:focus-visible, summary:focus-visible { outline: 2px solid var(--light); outline-offset: 2px; }
  table { border-collapse: collapse; font-size: 13px; }
  caption { text-align: left; color: var(--secondary); padding-bottom: 0.25rem; }
  th { text-align: left; font-weight: normal; padding: 0.15rem 1rem 0.15rem 0; vertical-align: bottom; }
  thead th { border-bottom: 1px solid var(--border); }
  td { padding: 0.15rem 1rem 0.15rem 0; vertical-align: top; }
  td.number { text-align: right; white-space: nowrap; }
  .stills { display: grid; grid-template-columns: repeat(auto-fill, 96px); gap: 0.75rem 1rem; margin: 0.5rem 0 0; padding: 0; list-style: none; }
  figure { margin: 0; }
  canvas { display: block; width: 96px; border: 1px solid var(--border); image-rendering: pixelated; }
  details { margin-top: 0.5rem; }
  ul.advice { margin: 0.5rem 0 0; padding-left: 1.25rem; max-width: 44rem; }
  ul.advice li { margin: 0.25rem 0; }
`;
