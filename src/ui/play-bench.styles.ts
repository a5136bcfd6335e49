import { css } from 'lit';

/** Styles of the play bench; the colours are the page's (page.css). */
export const PLAY_STYLES = css`
  :host { display: block; }
  .lead { max-width: 42rem; }
  .bench { display: flex; flex-wrap: wrap; gap: 1.5rem 2.5rem; align-items: start; }
  .stage, .settings, .ruler {
    background: var(--sheet); border: 1px solid var(--border); border-radius: 6px; padding: 1.25rem; box-sizing: border-box;
  }
  .stage { flex: 1 1 20rem; min-width: 0; }
  .side { flex: 0 1 19rem; min-width: 0; display: grid; gap: 1rem; }
  /* Under the pictures it has their whole width; beside them what they leave. */
  @media (max-width: 700px) { .side { flex: 1 1 100%; } }
  @media (min-width: 1180px) { .side { flex-basis: 24rem; } }
  .settings { display: grid; gap: 0.9rem; }
  .side .answer p { margin: 0.35rem 0; }
  .side .verdict { margin: 0; }
  .caution { max-width: 36rem; }
  h2 { font-size: 1rem; margin: 0 0 0.5rem; }
  slot[name='own'] ~ h2 { margin-top: 1.25rem; }
  p { margin: 0.5rem 0; }
  .play { display: flex; box-sizing: border-box; flex-wrap: wrap; gap: 1rem 1.5rem; border-radius: 2px; width: fit-content; max-width: 100%; }
  figure { margin: 0; min-width: 0; max-width: 100%; }
  figcaption { color: var(--secondary); font-size: 13px; margin-top: 0.25rem; }
  .caption, .secondary, label, .keys { color: var(--secondary); font-size: 13px; }
  .caption { margin: 0.25rem 0 1rem; }
  label { display: grid; gap: 0.25rem; }
  input, select, button {
    font: inherit; font-size: 15px; padding: 0.4rem 0.7rem; min-height: 44px; box-sizing: border-box; width: 100%;
    color: var(--ink); background: var(--ground); border: 1px solid var(--border); border-radius: 4px;
  }
  button { width: auto; cursor: pointer; }
  .primary { border-color: var(--light); color: var(--light); }
  input[aria-invalid='true'] { border-color: var(--wrong); }
  :focus-visible { outline: 2px solid var(--light); outline-offset: 3px; }
  .settings p { font-size: 13px; margin: 0; }
  /* Above and below the glass, so that one of them is in view whichever end of the picture is not; wide windows have the verdict beside it. */
  .told { display: none; }
  @media (max-width: 700px) {
    .told {
      display: block; box-sizing: border-box; height: 1.9rem; line-height: 1.9rem; margin: 0; font-size: 13px;
      white-space: nowrap; overflow: hidden; text-overflow: ellipsis;
    }
  }
  @media (max-width: 22rem) { .told { height: 2.8rem; line-height: 1.4rem; white-space: normal; } }
  .keys { display: grid; grid-template-columns: max-content 1fr; gap: 0.15rem 1rem; margin: 1rem 0 0; }
  @media (hover: none) { .keys { display: none; } }
  .pad { display: flex; flex-wrap: wrap; gap: 0.6rem; align-items: center; }
  .keys dt { color: var(--ink); }
  .keys dd { margin: 0; }
  .verdict { font-size: 1.6rem; margin: 1.25rem 0 0.25rem; }
  .right { color: var(--right); }
  .wrong { color: var(--wrong); }
  .edge { color: var(--secondary); }
  .way { margin: 0 0 1.5rem; }
  .steps { display: flex; flex-wrap: wrap; gap: 0.6rem; align-items: center; }
  /* A button that keeps the keyboard's place when there is nothing left for it to do is disabled by its attribute alone. */
  button:disabled,
  button[aria-disabled='true'] { color: var(--secondary); cursor: default; }
  .cure { color: var(--light); font-weight: 600; }
  .cause { max-width: 46rem; }
  .ruler { margin: 1rem 0 1.5rem; }
  .shots { padding-left: 2.5rem; }
  .shots li { margin: 0.35rem 0; }
  .shots span { margin-right: 0.5rem; }
`;
