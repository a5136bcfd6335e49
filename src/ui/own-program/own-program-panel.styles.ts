import { css } from 'lit';

/** Colours are the page's (page.css). */
export const OWN_PROGRAM_STYLES = css`
  :host { display: block; min-width: 0; }
  section {
    background: var(--sheet); border: 1px solid var(--border); border-radius: 6px; padding: 1.25rem; margin: 1.5rem 0 0;
    box-sizing: border-box; min-width: 0;
  }
  .head { display: flex; flex-wrap: wrap; gap: 0 1.25rem; align-items: baseline; margin: 0 0 0.5rem; }
  h2 { font-size: 1rem; margin: 0; flex: 1; white-space: nowrap; }
  h2:focus-visible, :focus-visible { outline: 2px solid var(--light); outline-offset: 3px; }
  p { margin: 0.5rem 0; max-width: 46rem; overflow-wrap: anywhere; }
  .secondary { color: var(--secondary); font-size: 13px; }
  .wrong { color: var(--wrong); }
  .right { color: var(--right); }
  dl { display: grid; grid-template-columns: max-content minmax(0, 1fr); gap: 0.25rem 1rem; margin: 0.75rem 0; }
  dt { color: var(--secondary); }
  dd { margin: 0; overflow-wrap: anywhere; }
  label { display: grid; gap: 0.25rem; color: var(--secondary); font-size: 13px; margin-top: 1rem; }
  textarea, button {
    font: inherit; font-size: 15px; padding: 0.4rem 0.7rem; min-height: 44px; box-sizing: border-box;
    color: var(--ink); background: var(--ground); border: 1px solid var(--border); border-radius: 4px;
  }
  textarea {
    font: 13px / 1.5 ui-monospace, monospace; width: 100%; min-height: 18rem; resize: vertical; tab-size: 2;
    white-space: pre; overflow: auto;
  }
  textarea[aria-invalid='true'] { border-color: var(--wrong); }
  button { cursor: pointer; }
  button.quiet {
    color: var(--secondary); background: none; border: 0; border-radius: 2px; padding: 0; min-height: 28px; font-size: 13px;
    text-decoration: underline; text-underline-offset: 3px;
  }
  @media (pointer: coarse) { button.quiet { min-height: 44px; } }
  .primary { border-color: var(--light); color: var(--light); }
  .row { display: flex; flex-wrap: wrap; gap: 0.6rem; margin-top: 1rem; }
  ul { margin: 0.5rem 0; padding-left: 1.25rem; max-width: 46rem; }
  li { margin: 0.25rem 0; overflow-wrap: anywhere; }
  [hidden] { display: none; }
  @media (max-width: 30rem) {
    section { padding: 0.875rem; }
    dl { grid-template-columns: minmax(0, 1fr); }
    dd { margin-bottom: 0.4rem; }
  }
`;
