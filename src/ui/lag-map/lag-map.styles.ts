import { css } from 'lit';
import { OPENING_STYLES } from '../opening.styles.ts';
import { SIDEWAYS_STYLES } from '../sideways.styles.ts';

/** Of the whole screen and its parts; the colours are the page's (page.css). */
const SHARED = css`
  :host { display: block; min-width: 0; color: var(--ink); }
  h2 { font-size: 1rem; margin: 0 0 0.75rem; }
  h3 { font-size: 15px; margin: 0; }
  p { margin: 0.25rem 0; }
  .secondary, label, legend { color: var(--secondary); font-size: 13px; }
  .wrong { color: var(--wrong); }
  .right { color: var(--right); }
  input, button {
    font: inherit; font-size: 15px; padding: 0.4rem 0.8rem; min-height: 44px; box-sizing: border-box;
    color: var(--ink); background: var(--ground); border: 1px solid var(--border); border-radius: 4px;
  }
  button { cursor: pointer; }
  button:disabled { color: var(--secondary); cursor: default; }
  .primary { border-color: var(--light); color: var(--light); font-weight: 600; }
  :focus-visible { outline: 2px solid var(--light); outline-offset: 3px; }
  .unseen { position: absolute; width: 1px; height: 1px; margin: 0; overflow: hidden; clip-path: inset(50%); white-space: nowrap; }
`;

export const LAG_MAP_STYLES = [
  SHARED,
  SIDEWAYS_STYLES,
  OPENING_STYLES,
  css`
    .lead { max-width: 42rem; margin: 0 0 1rem; }
    section { background: var(--sheet); border: 1px solid var(--border); border-radius: 6px; padding: 1.25rem; margin: 0 0 1rem; min-width: 0; }
    .row { display: flex; flex-wrap: wrap; gap: 0.5rem 0.75rem; align-items: center; }
    .size { margin: 1rem 0 0.75rem; }
    .problem { border-left: 3px solid var(--wrong); padding-left: 0.75rem; margin: 0.75rem 0; max-width: 48rem; overflow-wrap: anywhere; }
    .state { margin: 0 0 0.5rem; min-height: 2.5rem; }
    progress { display: block; width: 100%; height: 6px; margin: 0.5rem 0 0; appearance: none; border: 0; background: var(--border); border-radius: 3px; overflow: hidden; }
    progress::-webkit-progress-bar { background: var(--border); }
    progress::-webkit-progress-value { background: var(--light); }
    progress::-moz-progress-bar { background: var(--light); }
    .saves { margin-top: 1rem; font-size: 13px; color: var(--secondary); }
    details { margin-top: 0.75rem; font-size: 13px; }
    summary { color: var(--secondary); }
    table { border-collapse: collapse; margin-top: 0.5rem; font-size: 13px; }
    th { text-align: left; font-weight: normal; color: var(--secondary); padding: 0.2rem 1rem 0.2rem 0; vertical-align: top; }
    thead th { border-bottom: 1px solid var(--border); white-space: nowrap; }
    td { padding: 0.2rem 1rem 0.2rem 0; white-space: nowrap; vertical-align: top; }
    td span { color: var(--secondary); }
    ul { margin: 0.25rem 0; padding-left: 1.25rem; }
    code { font-size: 13px; overflow-wrap: anywhere; }
    @media (max-width: 30rem) { section { padding: 0.875rem; } }
  `,
];

export const CHART_STYLES = [
  SHARED,
  css`
    .scroll { overflow-x: auto; overflow-y: hidden; overscroll-behavior-x: contain; border-radius: 2px; }
    .scroll:focus-visible { outline-offset: 4px; }
    canvas { display: block; max-width: 100%; }
    #map { position: sticky; left: 0; }
    #legend { margin-top: 0.75rem; }
    .looked { border-top: 1px solid var(--border); margin-top: 1rem; padding-top: 0.75rem; min-height: 8rem; }
    .looked p { max-width: 60rem; overflow-wrap: anywhere; }
    .looked button { margin-top: 0.5rem; }
  `,
];

export const FORM_STYLES = [
  SHARED,
  css`
    .fields { display: grid; grid-template-columns: repeat(auto-fit, minmax(7rem, 1fr)); gap: 0.75rem 1rem; max-width: 44rem; }
    .fields label { display: grid; gap: 0.25rem; align-content: start; }
    .fields input { width: 100%; }
    input[aria-invalid='true'] { border-color: var(--wrong); }
    input:disabled { color: var(--secondary); }
    .choices { display: flex; flex-wrap: wrap; gap: 1rem 2.5rem; margin: 1rem 0 0; }
    fieldset { border: 0; margin: 0; padding: 0; min-width: 0; }
    legend { padding: 0; }
    fieldset label { display: flex; gap: 0.5rem; align-items: center; min-height: 28px; color: var(--ink); font-size: 15px; }
    input[type='checkbox'] { min-height: 0; width: 18px; height: 18px; margin: 0; accent-color: var(--light); flex: none; }
    .faults { margin: 0.75rem 0 0; }
  `,
];
