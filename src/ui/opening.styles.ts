import { css } from 'lit';

/** Of what opens to tell more: high enough to be pressed, under a finger as high as a button. */
export const OPENING_STYLES = css`
  summary { cursor: pointer; min-height: 24px; }
  @media (pointer: coarse) { summary { box-sizing: border-box; min-height: 44px; padding: 0.75rem 0; } }
`;
