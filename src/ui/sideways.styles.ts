import { css } from 'lit';

/** Of tables that may be wider than their place, on a sheet: a shade at the right edge until their end has been reached. */
export const SIDEWAYS_STYLES = css`
  .table {
    overflow-x: auto;
    background:
      linear-gradient(to left, var(--sheet) 1rem, transparent) right / 2.5rem 100% no-repeat local,
      linear-gradient(to left, var(--border), transparent) right / 1rem 100% no-repeat scroll;
  }
`;
